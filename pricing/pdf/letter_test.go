package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"
	"time"

	"foamwright/pricing/sales"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// A letter of more than one page keeps its parts' names, prints the same bytes twice and says all of its lines.
func TestLetter(t *testing.T) {
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	l := sales.Letter{
		Head: workshop.Head{Name: "Kestrel Yard Propworks", Address: []string{"7 Sailcloth Yard", "Harrowmouth"}, Email: "bench@kestrelyard.example", TaxNumber: "HM 11 22"},
		Name: "Order confirmation 12 of 2026", File: "confirmation-2026-12", Date: time.Date(2026, 11, 27, 9, 0, 0, 0, time.UTC),
		Tongue: words.Speak("en"), To: sales.Customer{Name: "Mara of the Long Marsh and her company of twelve shield bearers", Address: "The Old Tollhouse\nHarrowmouth"},
		Facts: []sales.LetterFact{{What: "Order", Value: "12 of 2026"}, {What: "Accepted", Value: "27 November 2026"}}, Title: "Heron kite",
		Parts: []sales.LetterPart{
			{Name: "What is made", Words: []string{"A kite-shaped shield of three layers.", "Four coats of latex."}},
			{Name: "Price", Rows: []sales.LetterRow{{What: "Heron kite", How: "1 × 1 079.00", Amount: "1 079.00"}, {What: "Net", Amount: "899.17", Sum: true}, {What: "Total", Amount: "1 079.00 EUR", Total: true}}},
			{Name: "To check", Ticks: []string{"Hand: right", "Size: 560 × 880 mm"}, Sign: "Name and day"},
		},
	}
	for i := range 40 {
		l.Parts[1].Rows = append([]sales.LetterRow{{What: fmt.Sprintf("Line %d with a name that goes on for sixty characters or so", i), Amount: "12.00"}}, l.Parts[1].Rows...)
	}
	var red bytes.Buffer
	square := image.NewPaletted(image.Rect(0, 0, 60, 20), color.Palette{color.RGBA{R: 255, A: 255}})
	if err := png.Encode(&red, square); err != nil {
		t.Fatal(err)
	}
	l.Parts = append(l.Parts, sales.LetterPart{Name: "Plot", Picture: &sales.LetterPicture{PNG: red.Bytes(), Words: "A red field."}})
	one, err := r.Letter(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	two, err := r.Letter(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one, two) {
		t.Error("the same letter printed twice differs")
	}
	l.Tongue = words.Speak("de")
	german, err := r.Letter(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	if text := spaced(strings.Join(pages(t, german), " ")); !strings.Contains(text, "Seite 1 von") || !bytes.Contains(german, []byte("/Lang (de)")) {
		t.Errorf("a German letter counts its pages in English, or says that it is none: %s", text)
	}
	text := spaced(strings.Join(pages(t, one), " "))
	for _, want := range []string{"Order confirmation 12 of 2026", "Line 0 with a name", "Line 39 with a name", "Total 1 079.00 EUR", "Hand: right", "Name and day", "A red field.", "Tax number HM 11 22"} {
		if !strings.Contains(strings.ReplaceAll(text, "\u202f", " "), want) {
			t.Errorf("%q is not in %s", want, text)
		}
	}
	// The picture is as wide as the table and keeps its proportions: counted on the paper itself, at one dot a mm.
	sheet, err := png.Decode(strings.NewReader(poppler(t, one, "pdftoppm", "-png", "-r", "25.4", "-f", "2", "-l", "2", "-")))
	if err != nil {
		t.Fatal(err)
	}
	dots := 0
	for y := range sheet.Bounds().Dy() {
		for x := range sheet.Bounds().Dx() {
			if r, g, b, _ := sheet.At(x, y).RGBA(); r > 0xf000 && g < 0x2000 && b < 0x2000 {
				dots++
			}
		}
	}
	wide := full - inset
	if want := wide * wide / 3; float64(dots) < 0.93*want || float64(dots) > 1.05*want {
		t.Errorf("%d mm² are red, want %.0f", dots, want)
	}
}
