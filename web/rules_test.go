package web_test

import (
	"cmp"
	"net/http"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing/people"
)

// The owner writes down the size rules of the games they make for; what cannot be kept comes back as typed.
func TestSizeRulesAreSettings(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := "/workshop/rules"
	before, err := s.sales.Workshop(t.Context())
	s.must(err)
	n := len(before.Figures.Rules)
	last := "rules." + strconv.Itoa(n) + "."
	form := over(v.filled(at), last+"name", "Salt Coast tower", last+"edition", "2027", last+"measured", "along the curve", last+"width", "2 ft", last+"height", "1,2 m", last+"weight", "3,5", last+"thickness", "25 mm")
	for _, c := range []struct{ name, value, at string }{
		{"name", "", "name"}, {"edition", strings.Repeat("x", 61), "edition"}, {"width", "80", "width"}, {"height", "", "height"}, {"height", "7 m", "height"},
		{"measured", "by eye", "measured"}, {"weight", "heavy", "weight"}, {"weight", "-1", "weight"}, {"area", "11", "area"}, {"either", "yes", "circle"}, {"min_face", "-3 cm", "min_face"},
	} {
		a := v.post(at, over(form, last+c.name, c.value)).want(http.StatusUnprocessableEntity)
		if a.fields()[last+c.name] != c.value && c.name != "either" && c.name != "measured" || a.see().remedies[last+c.at] == "" || a.fields()[last+"thickness"] != "25 mm" {
			t.Errorf("%s %q: %v, %v", c.name, c.value, a.see().remedies, a.fields()[last+c.name])
		}
	}
	twice := over(form, last+"name", before.Figures.Rules[0].Name, last+"edition", before.Figures.Rules[0].Edition)
	v.post(at, twice).want(http.StatusUnprocessableEntity).says("Tell them apart")
	v.post(at, over(form, last+"width", "", last+"height", "", last+"weight", "", last+"thickness", "")).want(http.StatusUnprocessableEntity).says("at least one limit")
	if to := v.post(at, form).to(); to != at+"?kept=1" {
		t.Fatal(to)
	}
	v.post(at, form).want(http.StatusConflict) // the same form once more: somebody changed them meanwhile

	kept, err := s.sales.Workshop(t.Context())
	s.must(err)
	r := kept.Figures.Rules[n]
	if r.Code != "salt-coast-tower" || r.Measured != shield.AlongCurve || r.Width != 6096*measure.Millimetre/10 || r.Height != 1200*measure.Millimetre || r.Weight.String() != "3.5" || r.Thickness != 25*measure.Millimetre || r.Either {
		t.Errorf("%+v", r)
	}
	for i, was := range before.Figures.Rules { // the others are as they were, tick and all
		if is := kept.Figures.Rules[i]; is.Code != was.Code || is.Either != was.Either || is.Circle != was.Circle || is.Measured != was.Measured {
			t.Errorf("%+v was %+v", is, was)
		}
	}
	if page := v.get(v.draft("Ferry buckler")); !strings.Contains(page.body, `value="salt-coast-tower"`) {
		t.Error("a quote cannot be held against the new rule")
	}

	gone := v.filled(at)
	for name := range gone {
		if strings.HasPrefix(name, "rules.0.") && !strings.HasSuffix(name, "code") && !strings.HasSuffix(name, "measured") {
			gone.Set(name, "")
		}
	}
	v.post(at, gone).to()
	after, err := s.sales.Workshop(t.Context())
	s.must(err)
	if len(after.Figures.Rules) != n || after.Figures.Rules[0].Code != before.Figures.Rules[1].Code || after.Figures.Rules[0].Either != before.Figures.Rules[1].Either {
		t.Errorf("%+v", after.Figures.Rules)
	}
	for _, role := range []people.Role{people.Helper, people.Bookkeeper} {
		s.as(role).get(at).want(http.StatusForbidden)
		s.as(role).post(at, form).want(http.StatusForbidden)
	}
}

