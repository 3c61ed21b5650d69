package api_test

import (
	"fmt"
	"strings"

	"foamwright/api"
	"foamwright/pricing/people"
)

// ordersLife accepts a quote of a customer and goes through what may happen after that: a change, a drawing, hand-over,
// papers.
func (s *shop) ordersLife(customer string) {
	s.t.Helper()
	var q api.Quote
	var e api.Estimate
	var o api.Order
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "title": "Plain round", "spec": %s}`, customer, round)).want(201, &q)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &e)
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, e.Digest, e.Price.Gross)).want(200, &q)
	s.owner("POST", "/quotes/"+q.ID+"/accept", `{"name": "Ilse"}`).want(200, &o)
	at := "/orders/" + o.ID

	larger := strings.Replace(round, "60 cm", "70 cm", 1)
	var c api.ChangePrice
	s.owner("POST", at+"/changes/price", round).want(200, &c)
	if len(c.Moved) != 0 || !c.Amount.IsZero() || !c.Before.Equal(c.After) || c.After.StringFixed(2) != e.Price.Gross {
		s.t.Errorf("nothing changed: %+v", c)
	}
	s.owner("POST", at+"/changes/price", larger).want(200, &c)
	if len(c.Moved) != 1 || !c.Amount.IsPositive() || !c.After.GreaterThan(c.Before) {
		s.t.Errorf("larger: %+v", c)
	}
	s.owner("POST", at+"/changes/price", strings.Replace(round, "60 cm", "80", 1)).problem(422)
	offer := func(gross string, edit int) reply {
		return s.owner("POST", at+"/changes", fmt.Sprintf(`{"label": "70 cm wide", "gross": %q, "edit": %d, "spec": %s}`, gross, edit, larger))
	}
	var l api.OrderLife
	offer("1.00", o.Edit).problem(409)
	offer(c.After.StringFixed(2), o.Edit+1).problem(409)
	offer(c.After.StringFixed(2), o.Edit).want(200, &l)
	offer(c.After.StringFixed(2), o.Edit+1).problem(409)
	s.owner("PUT", at+"/changes/1", `{"state": "accepted", "name": "Ilse"}`).want(200, &l)
	s.owner("PUT", at+"/changes/1", `{"state": "declined"}`).problem(409)
	s.owner("PUT", at+"/changes/2", `{"state": "withdrawn"}`).problem(404)
	if len(l.Changes) != 1 || l.Changes[0].State != "accepted" || l.Changes[0].Name != "Ilse" {
		s.t.Errorf("%+v", l.Changes)
	}
	s.owner("POST", at+"/changes/price", larger).want(200, &c)
	if len(c.Moved) != 0 || c.Before.StringFixed(2) != c.After.StringFixed(2) {
		s.t.Errorf("the order is not what was agreed: %+v", c)
	}

	s.owner("POST", at+"/drawings", `{"note": "mind the bird"}`).want(200, &l)
	s.owner("POST", at+"/drawings", `{}`).problem(409)
	s.owner("PUT", at+"/drawings/1", `{"verdict": "change"}`).problem(422)
	s.owner("PUT", at+"/drawings/1", `{"verdict": "approved", "name": "Ilse"}`).want(200, &l)

	hand := func(pieces, edit int) reply {
		return s.owner("POST", at+"/deliveries", fmt.Sprintf(`{"day": "2026-03-05", "pieces": %d, "way": "collected", "whom": "Ilse", "edit": %d}`, pieces, edit))
	}
	s.owner("GET", at, "").want(200, &o)
	hand(1, o.Edit).problem(409) // no deposit yet
	s.owner("POST", at+"/deposit", `{"day": "2026-03-05"}`).want(200, &o)
	hand(2, o.Edit).problem(422)
	hand(1, o.Edit).want(200, &l)
	hand(1, o.Edit).problem(409)
	var kinds []string
	for _, p := range l.Papers {
		kinds = append(kinds, p.Kind)
		a := s.as(people.Bookkeeper, "GET", fmt.Sprintf("%s/papers/%s/%d", at, p.Kind, p.No), "").want(200, nil)
		if a.Header.Get("ETag") != `"`+p.Hash+`"` || !strings.HasPrefix(a.body, "%PDF") {
			s.t.Errorf("%s: %v %.40s", p.Kind, a.Header, a.body)
		}
	}
	if l.Left != 0 || len(l.Deliveries) != 1 || len(kinds) != 3 {
		s.t.Errorf("%v %+v", kinds, l)
	}
	s.as(people.Bookkeeper, "GET", at+"/life", "").want(200, &l)
	s.owner("GET", at+"/papers/care/2", "").problem(404)
}
