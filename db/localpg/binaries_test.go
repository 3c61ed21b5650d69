package localpg

import (
	"os"
	"path/filepath"
	"testing"
)

// TestProgramsMissing is not parallel: it sets the environment.
func TestProgramsMissing(t *testing.T) {
	t.Setenv("FOAMWRIGHT_PGBIN", t.TempDir())
	_, err := Start(t.Context(), folder(t))
	says(t, err, "FOAMWRIGHT_PGBIN", "do not run from there")
}

// TestOtherMajor: a cluster is not given to programs of another major version.
func TestOtherMajor(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	data := filepath.Join(dir, "postgres", "data")
	if err := os.MkdirAll(data, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(data, "PG_VERSION"), []byte("9\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	_, err := Start(t.Context(), dir)
	says(t, err, "made by PostgreSQL 9", "Install the package postgresql-9")
}

func TestSummary(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ log, want string }{
		{"", "it said nothing"},
		{"2026-01-01 10:00:00 UTC [1] LOG:  starting\n2026-01-01 10:00:00 UTC [1] FATAL:  no room\n" +
			"2026-01-01 10:00:00 UTC [1] HINT:  Make some.\n2026-01-01 10:00:00 UTC [1] LOG:  shut down\n", "no room Make some."},
		{"2026-01-01 10:00:00 UTC [1] FATAL:  first\n2026-01-01 10:00:00 UTC [1] PANIC:  second\n", "second"},
		{"running bootstrap script ... ok\ninitdb: error: could not create directory\ninitdb: removing\n", "initdb: error: could not create directory"},
		{"postgres: error while loading shared libraries: libssl.so\n", "postgres: error while loading shared libraries: libssl.so"},
	} {
		if got := summary([]byte(c.log)); got != c.want {
			t.Errorf("%q: %q, want %q", c.log, got, c.want)
		}
	}
}