// Rushes, fees and what a batch gains are the owner's figures; the currency is theirs until amounts stand in the books.
func TestRushFeeAndCurrencyAreSettings(t *testing.T) {
	s := open(t)
	v := s.visit()
	v.get("/set-up?key=" + key)
	v.post("/set-up", url.Values{"key": {key}, "name": {"Wren"}, "login": {"wren"}, "password": {password}}).to()
	form := over(v.filled("/workshop"), "head.name", "Salt Coast Shields", "rates.currency", "gbp", "rates.rush.0.within", "3", "rates.rush.0.share", "80", "rates.rush.1.within", "10", "rates.rush.1.share", "20",
		"rates.fee_rate", "1,5", "rates.fee_fixed", "0.25", "rates.learning.curve", "95", "rates.learning.floor", "75")
	for _, c := range [][2]string{
		{"rates.currency", "pounds"}, {"rates.rush.0.share", "much"}, {"rates.rush.0.within", "soon"}, {"rates.rush.1.within", "2"}, {"rates.rush.1.share", "900"}, {"rates.fee_rate", "40"},
		{"rates.learning.curve", "10"}, {"rates.learning.floor", "200"},
	} {
		a := v.post("/workshop", over(form, c[0], c[1])).want(http.StatusUnprocessableEntity)
		if a.fields()[c[0]] != c[1] || a.see().remedies[c[0]] == "" {
			t.Errorf("%s %q: %v, %q", c[0], c[1], a.see().remedies, a.fields()[c[0]])
		}
	}
	v.post("/workshop", form).to()
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	r := w.Figures.Rates
	if r.Currency != "GBP" || len(r.Rush) != 2 || r.Rush[0].Within != 3 || r.Rush[1].Share.String() != "0.2" || r.FeeRate.String() != "0.015" || r.FeeFixed.String() != "0.25" || r.Learning.Curve.String() != "0.95" || r.Learning.Floor.String() != "0.75" {
		t.Errorf("%+v", r)
	}
	if live := v.post("/designs/new/live", url.Values{"outline.shape": {"round"}, "outline.diameter": {"50 cm"}, "core.foam": {"mat-10"}}).want(http.StatusOK); !strings.Contains(live.body, "GBP") || strings.Contains(live.body, "EUR") {
		t.Errorf("the price is not in the workshop's currency: %s", live.words())
	}
	v.post("/workshop", over(v.filled("/workshop"), "rates.rush.0.within", "", "rates.rush.0.share", "")).to()
	if w, err = s.sales.Workshop(t.Context()); err != nil || len(w.Figures.Rates.Rush) != 1 || w.Figures.Rates.Rush[0].Within != 10 {
		t.Errorf("%+v, %v", w.Figures.Rates.Rush, err)
	}

	used := stocked(t)
	owner := used.as(people.Owner)
	owner.post("/workshop", over(owner.filled("/workshop"), "rates.currency", "USD")).want(http.StatusUnprocessableEntity).says("Amounts stand in the books already")
}

// What things take is read and kept figure by figure, and moves the next estimate.
func TestWhatThingsTakeIsASetting(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := "/workshop/usage"
	form := over(v.filled(at), "usage.keyed", "1,5", "usage.knife_gap", "5 mm", "usage.rivets", "6")
	for _, c := range [][2]string{{"usage.keyed", "0.5"}, {"usage.keyed", "thick"}, {"usage.rivets", ""}, {"usage.knife_gap", "5"}, {"usage.knife_gap", "90 mm"}, {"usage.divisor", "0"}, {"usage.joint_share", "30"}, {"usage.stud", "0 mm"}} {
		a := v.post(at, over(form, c[0], c[1])).want(http.StatusUnprocessableEntity)
		if a.fields()[c[0]] != c[1] || a.see().remedies[c[0]] == "" {
			t.Errorf("%s %q: %v, %q", c[0], c[1], a.see().remedies, a.fields()[c[0]])
		}
	}
	before, err := s.sales.Workshop(t.Context())
	s.must(err)
	if to := v.post(at, form).to(); to != at+"?kept=1" {
		t.Fatal(to)
	}
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	want := before.Figures.Usage
	for i, f := range want.Figures() {
		is := w.Figures.Usage.Figures()[i]
		changed := map[string]string{"keyed": "1.5", "knife_gap": "5 mm", "rivets": "6"}[f.Name]
		if f.Length != nil && is.Length.String() != cmp.Or(changed, f.Length.String()) || f.Number != nil && is.Number.String() != cmp.Or(changed, f.Number.String()) {
			t.Errorf("%s is %v %v", f.Name, is.Number, is.Length)
		}
	}
	s.as(people.Bookkeeper).get(at).want(http.StatusForbidden)
}
