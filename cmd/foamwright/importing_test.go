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

// The shelf goes out as a file, is counted in it and comes back: the differences stand in the ledger, which goes out
// too. A sheet that is wrong, or counted twice over, posts nothing.
func TestCountByFile(t *testing.T) {
	at := []string{"-database-url", dbtest.URL(t)}
	run := func(want int, args ...string) (out, problems string) {
		t.Helper()
		code, out, problems := shell(t, "", append(args, at...)...)
		if code != want {
			t.Fatalf("%v: exit code %d: %s%s", args, code, out, problems)
		}
		return out, problems
	}
	sheet, _ := run(0, "export", "shelf")
	file := filepath.Join(t.TempDir(), "count.csv")
	row := "latex,\"Latex, pre-vulcanised\",l,0,0,0,0,2,0.00,"
	if !strings.Contains(sheet, "item,name,unit,by the books,promised,coming,orders wait for,buy when below,worth,found,why\n") || !strings.Contains(sheet, row+",\n") {
		t.Fatal(sheet)
	}
	fill := func(found, why string) {
		fatal(t, os.WriteFile(file, []byte(strings.Replace(sheet, row+",\n", row+found+","+why+"\n", 1)), 0o600))
	}
	fill("lots", "")
	if out, problems := run(2, "import", "count", file); out != "" || !strings.Contains(problems, `found "lots": This is no number.`) {
		t.Error(out, problems)
	}
	fill("2.5", "")
	if out, problems := run(2, "import", "count", file); out != "" || !strings.Contains(problems, "Say why in a few words") {
		t.Error(out, problems)
	}
	fill("2.5", "was never written down")
	if out, _ := run(0, "import", "-check", "count", file); out != "Counted: 1. Nothing was written: this was a check.\n" {
		t.Error(out)
	}
	if out, _ := run(0, "import", "count", file); out != "Counted: 1. Different, and posted: 1.\n" {
		t.Error(out)
	}
	if out, problems := run(2, "import", "count", file); out != "" || !strings.Contains(problems, "the books now say 2.5 l") {
		t.Error(out, problems)
	}
	if out, _ := run(0, "export", "movements"); strings.Count(out, "\n") != 2 || !strings.Contains(out, ",latex,count,2.5,l,") || !strings.Contains(out, ",was never written down,foamwright import\n") {
		t.Error(out)
	}
}
