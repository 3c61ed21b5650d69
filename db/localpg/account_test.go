package localpg

import (
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"testing"
)

// TestAccountStays: whoever owns the data keeps serving it, also when root starts the program or the machine
// has got a better account since.
func TestAccountStays(t *testing.T) {
	t.Parallel()
	home := filepath.Join(folder(t), "postgres")
	if err := os.MkdirAll(home, 0o700); err != nil {
		t.Fatal(err)
	}
	want := os.Geteuid()
	if want == 0 {
		nobody, err := user.Lookup("nobody")
		if err != nil {
			t.Fatal(err)
		}
		want, _ = strconv.Atoi(nobody.Uid)
		if err := os.Chown(home, want, -1); err != nil {
			t.Fatal(err)
		}
	}
	if a, err := accountFor(home); err != nil || a.uid != want {
		t.Errorf("account %+v, want %d: %v", a, want, err)
	}
}

// TestClosedRefusesLinks: in a folder for all, somebody else may have laid a link under the name.
func TestClosedRefusesLinks(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	if err := os.Symlink(t.TempDir(), dir); err != nil {
		t.Fatal(err)
	}
	says(t, account{uid: os.Geteuid()}.closed(dir), dir, "remove it")
}
