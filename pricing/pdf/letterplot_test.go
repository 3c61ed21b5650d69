package pdf

import (
	"fmt"
	"image/png"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/plot"
	"foamwright/pricing/sales"
)

// A plot stands on the paper: both its tones, on white, with its words as text below it; one that is much higher than
// wide still fits on a page.
func TestPlotInALetter(t *testing.T) {
	r, err := New()
	if err != nil {
		t.Fatal(err)
	}
	c := plot.Chart{Title: "Ordered and paid", Words: "Ordered and paid in twelve months.", Series: []plot.Series{{Name: "ordered"}, {Name: "paid"}}}
	for i := range 12 {
		for k := range c.Series {
			c.Series[k].Points = append(c.Series[k].Points, plot.Point{Label: fmt.Sprintf("month %d", i+1), Value: decimal.NewFromInt(int64((i*37*(k+3))%900 - 50))})
		}
	}
	l := sales.Letter{Name: "July", Title: "Figures of the month", Date: time.Date(2026, 8, 1, 0, 0, 0, 0, time.UTC)}
	low, err := plot.Paper(plot.Columns(c, plot.Letter))
	if err != nil {
		t.Fatal(err)
	}
	high, err := plot.Paper(plot.Bars(c, plot.Narrow))
	if err != nil {
		t.Fatal(err)
	}
	for _, picture := range [][]byte{low, high} {
		l.Parts = append(l.Parts, sales.LetterPart{Name: c.Title, Picture: &sales.LetterPicture{PNG: picture, Words: c.Words}})
	}
	data, err := r.Letter(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	text := pages(t, data)
	if len(text) != 2 {
		t.Fatalf("%d pages", len(text))
	}
	for i, page := range text {
		if !strings.Contains(spaced(page), c.Words) {
			t.Errorf("page %d does not say %q", i+1, c.Words)
		}
		sheet, err := png.Decode(strings.NewReader(poppler(t, data, "pdftoppm", "-png", "-r", "50", "-f", fmt.Sprint(i+1), "-l", fmt.Sprint(i+1), "-")))
		if err != nil {
			t.Fatal(err)
		}
		green, brown := 0, 0
		for y := range sheet.Bounds().Dy() {
			for x := range sheet.Bounds().Dx() {
				r, g, b, _ := sheet.At(x, y).RGBA()
				if g > r+0x1800 && g > b {
					green++
				}
				if r > b+0x2000 && g > b+0x800 && r > g {
					brown++
				}
			}
		}
		if green < 500 || brown < 500 {
			t.Errorf("page %d has %d green and %d brown dots: where is the plot?", i+1, green, brown)
		}
	}
}
