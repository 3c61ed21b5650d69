package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/labour"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// bowed are orders of small curved shields with latex, accepted and paid, and the shelf full of it.
func (s *shop) bowed(n int) []sales.Order {
	s.t.Helper()
	form, err := orderform.Parse([]byte(`{"name": "Bowed", "outline": {"shape": "oval", "width": "40 cm", "height": "50 cm"}, "core": {"foam": "mat-10", "layers": 2, "former_radius": "40 cm"}, "coat": {"system": "latex", "coats": 4}}`))
	s.must(err)
	customers, err := s.sales.Customers(s.t.Context(), sales.Found{})
	s.must(err)
	_, err = s.shelf().Receive(s.t.Context(), stock.Delivery{Item: "latex", Quantity: dec("20"), Cost: dec("240")}, "The owner")
	s.must(err)
	var orders []sales.Order
	for range n {
		s.issue(customers[0], form)
		quotes, err := s.sales.Quotes(s.t.Context(), sales.Found{Words: "Bowed"})
		s.must(err)
		t, err := s.sales.Accept(s.t.Context(), quotes[0].ID, sales.Choice{}, "Hedda")
		s.must(err)
		t, err = s.sales.DepositCame(s.t.Context(), t.Order.ID, time.Now().AddDate(0, 0, -1), sales.OtherWay, "")
		s.must(err)
		orders = append(orders, t.Order)
	}
	return orders
}

// Orders that took half as much again of latex as reckoned, and stand flatter: both figures are offered after the
// third, with their evidence, move part of the way, and the same orders teach once.
func TestFinishedOrdersTeachSpringbackAndSpread(t *testing.T) {
	s := stocked(t)
	v, hand := s.as(people.Owner), s.as(people.Helper)
	for i, o := range s.bowed(3) {
		if page := v.get("/learned/materials").want(http.StatusOK); !strings.Contains(page.words(), "There is nothing new") {
			t.Fatalf("after %d orders: %s", i, page.words())
		}
		taken, err := s.sales.Order(t.Context(), o.ID)
		s.must(err)
		latex := decimal.Zero
		for _, k := range taken.Quote.Printed.Takes {
			if k.Item == "latex" {
				latex = k.Quantity
			}
		}
		if !latex.IsPositive() {
			t.Fatal("no latex is reckoned")
		}
		_, reckoned, err := s.sales.Measured(t.Context(), o.ID)
		s.must(err)
		depth := reckoned.Stands.Depth
		if !depth.IsPositive() || !reckoned.Stands.Width.IsPositive() || !reckoned.Weight.IsPositive() {
			t.Fatalf("%+v", reckoned)
		}
		at := "/orders/" + o.ID
		a := hand.post(at+"/measure", url.Values{"depth": {"deep"}, "weight": {"-1"}}).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.see().remedies["depth"], "Write a number") {
			t.Errorf("%v", a.see().remedies)
		}
		hand.post(at+"/measure", url.Values{}).want(http.StatusUnprocessableEntity)
		hand.post(at+"/measure", url.Values{"depth": {depth.String()}, "note": {"on the former"}}).to()
		hand.post(at+"/measure", url.Values{"depth": {depth.Sub(dec("6")).String()}, "weight": {"0,9"}, "note": {"a day after"}}).to()
		if page := hand.get(at).want(http.StatusOK); !strings.Contains(page.words(), "−6") || !strings.Contains(page.words(), "Measured by The helper") || !strings.Contains(page.words(), "depth "+depth.String()+" mm The helper") || strings.Contains(page.words(), "€") {
			t.Errorf("%s", page.words())
		}
		_, err = s.sales.Finish(t.Context(), o.ID, []stock.Used{{Item: "latex", Quantity: latex.Mul(dec("1.5")).Round(3)}}, "The owner")
		s.must(err)
	}
	page := v.get("/learned/materials").want(http.StatusOK)
	if words := page.words(); !strings.Contains(words, "Springback, glued cold") || !strings.Contains(words, "l/m²") || !strings.Contains(words, "3 orders") {
		t.Fatalf("%s", words)
	}
	offers, _, err := s.sales.LearnedMaterials(t.Context())
	s.must(err)
	if len(offers) != 2 {
		t.Fatalf("%+v", offers)
	}
	for _, o := range offers {
		if !o.Is.GreaterThan(o.Was) || !o.Is.LessThan(o.Was.Mul(dec("2"))) {
			t.Errorf("%s from %s to %s", o.What, o.Was, o.Is)
		}
		v.post("/learned/materials", url.Values{"what": {o.What}, "figure": {"9.99"}}).want(http.StatusConflict)
		if to := v.post("/learned/materials", url.Values{"what": {o.What}, "figure": {o.Is.String()}}).to(); to != "/learned/materials?done=1" {
			t.Error(to)
		}
		v.post("/learned/materials", url.Values{"what": {o.What}, "figure": {o.Is.String()}}).want(http.StatusConflict) // pressed twice
	}
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	latex, _ := w.Figures.Catalogue.LiquidOf("latex")
	for _, o := range offers {
		if o.What == "latex" && !latex.Spread.Equal(o.Is) || o.What != "latex" && !w.Figures.Bench.Release("cold").Equal(o.Is) {
			t.Errorf("%s was not written", o.What)
		}
	}
	if page := v.get("/learned/materials").want(http.StatusOK); !strings.Contains(page.words(), "There is nothing new") || !strings.Contains(page.words(), "Taken over before") {
		t.Errorf("%s", page.words())
	}
	hand.get("/learned/materials").want(http.StatusForbidden)
	s.as(people.Bookkeeper).get("/learned/materials").want(http.StatusForbidden)
}

// The order's page says what was planned and worked, to the bookkeeper with what the material cost; the helper sees no
// amount.
func TestPlannedAndWorkedOnTheOrdersPage(t *testing.T) {
	s := stocked(t)
	order := s.atBench()
	_, err := s.sales.LogTime(t.Context(), labour.Log{Order: order.ID, Step: "edge", Minutes: dec("240"), Day: time.Now().AddDate(0, 0, -1), By: "The helper", Rework: "lifted at the point"})
	s.must(err)
	at := "/orders/" + order.ID
	for _, role := range people.Roles() {
		page := s.as(role).get(at).want(http.StatusOK)
		if words := page.words(); !strings.Contains(words, "longer than planned: lifted at the point, done again") || strings.Contains(words, "Material, reckoned and taken") != (role != people.Helper) {
			t.Errorf("%s: %s", role, words)
		}
		if strings.Contains(page.body, `href="/log/`+order.ID+`"`) != (role != people.Bookkeeper) || strings.Contains(page.body, at+`/measure`) != (role != people.Bookkeeper) {
			t.Errorf("%s may or may not log", role)
		}
	}
	s.as(people.Bookkeeper).post(at+"/measure", url.Values{"depth": {"50"}}).want(http.StatusForbidden)
}
