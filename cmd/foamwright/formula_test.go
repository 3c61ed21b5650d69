package main

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/api"
)

// reckoner works a printed formula out again: sums of products of numbers with their words behind them, in exact
// decimals. A sign counts with a space on both sides, so that words may hold commas and hyphens.
type reckoner struct {
	rest string
	err  error
}

var numeral = regexp.MustCompile(`^-?\d+(\.\d+)?( %)?`)

func (r *reckoner) take(sign string) bool {
	rest, ok := strings.CutPrefix(r.rest, sign)
	r.rest = rest
	return ok
}

func (r *reckoner) sum() decimal.Decimal {
	v := r.product()
	for {
		switch {
		case r.take(" + "):
			v = v.Add(r.product())
		case r.take(" − "):
			v = v.Sub(r.product())
		default:
			return v
		}
	}
}

func (r *reckoner) product() decimal.Decimal {
	v := r.factor()
	for {
		switch {
		case r.take(" × "):
			v = v.Mul(r.factor())
		case r.take(" ÷ "), r.take(" per "):
			v = v.DivRound(r.factor(), 16)
		default:
			return v
		}
	}
}

func (r *reckoner) factor() decimal.Decimal {
	var v decimal.Decimal
	if r.take("(") {
		v = r.sum()
		if !r.take(")") {
			r.err = fmt.Errorf("no ) before %q", r.rest)
		}
	} else {
		number := numeral.FindString(r.rest)
		r.rest = r.rest[len(number):]
		plain, percent := strings.CutSuffix(number, " %")
		d, err := decimal.NewFromString(plain)
		if v = d; percent {
			v = d.Shift(-2)
		}
		if err != nil {
			r.err = fmt.Errorf("no number before %q", r.rest)
			return decimal.NewFromInt(1)
		}
	}
	for r.rest != "" && !strings.HasPrefix(r.rest, ")") && !begins(r.rest, " + ", " − ", " × ", " ÷ ", " per ") {
		r.rest = r.rest[1:]
	}
	return v
}

func begins(s string, any ...string) bool {
	for _, prefix := range any {
		if strings.HasPrefix(s, prefix) {
			return true
		}
	}
	return false
}

func reckon(formula string) (decimal.Decimal, error) {
	r := &reckoner{rest: formula}
	v := r.sum()
	if r.err == nil && r.rest != "" {
		r.err = fmt.Errorf("%q is left over", r.rest)
	}
	return v, r.err
}

// holds tells whether "formula = result …" comes out at its result, to the places it is printed with.
func holds(line string) (result decimal.Decimal, err error) {
	body, after, ok := strings.Cut(line, " = ")
	if !ok {
		return result, fmt.Errorf("no result in %q", line)
	}
	printed := numeral.FindString(after)
	result, err = decimal.NewFromString(printed)
	if err != nil {
		return result, err
	}
	body, least, atLeast := strings.Cut(body, ", at least ")
	body, up := strings.CutSuffix(body, ", rounded up")
	v, err := reckon(body)
	if up {
		v = v.Ceil()
	}
	if atLeast {
		v = decimal.Max(v, decimal.RequireFromString(least))
	}
	if places := -result.Exponent(); err == nil && !v.Round(places).Equal(result) {
		err = fmt.Errorf("%q comes out at %s", line, v)
	}
	return result, err
}

// Every line that says how it came about comes out at what it charges, by nothing but its own text.
func TestEveryFormulaComesOut(t *testing.T) {
	for _, c := range shieldCases(t) {
		e, _ := estimated(t, string(c.Spec))
		linesComeOut(t, e)
	}
}

// linesComeOut works every line of the order out from its own words, and the build-up of the price.
func linesComeOut(t rapid.TB, e api.Estimate) {
	t.Helper()
	for _, f := range e.Foam {
		cost, err := holds(f.Formula)
		check(t, f.Foam, err, cost, f.Cost)
	}
	for _, m := range e.Material {
		quantity, rest, _ := strings.Cut(m.Formula, ", at ")
		if strings.HasPrefix(rest, "least ") { // the comma of ", at least"
			least, tail, _ := strings.Cut(rest, ", at ")
			quantity, rest = quantity+", at "+least, tail
		}
		amount, err := holds(quantity)
		check(t, m.Name, err, amount, decimal.NewFromFloat(m.Quantity).String())
		price, cost, _ := strings.Cut(rest, " = ")
		each, err := reckon(price)
		check(t, m.Name, err, amount.Mul(each).Round(2), cost, m.Cost)
	}
	for _, s := range e.Labour.Steps {
		minutes, err := holds(s.Formula)
		check(t, s.Name, err, minutes, decimal.NewFromFloat(s.Minutes).String())
	}
	comesOut(t, e)
}

// comesOut works the build-up out from its own words.
func comesOut(t rapid.TB, e api.Estimate) {
	t.Helper()
	told := 0
	for _, l := range e.Price.Lines {
		first, second, chained := strings.Cut(l.How, " = ")
		if l.How == "" || l.Key == "minimum" || l.Key == "rounding" { // said in words
			continue
		}
		told++
		v, err := reckon(first)
		if chained {
			if _, err := holds(l.How); err != nil {
				t.Errorf("%s, %s: %v", e.Name, l.Label, err)
			}
			v, err = reckon(second)
		}
		if l.Key == "margin" { // what each costs net, of which the cost is taken off
			v = v.Mul(decimal.NewFromInt(int64(e.Quantity))).Sub(decimal.RequireFromString(e.Price.Cost))
		}
		check(t, e.Name+", "+l.Label, err, v.Round(2), l.Amount)
	}
	if told < 4 {
		t.Errorf("%s: only %d lines of the price say how they came about", e.Name, told)
	}
}

func check(t rapid.TB, what string, err error, got decimal.Decimal, printed ...string) {
	t.Helper()
	if err != nil {
		t.Errorf("%s: %v", what, err)
	}
	for _, p := range printed {
		if want, err := decimal.NewFromString(p); err != nil || !got.Equal(want) {
			t.Errorf("%s comes out at %s, printed is %s", what, got, p)
		}
	}
}

// thirst are the words of an adhesive line that make a face thirstier without making it larger.
var thirst = map[string]bool{"keyed": true, "cut edge": true, "coats": true, "smooth": true, "textured": true, "sanded flat": true}

// adhesiveFaces is the area in m² that adhesive is spread on, out of the words of its line.
func adhesiveFaces(t *testing.T, e api.Estimate) float64 {
	t.Helper()
	for _, m := range e.Material {
		if m.Group != "Adhesive" {
			continue
		}
		inner, _, _ := strings.Cut(strings.TrimPrefix(m.Formula, "("), ")")
		total := decimal.Zero
		for term := range strings.SplitSeq(inner, " + ") {
			face := decimal.NewFromInt(1)
			for factor := range strings.SplitSeq(term, " × ") {
				number, label, _ := strings.Cut(factor, " ")
				if !thirst[label] {
					face = face.Mul(decimal.RequireFromString(number))
				}
			}
			total = total.Add(face)
		}
		return total.InexactFloat64()
	}
	t.Error("no adhesive")
	return 0
}
