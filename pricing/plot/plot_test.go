package plot_test

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/drawing"
	"foamwright/pricing/plot"
)

var update = flag.Bool("update", false, "write the golden files anew")

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func some(d decimal.Decimal) decimal.NullDecimal { return decimal.NewNullDecimal(d) }

type draw func(plot.Chart, float64) drawing.Drawing

func kinds() map[string]draw {
	return map[string]draw{"bars": plot.Bars, "columns": plot.Columns, "curve": plot.Curve, "scatter": plot.Scatter}
}

// Whatever is plotted, every mark lies on the sheet and no words cover others.
func TestEverythingIsOnTheSheet(t *testing.T) {
	for name, make := range kinds() {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				c := plot.Chart{Title: "A plot", Words: "In words", Unit: func(d decimal.Decimal) string { return d.StringFixed(2) }, Names: [2]string{"pieces", "net a piece"}}
				value := func() decimal.Decimal {
					return decimal.New(rapid.Int64Range(-1e6, 1e6).Draw(t, "value"), rapid.Int32Range(-3, 2).Draw(t, "places"))
				}
				points := rapid.IntRange(0, 30).Draw(t, "points")
				for range rapid.IntRange(0, 4).Draw(t, "series") {
					s := plot.Series{Name: rapid.StringMatching(`[A-Za-z ]{1,40}`).Draw(t, "name")}
					for range points {
						p := plot.Point{Label: rapid.StringMatching(`[A-Za-z ]{0,60}`).Draw(t, "label"), At: value(), Value: value()}
						if rapid.Bool().Draw(t, "interval") {
							spread := value().Abs()
							p.Low, p.High = some(p.Value.Sub(spread)), some(p.Value.Add(spread))
						}
						s.Points = append(s.Points, p)
					}
					c.Series = append(c.Series, s)
				}
				if rapid.Bool().Draw(t, "rule") {
					c.Rule = some(value())
				}
				width := rapid.SampledFrom([]float64{plot.Wide, plot.Narrow}).Draw(t, "width")
				onSheet(t, make(c, width), width)
			})
		})
	}
}

func onSheet(t *rapid.T, d drawing.Drawing, width float64) {
	if d.Sheet.Width() != width || d.Sheet.Height() <= 0 {
		t.Fatalf("a sheet of %v by %v", d.Sheet.Width(), d.Sheet.Height())
	}
	var texts []drawing.Text
	for _, m := range d.Marks {
		if text, ok := m.(drawing.Text); ok {
			texts = append(texts, text)
		}
	}
	const close = 0.6
	for i, a := range texts {
		r, _ := a.Room()
		if r.Min.X < -close || r.Max.X > width+close || r.Min.Y < -close || r.Max.Y > d.Sheet.Height()+close {
			t.Fatalf("%q at %+v is off the sheet of %v by %v", a.Words, r, width, d.Sheet.Height())
		}
		for _, b := range texts[:i] {
			o, _ := b.Room()
			if r.Min.X < o.Max.X-close && o.Min.X < r.Max.X-close && r.Min.Y < o.Max.Y-close && o.Min.Y < r.Max.Y-close {
				t.Fatalf("%q covers %q", a.Words, b.Words)
			}
		}
	}
}

// A bar is as long as its value says: twice the value, twice the length, from the line that is nought.
func TestBarsAreTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.IntRange(1, 1000).Draw(t, "a"), rapid.IntRange(1, 1000).Draw(t, "b")
		c := plot.Chart{Title: "Two", Series: []plot.Series{{Points: []plot.Point{{Label: "a", Value: decimal.NewFromInt(int64(a))}, {Label: "b", Value: decimal.NewFromInt(int64(b))}}}}}
		var lengths []float64
		for _, m := range plot.Bars(c, plot.Wide).Marks {
			if area, ok := m.(drawing.Area); ok && area.Class == drawing.Series1 {
				lengths = append(lengths, area.Region.Bounds().Width())
			}
		}
		if len(lengths) != 2 {
			t.Fatalf("%d bars", len(lengths))
		}
		if got, want := lengths[0]*float64(b), lengths[1]*float64(a); got < want*(1-1e-9) || got > want*(1+1e-9) {
			t.Fatalf("%d is %v long, %d is %v", a, lengths[0], b, lengths[1])
		}
	})
}

