package api_test

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/api"
	"foamwright/pricing/people"
)

// offering drafts a quote with options, looks for what fits a budget, issues it and sees the options as printed.
func (s *shop) offering(customer string) {
	t := s.t
	var q api.Quote
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "title": "With options", "spec": %s}`, customer, round)).want(201, &q)
	put := func(options string, edit int) reply {
		return s.owner("PUT", "/quotes/"+q.ID, fmt.Sprintf(`{"customer": %q, "title": "With options", "spec": %s, "options": %s, "edit": %d}`, customer, round, options, edit))
	}
	if b := put(`[{"name": "", "changes": [{"entry": "studs", "value": "6"}, {"entry": "studs", "value": "7"}]}]`, q.Edit).problem(422); len(b.Problems) != 1 || b.Problems[0].Field != "options.0.changes.1.entry" {
		t.Errorf("%+v", b)
	}
	if b := put(`[{"name": "", "changes": [{"entry": "quantity", "value": "6"}]}]`, q.Edit).problem(422); len(b.Problems) != 2 || b.Problems[0].Field != "options.0.name" {
		t.Errorf("%+v", b)
	}
	put(`[{"name": "six studs", "changes": [{"entry": "studs", "value": "6"}]}, {"name": "three layers", "changes": [{"entry": "core.layers", "value": "3"}]}, {"name": "one layer", "changes": [{"entry": "core.layers", "value": "1"}]}]`, q.Edit).want(200, &q)
	if len(q.Options) != 3 || q.Options[0].Key != "a" || q.Options[0].Changes[0].Value != "6" || q.Options[0].Amount != "" {
		t.Errorf("%+v", q.Options)
	}
	s.owner("PUT", "/quotes/"+q.ID, fmt.Sprintf(`{"customer": %q, "title": "With options", "spec": %s, "edit": %d}`, customer, round, q.Edit)).want(200, &q)
	if len(q.Options) != 3 {
		t.Errorf("options that were left out are gone: %+v", q.Options)
	}
	var ideas struct{ Suggestions []api.QuoteOption }
	s.owner("GET", "/quotes/"+q.ID+"/suggestions", "").want(200, &ideas)
	if len(ideas.Suggestions) == 0 || ideas.Suggestions[0].Key == "one-layer-fewer" { // that one is an option
		t.Errorf("%+v", ideas)
	}
	var e api.Estimate
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &e)
	var fits api.Fitting
	less := decimal.RequireFromString(e.Price.Gross).Sub(decimal.NewFromInt(1))
	s.owner("GET", "/quotes/"+q.ID+"/fitting?budget="+less.String(), "").want(200, &fits)
	if len(fits.Fits) == 0 || len(fits.Fits[0].Options) != 1 || decimal.RequireFromString(fits.Fits[0].Gross).GreaterThan(less) || fits.Tried == 0 {
		t.Errorf("%+v", fits)
	}
	for _, wrong := range []string{"", "x", "-1", "0", "1.005"} {
		s.owner("GET", "/quotes/"+q.ID+"/fitting?budget="+wrong, "").problem(422)
	}
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, e.Digest, e.Price.Gross)).want(200, &q)
	s.owner("GET", "/quotes/"+q.ID, "").want(200, &q)
	if o := q.Options; len(o) != 3 || o[0].Amount == "" || len(o[0].Excludes) != 0 || strings.Join(o[1].Excludes, "") != "c" || !strings.HasPrefix(o[2].Amount, "-") {
		t.Errorf("%+v", o)
	}
	s.owner("GET", "/quotes/"+q.ID+"/suggestions", "").problem(409)
	var list struct{ Quotes []api.Quote }
	for standing, want := range map[string]bool{"open": true, "expired": false, "draft": false, "declined": false} {
		s.as(people.Bookkeeper, "GET", "/quotes?words=with+options&standing="+standing, "").want(200, &list)
		if (len(list.Quotes) == 1 && list.Quotes[0].Standing == standing) != want {
			t.Errorf("%s: %+v", standing, list.Quotes)
		}
	}
	s.owner("GET", "/quotes?standing=lost", "").problem(422)
}
