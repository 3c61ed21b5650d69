package plot_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/drawing"
	"foamwright/materials/geom"
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
				points := rapid.IntRange(0, 40).Draw(t, "points")
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
					c.Rule, c.RuleName = some(value()), rapid.StringMatching(`[a-z ]{0,50}`).Draw(t, "rule name")
				}
				width := rapid.SampledFrom([]float64{plot.Wide, plot.Letter, plot.Narrow}).Draw(t, "width")
				onSheet(t, make(c, width), width)
			})
		})
	}
}

func onSheet(t *rapid.T, d drawing.Drawing, width float64) {
	if d.Sheet.Width() != width || d.Sheet.Height() <= 0 {
		t.Fatalf("a sheet of %v by %v", d.Sheet.Width(), d.Sheet.Height())
	}
	if d.Words == "" {
		t.Fatal("a plot without words")
	}
	const close = 0.6
	on := func(r geom.Rect) bool {
		return r.Min.X >= -close && r.Max.X <= width+close && r.Min.Y >= -close && r.Max.Y <= d.Sheet.Height()+close
	}
	var texts []drawing.Text
	for _, m := range d.Marks {
		var points []geom.Point
		switch m := m.(type) {
		case drawing.Text:
			texts = append(texts, m)
		case drawing.Dots:
			points = m.At
		case drawing.Lines:
			points = slices.Concat(m.Chains...)
		case drawing.Area:
			points = []geom.Point{m.Region.Bounds().Min, m.Region.Bounds().Max}
		}
		for _, p := range points {
			if !on(geom.Rect{Min: p, Max: p}) {
				t.Fatalf("%+v has a place off the sheet of %v by %v", m, width, d.Sheet.Height())
			}
		}
	}
	for i, a := range texts {
		r, _ := a.Room()
		if !on(r) {
			t.Fatalf("%q at %+v is off the sheet of %v by %v", a.Words, r, width, d.Sheet.Height())
		}
		if a.Size < 12 {
			t.Fatalf("%q is %v high", a.Words, a.Size)
		}
		for _, b := range texts[:i] {
			o, _ := b.Room()
			if r.Min.X < o.Max.X-close && o.Min.X < r.Max.X-close && r.Min.Y < o.Max.Y-close && o.Min.Y < r.Max.Y-close {
				t.Fatalf("%q covers %q", a.Words, b.Words)
			}
		}
	}
}

// Nothing, one point, equal values, values that are all below nought, and values of any size have a plot too; more
// series than can be told apart are not drawn.
func TestOddValues(t *testing.T) {
	one := func(values ...string) (c plot.Chart) {
		c.Series = []plot.Series{{}}
		for _, v := range values {
			c.Series[0].Points = append(c.Series[0].Points, plot.Point{Label: v, At: dec(v), Value: dec(v)})
		}
		return c
	}
	five := plot.Chart{Series: make([]plot.Series, 5)}
	for i := range five.Series {
		five.Series[i] = plot.Series{Name: strings.Repeat("x", i+1), Points: one("3").Series[0].Points}
	}
	for name, c := range map[string]plot.Chart{
		"nothing": {}, "no points": {Series: make([]plot.Series, 2)}, "nought": one("0"), "one": one("7"), "equal": one("4", "4", "4"), "below": one("-3", "-9"),
		"huge": one("1e30", "-1e30"), "alike and huge": one("-1e20"), "tiny": one("1e-9", "3e-9"), "five": five,
	} {
		for kind, make := range kinds() {
			d := make(c, plot.Narrow)
			if svg := drawing.SVG(d); strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") || len(d.Marks) > 60 {
				t.Errorf("%s of %s: %d marks: %.300s", kind, name, len(d.Marks), svg)
			}
		}
	}
}

// Who cannot see a plot hears its values.
func TestToldInWords(t *testing.T) {
	c := plot.Chart{Unit: func(d decimal.Decimal) string { return d.String() + " %" }, Series: []plot.Series{
		{Name: "accepted", Points: []plot.Point{{Label: "under 200", Value: dec("62"), Low: some(dec("41")), High: some(dec("79"))}, {Label: "more", Value: dec("48")}}},
	}}
	if got, want := plot.Bars(c, plot.Wide).Words, "accepted: under 200 62 % (41 % to 79 %), more 48 %."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := plot.Bars(plot.Chart{}, plot.Wide).Words; got != "Nothing to plot yet." {
		t.Errorf("nothing is told as %q", got)
	}
}

// No label of a scatter is lost among ten points that do not hide each other: it stands beside its point or in the list, with a number.
func TestEveryPointIsNamed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := plot.Chart{Series: []plot.Series{{}}}
		for i := range rapid.IntRange(1, 10).Draw(t, "points") {
			c.Series[0].Points = append(c.Series[0].Points, plot.Point{
				Label: fmt.Sprintf("A design with a name %c", 'a'+i), At: decimal.NewFromInt(int64(4*i) + rapid.Int64Range(0, 3).Draw(t, "at")), Value: decimal.NewFromInt(int64(i * 10)),
			})
		}
		svg := drawing.SVG(plot.Scatter(c, rapid.SampledFrom([]float64{plot.Wide, plot.Narrow}).Draw(t, "width")))
		svg = svg[strings.Index(svg, "</desc>"):]
		for _, p := range c.Series[0].Points {
			if !strings.Contains(svg, p.Label) {
				t.Fatalf("%q is not named", p.Label)
			}
		}
	})
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
	ruled.Rule, ruled.RuleName = some(dec("20")), "aimed at, 20 €"
	lettered := c(spread)
	lettered.Names = [2]string{"margin", "contribution an hour"}
	return map[string]drawing.Drawing{
		"bars": plot.Bars(ruled, plot.Wide), "bars-narrow": plot.Bars(ruled, plot.Narrow), "columns": plot.Columns(c(quoted, paid), plot.Wide),
		"columns-narrow": plot.Columns(c(quoted, paid), plot.Narrow), "curve": plot.Curve(c(next, quoted), plot.Wide), "scatter": plot.Scatter(lettered, plot.Wide), "scatter-narrow": plot.Scatter(lettered, plot.Narrow),
		"empty": plot.Bars(c(), plot.Wide),
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

// Tones of series stand out from paper: 3 to 1 at least, as WCAG 2.1 asks of graphics (1.4.11).
func TestTonesStandOut(t *testing.T) {
	c := plot.Chart{}
	for _, name := range []string{"a", "b", "c", "d"} {
		c.Series = append(c.Series, plot.Series{Name: name, Points: []plot.Point{{Label: name, Value: dec("1")}}})
	}
	seen := 0
	for _, m := range regexp.MustCompile(`class="series-\d" (?:fill|stroke)="#(..)(..)(..)"`).FindAllStringSubmatch(drawing.SVG(plot.Bars(c, plot.Wide)), -1) {
		light := 0.0
		for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
			v, err := strconv.ParseUint(m[i+1], 16, 8)
			if err != nil {
				t.Fatal(err)
			}
			light += weight * math.Pow((float64(v)/255+0.055)/1.055, 2.4)
		}
		if ratio := 0.89 / (light + 0.05); ratio < 3 { // paper #f6f2e9 has a luminance of 0.89 with the 0.05
			t.Errorf("%s: %.1f to 1", m[0], ratio)
		}
		seen++
	}
	if seen < 4 {
		t.Errorf("%d tones", seen)
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
