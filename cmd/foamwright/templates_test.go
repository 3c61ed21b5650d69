package main

import (
	"bytes"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// ran is what a command did: its exit code and what it said.
func ran(t *testing.T, in string, args ...string) (code int, out, problems string) {
	t.Helper()
	var said, failed bytes.Buffer
	p := &program{in: strings.NewReader(in), out: &said, err: &failed, getenv: func(string) string { return "" },
		now: func() time.Time { return time.Date(2026, 5, 11, 9, 30, 0, 0, time.UTC) }, log: slog.New(slog.NewTextHandler(io.Discard, nil))}
	code = p.main(t.Context(), args)
	return code, said.String(), failed.String()
}

func TestTemplatesCommand(t *testing.T) {
	const kite = "demo/designs/heron-kite.json"
	folder := t.TempDir()
	pdf := filepath.Join(folder, "kite.pdf")
	code, out, problems := ran(t, "", "templates", "-out", pdf, "-svg", filepath.Join(folder, "vector"), kite)
	if code != 0 || problems != "" || !strings.Contains(out, "Heron kite: 12 pages of A4") || !strings.Contains(out, "core, half: cut 3, Mat 10 mm") {
		t.Fatalf("exit %d\n%s%s", code, out, problems)
	}
	doc, err := os.ReadFile(pdf)
	if err != nil || !bytes.HasPrefix(doc, []byte("%PDF-")) {
		t.Errorf("no PDF: %v", err)
	}
	drawn, err := filepath.Glob(filepath.Join(folder, "vector", "*.svg"))
	if err != nil || len(drawn) != 3 || filepath.Base(drawn[0]) != "01-core-half.svg" {
		t.Errorf("%v, %v", drawn, err)
	}
	if code, out, _ := ran(t, "", "templates", "-paper", "a3", "-whole", "-rim", "-overlap", "1/2 in", kite); code != 0 || !strings.Contains(out, "\nrim: cut 1") || !strings.Contains(out, "Nothing is written yet") {
		t.Errorf("exit %d\n%s", code, out)
	}
}

func TestTemplatesCommandRefuses(t *testing.T) {
	const kite = "demo/designs/heron-kite.json"
	for _, c := range []struct{ say, args string }{
		{"Name one file", ""}, {"no file", "nowhere.json"}, {"paper", "-paper foolscap " + kite}, {"80 what", "-overlap 80 " + kite}, {"overlap", "-overlap 0mm " + kite},
		{"5 to 50 mm", "-overlap 6cm " + kite}, {"cannot be written", "-out nowhere/at/all.pdf " + kite}, {"cannot be made", "-svg " + kite + "/x " + kite}, {"-h to see", "-paperback " + kite},
	} {
		if code, _, problems := ran(t, "", append([]string{"templates"}, strings.Fields(c.args)...)...); code != 2 || !strings.Contains(problems, c.say) {
			t.Errorf("templates %s: exit %d, %s", c.args, code, problems)
		}
	}
	if code, _, problems := ran(t, `{"outline":{"shape":"round","diameter":"1 mm"}}`, "templates", "-"); code != 2 || problems == "" {
		t.Errorf("exit %d, %s", code, problems)
	}
	// A name is no way out of the folder.
	for name, want := range map[string]string{"../../etc/passwd": "etc-passwd", "Щит №1": "щит-1", "\x00/": "", strings.Repeat("é", 99): strings.Repeat("é", 40)} {
		if got := fileName(name); got != want {
			t.Errorf("%q is filed as %q, want %q", name, got, want)
		}
	}
}
