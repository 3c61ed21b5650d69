package tax_test

import (
	"strings"
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/tax"
)

func day(s string) time.Time {
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return d
}

func TestRateOfTheDay(t *testing.T) {
	g := nearest() // a standard rate that went down for half a year, as Germany's did in 2020 (from memory)
	g.Rates = []tax.Rate{
		{Code: "standard", Percent: dec("19"), Until: day("2020-07-01")},
		{Code: "standard", Percent: dec("16"), From: day("2020-07-01"), Until: day("2021-01-01")},
		{Code: "standard", Percent: dec("19"), From: day("2021-01-01")},
		{Code: "reduced", Percent: dec("7"), From: day("2021-01-01")},
	}
	if err := g.Check(); err != nil {
		t.Fatal(err)
	}
	for on, want := range map[string]string{"1999-01-01": "19", "2020-06-30": "19", "2020-07-01": "16", "2020-12-31": "16", "2021-01-01": "19"} {
		if r, err := g.On("standard", day(on)); err != nil || r.Percent.String() != want {
			t.Errorf("%s: %s, %v; want %s", on, r.Percent, err, want)
		}
	}
	// Late in the evening of the last day, far west of Greenwich, it is still that day.
	if r, err := g.On("standard", time.Date(2020, 12, 31, 23, 30, 0, 0, time.FixedZone("", -11*3600))); err != nil || r.Percent.String() != "16" {
		t.Errorf("on the last evening: %s, %v", r.Percent, err)
	}
	for code, on := range map[string]string{"reduced": "2020-12-31", "none": "2022-01-01"} {
		_, err := g.On(code, day(on))
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), on) || !strings.Contains(err.Error(), code) {
			t.Errorf("%s on %s: %v", code, on, err)
		}
	}
}

func TestCheckNamesEveryProblem(t *testing.T) {
	bad := tax.Regime{Registered: true, Mode: "bank", Rates: []tax.Rate{
		{Percent: dec("20")},
		{Code: "a", Percent: dec("-1")}, {Code: "b", Percent: dec("1e9999")}, {Code: "c", Percent: dec("0.00001")}, {Code: "d", Percent: dec("101")},
		{Code: "e", From: day("2020-02-01"), Until: day("2020-02-01")},
		{Code: "f", Until: day("2020-02-02")}, {Code: "f", From: day("2020-02-01")},
	}}
	var fields []string
	for _, p := range fault.ProblemsOf(bad.Check()) {
		fields = append(fields, p.Field)
	}
	want := "mode rates.0.code rates.1.percent rates.2.percent rates.3.percent rates.4.percent rates.5.until rates.7.from"
	if got := strings.Join(fields, " "); got != want {
		t.Errorf("%s\nwant %s", got, want)
	}
	if p := fault.ProblemsOf(nearest().Check()); len(p) != 1 || p[0].Field != "rates" {
		t.Errorf("registered without a rate: %v", p)
	}
}
