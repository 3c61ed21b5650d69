package pdf

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// day is when the test quotes are written, a Monday.
var day = time.Date(2026, time.May, 11, 9, 30, 0, 0, time.UTC)

// sheet is the kite of the demo workshop, priced for real, after change has had its way with spec and figures.
func sheet(t testing.TB, change func(*shield.Spec, *pricing.Snapshot)) sales.Sheet {
	t.Helper()
	data, err := os.ReadFile("../../cmd/foamwright/demo/designs/heron-kite.json")
	if err != nil {
		t.Fatal(err)
	}
	spec, err := orderform.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	snap, err := demo.Snapshot(day)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(&spec, &snap)
	}
	e, err := pricing.Make(context.Background(), spec, snap, pricing.Live)
	if err != nil {
		t.Fatal(err)
	}
	return sales.Sheet{
		Workshop: workshop.Workshop{
			Head: workshop.Head{
				Name: "Kestrel Yard Propworks", Address: []string{"Unit 4, Old Ropewalk", "Harrowmouth HM2 6QD"},
				Email: "bench@kestrelyard.example", Phone: "+44 1632 960 118", TaxNumber: "HM 204 118 903",
			},
			Terms: workshop.UsualTerms(), Figures: snap,
		},
		Customer: sales.Customer{Name: "Ilse Βερονίκη", Address: "Weir Cottage\n3 Mill Lane\nHarrowmouth HM1 2AB", Email: "ilse@whitefen.example"},
		Number:   sales.Number{Year: 2026, No: 42}, Version: 1, Title: spec.Name, Date: day, ValidUntil: day.AddDate(0, 0, 30),
		Estimate: e, Made: sales.Describe(words.Tongue{}, e.Shield), Cautions: sales.Cautions(words.Tongue{}, e),
	}
}

// printed is the document of a sheet.
func printed(t testing.TB, s sales.Sheet) []byte {
	t.Helper()
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := r.Quote(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

// poppler runs one of its tools on a document: what another program makes of our pages.
func poppler(t testing.TB, doc []byte, tool string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		t.Fatalf("%s is missing: install the package poppler-utils.", tool)
	}
	var out, complaints bytes.Buffer
	cmd := exec.CommandContext(t.Context(), tool, args...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = bytes.NewReader(doc), &out, &complaints
	if err := cmd.Run(); err != nil || complaints.Len() > 0 {
		t.Fatalf("%s: %v: %s", tool, err, &complaints)
	}
	return out.String()
}

// pages is the text of each page, laid out as it stands.
func pages(t testing.TB, doc []byte) []string {
	t.Helper()
	return strings.Split(strings.TrimSuffix(poppler(t, doc, "pdftotext", "-layout", "-", "-"), "\f"), "\f")
}

// spaced is a text with any run of white space as one blank, so that broken lines do not matter.
func spaced(s string) string { return strings.Join(strings.Fields(s), " ") }
