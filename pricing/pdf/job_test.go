package pdf

import (
	"bytes"
	"context"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

func jobSheet(steps int) sales.JobSheet {
	j := sales.JobSheet{
		Workshop: "Kestrel Yard Propworks", Order: sales.Order{Number: sales.Number{Year: 2026, No: 3}, Title: "Heron kite", Customer: "Ilse Βερονίκη", Starts: day},
		Date: day, Promised: day.AddDate(0, 0, 20), Planned: true, Booked: true, Ready: day.AddDate(0, 0, 5),
		Made: []string{"A kite shield, curved."}, Settings: []sales.Setting{{Name: "Former", Value: "radius 500 mm to the back face"}, {Name: "Latex", Value: "four coats, the first thinned"}},
		Takes:    []sales.Taking{{Name: "Contact adhesive", Quantity: decimal.RequireFromString("0.412"), Unit: "l"}, {Name: "Sheet 10 mm", Quantity: decimal.NewFromInt(1), Unit: "pcs"}, {Name: "None of it", Unit: "l"}},
		Cautions: []string{"Solvent vapour: no flame.", "Local codes come first."}, Checks: []string{"Every bond holds"}, Link: "https://bench.example/log/01a21bba-b9c5-7169-9f1d-7282a850a1c2",
	}
	at := time.Date(2026, time.May, 11, 9, 0, 0, 0, time.UTC)
	for range steps {
		s := schedule.Slot{Task: schedule.Task{Name: "Lay up, roll down", Work: 26 * time.Minute, Wait: 150 * time.Minute, People: 2, Place: schedule.Former}, Start: at, End: at.Add(26 * time.Minute), Ready: at.Add(176 * time.Minute)}
		j.Steps = append(j.Steps, sales.SheetStep{Slot: s, Minds: []string{"solvent", "knife"}, Uses: "brush"})
		at = at.Add(9 * time.Hour)
	}
	return j
}

func printedJob(t testing.TB, j sales.JobSheet) []byte {
	t.Helper()
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := r.JobSheet(context.Background(), j)
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestJobSheet(t *testing.T) {
	j := jobSheet(60)
	doc := printedJob(t, j)
	if again := printedJob(t, j); !bytes.Equal(doc, again) {
		t.Error("the same sheet gives other bytes")
	}
	list := pages(t, doc)
	text := spaced(strings.Join(list, " "))
	for _, want := range []string{"Heron kite", "Job sheet of order 3 of 2026, for Ilse Βερονίκη", "radius 500 mm to the back face", "Contact adhesive 0.412 l", "Sheet 10 mm 1 pc", "2 people, 26",
		"with brush · mind: solvent, knife · on the former · then leave it 2 h 30 min, until 11:56", "Monday, 09:00", "Solvent vapour", "Every bond holds", "Checked by", "page 1 of", "Asked for by 31 May 2026", j.Link} {
		if !strings.Contains(text, spaced(want)) {
			t.Errorf("nowhere %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, "None of it") || strings.Contains(text, "deposit") {
		t.Error("it says what is not so")
	}
	if n := strings.Count(text, "Lay up, roll down"); n != 60 {
		t.Errorf("%d of 60 steps are printed", n)
	}
	j.Planned, j.Booked = false, false
	if text = spaced(strings.Join(pages(t, printedJob(t, j)), " ")); strings.Contains(text, "Monday") || strings.Contains(text, "until") {
		t.Error("times of an order that is not planned")
	}
}

// What people typed cannot break the sheet: long words, many lines, letters of no script.
func TestJobSheetOfAnything(t *testing.T) {
	j := jobSheet(3)
	j.Order.Title, j.Order.Customer, j.Workshop = strings.Repeat("Undividable", 60), "\x00\xff\u202e\U0001f6e1", strings.Repeat("W ", 400)
	j.Made = []string{strings.Repeat("never ends ", 900)}
	j.Settings = append(j.Settings, sales.Setting{Name: strings.Repeat("n", 300), Value: strings.Repeat("v ", 900)})
	j.Takes[0].Name, j.Steps[0].Task.Name = strings.Repeat("glue ", 200), strings.Repeat("Cut ", 300)
	if list := pages(t, printedJob(t, j)); len(list) < 3 || !strings.Contains(strings.Join(list, ""), "Checked by") {
		t.Errorf("%d pages", len(list))
	}
}

// The code is there and square; what it says is the library's.
func TestCodeOnTheJobSheet(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "sheet.pdf")
	if err := os.WriteFile(file, printedJob(t, jobSheet(1)), 0o600); err != nil {
		t.Fatal(err)
	}
	poppler(t, nil, "pdfimages", "-png", file, filepath.Join(dir, "code"))
	data, err := os.ReadFile(filepath.Join(dir, "code-000.png"))
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if b := img.Bounds(); b.Dx() != b.Dy() || b.Dx() < 21 {
		t.Errorf("a code of %v", b)
	}
}