func examples() map[string]drawing.Drawing {
	unit := func(d decimal.Decimal) string { return d.StringFixed(0) + " €" }
	months := []string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}
	quoted, paid := plot.Series{Name: "quoted"}, plot.Series{Name: "paid"}
	next := plot.Series{Name: "the next one"}
	for i, m := range months {
		v := decimal.NewFromInt(int64(900 + 37*i*(i%3+1)))
		quoted.Points = append(quoted.Points, plot.Point{Label: m, Value: v})
		paid.Points = append(paid.Points, plot.Point{Label: m, Value: v.Div(decimal.NewFromInt(2)).Sub(decimal.NewFromInt(500))})
		next.Points = append(next.Points, plot.Point{At: decimal.NewFromInt(int64(i + 1)), Value: v.Neg().Add(decimal.NewFromInt(3000))})
	}
	designs := plot.Series{Name: "planned", Points: []plot.Point{
		{Label: "Heron kite", Value: dec("31.5"), Low: some(dec("24")), High: some(dec("38.2"))}, {Label: "Ferry buckler", Value: dec("42")}, {Label: "A name that goes on and on, far beyond the place it has", Value: dec("-12.25")},
	}}
	actual := plot.Series{Name: "as it was", Points: []plot.Point{{Label: "Heron kite", Value: dec("27.9")}, {Label: "Ferry buckler", Value: dec("44.1")}}}
	spread := plot.Series{Points: []plot.Point{{Label: "Heron kite", At: dec("0.21"), Value: dec("31.5")}, {Label: "Ferry buckler", At: dec("0.26"), Value: dec("42")}, {Label: "Target", At: dec("0.25"), Value: dec("41")}}}
	c := func(s ...plot.Series) plot.Chart {
		return plot.Chart{Title: "A plot", Words: "Its values in words.", Unit: unit, Series: s}
	}
	ruled := c(designs, actual)
	ruled.Rule = some(dec("20"))
	lettered := c(spread)
	lettered.Names = [2]string{"margin", "contribution an hour"}
	return map[string]drawing.Drawing{
		"bars": plot.Bars(ruled, plot.Wide), "bars-narrow": plot.Bars(ruled, plot.Narrow), "columns": plot.Columns(c(quoted, paid), plot.Wide),
		"columns-narrow": plot.Columns(c(quoted, paid), plot.Narrow), "curve": plot.Curve(c(next, quoted), plot.Wide), "scatter": plot.Scatter(lettered, plot.Wide), "empty": plot.Bars(c(), plot.Wide),
	}
}

func TestPlotsStayAsTheyAre(t *testing.T) {
	for name, d := range examples() {
		file, svg := filepath.Join("testdata", name+".svg"), drawing.SVG(d)
		if *update {
			if err := os.WriteFile(file, []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil || string(want) != svg {
			t.Errorf("%s is drawn otherwise (%v): look at it, then go test ./pricing/plot -update", name, err)
		}
		if name == "empty" && !strings.Contains(svg, "Nothing to plot yet.") {
			t.Error("an empty plot does not say so")
		}
	}
}

func BenchmarkPlot(b *testing.B) {
	c := plot.Chart{Title: "A plot", Series: []plot.Series{{}, {}}}
	for i := range 24 {
		for s := range c.Series {
			c.Series[s].Points = append(c.Series[s].Points, plot.Point{Label: "month", Value: decimal.NewFromInt(int64(i * (s + 1)))})
		}
	}
	for b.Loop() {
		_ = drawing.SVG(plot.Columns(c, plot.Wide))
	}
}
