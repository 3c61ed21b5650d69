package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/pricing/people"
)

// A helper takes material off the shelf from the time log, sees what is left and no price.
func TestMaterialIsTakenAtTheBench(t *testing.T) {
	s := stocked(t)
	s.tin()
	order := s.atBench()
	at, v := "/log/"+order.ID, s.as(people.Helper)
	needed := func() string {
		taken, err := s.sales.Order(t.Context(), order.ID)
		s.must(err)
		for _, k := range taken.Left() {
			if k.Item == "latex" {
				return k.Quantity.String()
			}
		}
		return ""
	}
	whole := needed()
	page := v.get(at).want(http.StatusOK)
	if words := page.words(); !strings.Contains(words, "Material used") || strings.Contains(words, "€") || strings.Contains(words, "EUR") || strings.Contains(page.body, "4711.17") {
		t.Fatal(words)
	}
	var took url.Values
	left := ""
	for _, c := range []struct{ typed, onHand, taken string }{{"0,1", "4.9", "0.1"}, {"0.1", "4.8", "0.2"}} { // in all more than the quote reckons
		took = url.Values{"edit": {page.fields()["edit"]}, "used.latex": {c.typed}, "used.mat-10": {""}}
		if to := v.post(at+"/take", took).to(); to != at+"#material" {
			t.Error(to)
		}
		left = decimal.Max(decimal.Zero, dec(whole).Sub(dec(c.taken))).String()
		if got := needed(); got != left || !s.card("latex").Balance.OnHand.Equal(dec(c.onHand)) {
			t.Errorf("%s left of %s, %s on hand", got, whole, s.card("latex").Balance.OnHand)
		}
		page = v.get(at)
		if !strings.Contains(strings.ReplaceAll(page.words(), "\u00a0", " "), left+" l left of "+whole+" l, "+c.taken+" l taken") {
			t.Error(page.words())
		}
	}
	// Pressed twice: taken once, and said.
	if a := v.post(at+"/take", took).want(http.StatusConflict); !strings.Contains(a.words(), "nothing more was taken") || a.fields()["used.latex"] != "0.1" {
		t.Error(a.words())
	}
	fresh := page.fields()["edit"]
	for _, c := range []struct{ typed, says string }{
		{"some", "Write a number"}, {"-1", "above 0"}, {"0", "above 0"}, {"0.0001", "3 places"}, {"5", "The shelf has 4.8 l"}, {"1e3", "Write a number"}, {"99999999", "up to 1000000"},
	} {
		a := v.post(at+"/take", url.Values{"edit": {fresh}, "used.latex": {c.typed}}).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.see().remedies["used.latex"], c.says) || a.fields()["used.latex"] != c.typed || strings.Contains(a.words(), "EUR") {
			t.Errorf("%q: %v", c.typed, a.see().remedies)
		}
	}
	v.post(at+"/take", url.Values{"edit": {fresh}, "used.latex": {" "}}).want(http.StatusUnprocessableEntity)
	v.post(at+"/take", url.Values{"edit": {"x"}, "used.latex": {"0.1"}}).want(http.StatusUnprocessableEntity)
	v.post("/log/"+uuid.NewString()+"/take", took).want(http.StatusNotFound)
	s.as(people.Bookkeeper).post(at+"/take", took).want(http.StatusForbidden)
	if got := needed(); got != left || !s.card("latex").Balance.OnHand.Equal(dec("4.8")) {
		t.Errorf("%s left, %s on hand", got, s.card("latex").Balance.OnHand)
	}
	if to := v.get(at + "/take").to(); to != at {
		t.Error(to)
	}

	if _, err := s.sales.Cancel(t.Context(), order.ID, "the customer moved away", nil, "Hedda"); err != nil {
		t.Fatal(err)
	}
	if a := v.post(at+"/take", took).want(http.StatusConflict); !strings.Contains(a.words(), "nothing can be changed") {
		t.Error(a.words())
	}
	if words := v.get(at).words(); strings.Contains(words, "Off the shelf") {
		t.Error(words)
	}
}
