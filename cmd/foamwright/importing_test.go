package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foamwright/db/dbtest"
)

// The catalogue goes out and comes in again by the command line.
func TestExportAndImport(t *testing.T) {
	at := []string{"-database-url", dbtest.URL(t)}
	run := func(want int, args ...string) (out, problems string) {
		t.Helper()
		code, out, problems := shell(t, "", append(args, at...)...)
		if code != want {
			t.Fatalf("%v: exit code %d: %s%s", args, code, out, problems)
		}
		return out, problems
	}
	items := filepath.Join(t.TempDir(), "items.csv")
	if out, _ := run(0, "export", "items", "-o", items); !strings.Contains(out, "items.csv is written") {
		t.Error(out)
	}
	prices, _ := run(0, "export", "prices")
	if !strings.Contains(prices, "Price list,,7,") || !strings.Contains(prices, "contact,5,l,,yes,,2026-") {
		t.Error(prices)
	}
	written, err := os.ReadFile(items)
	fatal(t, err)
	all := strings.Count(string(written), "\n") - 1 // below the names of the columns
	if out, _ := run(0, "import", "items", items); out != fmt.Sprintf("0 new, 0 changed, %d the same.\n", all) || all < 40 {
		t.Error(out)
	}
	fatal(t, os.WriteFile(items, []byte(strings.Replace(string(written), "Mat 12 mm", "Mat 12 mm, grey", 1)), 0o600))
	if out, problems := run(2, "import", "items", items); out != "" || !strings.Contains(problems, `row 3, kind "grey": mat-12 is a foam`) {
		t.Error(out, problems)
	}
	fatal(t, os.WriteFile(items, []byte(strings.Replace(string(written), "Mat 12 mm", "Mat 12 mm grey", 1)), 0o600))
	for range 2 {
		if out, _ := run(0, "import", "-check", "items", items); out != fmt.Sprintf("changed: mat-12\n0 new, 1 changed, %d the same.\nNothing was written: this was a check.\n", all-1) {
			t.Error(out)
		}
	}
	run(0, "import", "items", items)
	if out, _ := run(0, "export", "items"); !strings.Contains(out, "mat-12,Mat 12 mm grey,") {
		t.Error(out)
	}
	for _, wrong := range [][]string{{"export"}, {"export", "tins"}, {"import", "items"}, {"import", "tins", items}, {"import", "items", filepath.Join(t.TempDir(), "none.csv")}, {"export", "items", "-o", filepath.Join(t.TempDir(), "no", "folder")}} {
		if out, problems := run(2, wrong...); out != "" || !strings.HasSuffix(problems, ".\n") {
			t.Errorf("%v: %s%s", wrong, out, problems)
		}
	}
}
