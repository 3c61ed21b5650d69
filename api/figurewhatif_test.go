package api_test

import (
	"foamwright/api"
	"foamwright/pricing/people"
)

// shifting asks what a price rise does to all that is on offer, and what to take when there is not time for all.
func (s *shop) shifting(design string) {
	s.t.Helper()
	var e api.WhatIf
	s.as(people.Bookkeeper, "GET", "/figures/what-if?rate=60&foam=12&coats=-1&materials=1&item=mat-10&item_by=3&group=coat&hours_by=5&margin=25", "").want(200, &e)
	found := false
	for _, w := range e.All {
		found = found || w.Kind == "design" && w.ID == design && w.Below && w.CostThen != w.CostNow
	}
	if !found || e.Target != "0.25" {
		s.t.Errorf("%+v", e)
	}
	for _, query := range []string{"rate=x", "foam=1e3", "coats=two", "margin=99", "item=cork", "group=juggling"} {
		s.as(people.Owner, "GET", "/figures/what-if?"+query, "").problem(422)
	}
	var take api.ToTake
	s.as(people.Bookkeeper, "GET", "/figures/take?month=2199-01&by=drying", "").want(200, &take)
	if len(take.Capacity) != 3 || len(take.Designs) == 0 || take.Scarce != "drying" || take.From != "2199-01-01" {
		s.t.Errorf("%+v", take)
	}
	for _, query := range []string{"month=soon", "by=mood"} {
		s.as(people.Owner, "GET", "/figures/take?"+query, "").problem(422)
	}
}
