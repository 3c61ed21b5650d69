package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// quoteAt is the quote of a page.
func (v *visitor) quoteAt(path string) sales.Quote {
	v.t.Helper()
	q, err := v.sales.Quote(v.t.Context(), strings.TrimPrefix(path, "/quotes/"))
	v.must(err)
	return q
}

// Options are offered from the list, by one entry, and as what is typed; named, refused with what was typed, taken away.
// What was typed in the spec is kept with each but the last, which leaves the spec as it was.
func TestOptionsOnADraft(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Reed oval")
	form := func(typed ...string) url.Values { return over(v.filled(path), typed...) }
	if words := v.get(path).want(http.StatusOK).words(); !strings.Contains(words, "None yet") || !strings.Contains(words, "one coat fewer") {
		t.Fatal("the page offers nothing")
	}
	to := v.post(path, form("do", "options add", "options.add", "one-coat-fewer", "options.entry", "studs", "options.value", "6", "options.name", "six studs", "weathering", "1")).to()
	q := v.quoteAt(path)
	if to != path+"#options" || len(q.Options) != 2 || q.Options[0].Name != "one coat fewer" || q.Options[1].Changes["studs"] != "6" || q.Form.Weathering.String() != "1" {
		t.Fatalf("%s: %+v", to, q.Options)
	}
	page := v.get(path).want(http.StatusOK)
	for _, want := range []string{"coats: 2, not 3", "studs: 6", "Take away", "Issued today the quote stands 30 days"} {
		if !strings.Contains(page.words(), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	v.post(path, form("do", "keep", "options.1.name", "half a dozen studs")).to()
	if q = v.quoteAt(path); q.Options[1].Name != "half a dozen studs" {
		t.Errorf("%+v", q.Options)
	}
	// Typed and not kept: the difference is the option, the spec stays.
	v.post(path, form("do", "options this", "core.layers", "3", "options.name", "thick")).to()
	if q = v.quoteAt(path); len(q.Options) != 3 || q.Options[2].Changes["core.layers"] != "3" || len(q.Options[2].Changes) != 1 || q.Form.Core.Layers.String() != "2" {
		t.Errorf("%+v", q.Options)
	}
	for name, c := range map[string]struct {
		typed []string
		says  string
	}{
		"nothing chosen":   {[]string{"do", "options add"}, "Tick a change"},
		"cannot be read":   {[]string{"do", "options add", "options.entry", "core.layers", "options.value", "many", "options.name", "odd"}, "Write a whole number"},
		"changes nothing":  {[]string{"do", "options add", "options.entry", "core.layers", "options.value", "2", "options.name", "same"}, "changes nothing"},
		"nothing typed":    {[]string{"do", "options this"}, "change some entries first"},
		"another number":   {[]string{"do", "options this", "quantity", "4", "options.name", "four"}, "another number"},
		"without its name": {[]string{"do", "keep", "options.0.name", ""}, "beside the box"},
		"called the same":  {[]string{"do", "keep", "options.0.name", "thick"}, "Another option"},
		"not there":        {[]string{"do", "options drop 7"}, "not there any more"},
	} {
		a := v.post(path, form(c.typed...))
		if a.StatusCode < 400 || a.StatusCode >= 500 || !strings.Contains(a.words(), c.says) {
			t.Errorf("%s: %d", name, a.StatusCode)
		}
		if got := a.fields(); len(c.typed) > 4 && got["options.value"] != "" && got["options.value"] != c.typed[5] {
			t.Errorf("%s: what was typed came back as %q", name, got["options.value"])
		}
	}
	v.post(path, form("do", "options drop 0")).to()
	if q = v.quoteAt(path); len(q.Options) != 2 || q.Options[0].Key != "b" {
		t.Errorf("%+v", q.Options)
	}
}

// Variants stand side by side with what they cost; what fits a budget is found, made the draft or offered; an issued
// quote has none.
func TestVariantsAndBudgets(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Reed oval")
	page := v.get(path + "/variants").want(http.StatusOK)
	for _, want := range []string{"The draft", "Against the draft", "Sheet 10 mm", "kg", "Fits Marshlight medium", "Make it the draft"} {
		if !strings.Contains(page.words(), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	page = v.get(path + "/variants?with=primer,no-clear&with=one-coat-fewer").want(http.StatusUnprocessableEntity)
	if !strings.Contains(page.words(), "no such option or suggestion") { // it is of primer already
		t.Error(page.words())
	}
	v.get(path + "/variants?with=one-layer-fewer,one-layer-more").want(http.StatusUnprocessableEntity)
	v.get(path + "/variants?with=a&with=b&with=c&with=d&with=e&with=f").want(http.StatusUnprocessableEntity)
	page = v.get(path + "/variants?budget=5").want(http.StatusOK)
	if !strings.Contains(page.words(), "fits. The least") || !strings.Contains(page.words(), "estimated in full") {
		t.Error(page.words())
	}
	v.get(path + "/variants?budget=ten").want(http.StatusUnprocessableEntity)
	q := v.quoteAt(path)
	e, err := s.sales.Estimate(t.Context(), q.CustomerID, q.Form)
	s.must(err)
	page = v.get(path + "/variants?budget=" + e.Price.Gross.String()).want(http.StatusOK)
	if !strings.Contains(page.words(), "It fits as it is") {
		t.Error(page.words())
	}
	v.post(path+"/variants", url.Values{"do": {"option"}, "with": {"no-clear,one-coat-fewer"}, "edit": {"0"}}).to()
	q = v.quoteAt(path)
	if len(q.Options) != 1 || len(q.Options[0].Changes) != 2 || q.Options[0].Name != "without clear coats, one coat fewer" {
		t.Errorf("%+v", q.Options)
	}
	v.post(path+"/variants", url.Values{"do": {"options"}, "with": {"no-clear,plain-back"}, "edit": {"1"}}).to()
	if q = v.quoteAt(path); len(q.Options) != 3 {
		t.Errorf("%+v", q.Options)
	}
	v.post(path+"/variants", url.Values{"do": {"draft"}, "with": {"a"}, "edit": {"1"}}).want(http.StatusConflict)
	v.post(path+"/variants", url.Values{"do": {"draft"}, "with": {"a"}, "edit": {"2"}}).to()
	if q = v.quoteAt(path); len(q.Options) != 2 || q.Form.ClearCoats.String() != "" || q.Form.Coat.Coats.String() != "2" {
		t.Errorf("%+v %s", q.Options, q.Form.Coat.Coats)
	}
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{Standing: sales.Open})
	s.must(err)
	v.get("/quotes/" + quotes[0].ID + "/variants").want(http.StatusConflict)
	v.post("/quotes/"+quotes[0].ID+"/variants", url.Values{"do": {"draft"}, "with": {"no-gems"}, "edit": {"1"}}).want(http.StatusConflict)
	s.as(people.Bookkeeper).get(path + "/variants").want(http.StatusForbidden)
}

// An issued quote is accepted with the options that are ticked, or declined with a reason; then it stays so.
func TestHowAQuoteEnds(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Reed oval")
	v.post(path, over(v.filled(path), "do", "options add", "options.add", "one-coat-fewer")).to()
	v.post(path, over(v.filled(path), "do", "options add", "options.add", "plain-back")).to()
	v.post(path, over(v.filled(path), "do", "issue")).to()
	q := v.quoteAt(path)
	if len(q.Printed.Options) != 2 {
		t.Fatalf("%+v", q.Printed.Options)
	}
	page := v.get(path).want(http.StatusOK)
	for _, want := range []string{"one coat fewer", "plain back", "Accepted by the customer", "Declined"} {
		if !strings.Contains(page.words(), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	want, err := q.With([]string{"a", "b"})
	s.must(err)
	page = v.post(path+"/accept", url.Values{"do": {"total"}, "option": {"a", "b"}, "name": {"Mara"}}).want(http.StatusOK)
	if page.fields()["name"] != "Mara" || !strings.Contains(strings.ReplaceAll(page.words(), "\u202f", ""), want.Gross.String()) {
		t.Errorf("not the total of both, %s", want.Gross)
	}
	v.post(path+"/accept", url.Values{"option": {"x"}}).want(http.StatusUnprocessableEntity)
	v.post(path+"/accept", url.Values{"document": {"of yesterday"}}).want(http.StatusConflict)
	v.post(path+"/decline", url.Values{"reason": {"too dear"}, "name": {"Mara"}}).to()
	page = v.get(path).want(http.StatusOK)
	if !strings.Contains(page.words(), "too dear") || !strings.Contains(page.words(), "opens it again") || strings.Contains(page.body, `action="`+path+`/accept"`) {
		t.Error(page.words())
	}
	if words := v.get("/quotes?standing=declined").want(http.StatusOK).words(); !strings.Contains(words, "declined") || strings.Contains(words, "Ferry buckler") {
		t.Error(words)
	}
	v.post(path+"/accept", nil).want(http.StatusConflict)
	again := v.post(path+"/revise", nil).to()
	if n := len(v.quoteAt(again).Options); n != 2 {
		t.Errorf("the new version offers %d options", n)
	}
	v.post(again, over(v.filled(again), "do", "issue")).to()
	if words := v.get(again).want(http.StatusOK).words(); !strings.Contains(words, "What moved since version 1") || !strings.Contains(words, "The price is what it was") {
		t.Error(words)
	}
	to := v.post(again+"/accept", url.Values{"option": {"b"}, "name": {"Mara"}, "note": {"by phone"}, "document": {v.quoteAt(again).Document}}).to()
	if !strings.HasPrefix(to, "/orders/") {
		t.Error(to)
	}
	if other := v.post(again+"/accept", url.Values{"option": {"a"}}).want(http.StatusConflict); !strings.Contains(other.words(), "accepted already") {
		t.Error(other.words())
	}
	if words := v.get(again).want(http.StatusOK).words(); !strings.Contains(words, "with “plain back”") || !strings.Contains(words, "by phone") {
		t.Error(words)
	}
	s.as(people.Bookkeeper).post(again+"/decline", nil).want(http.StatusForbidden)
	v.get("/quotes?standing=nowhere").want(http.StatusUnprocessableEntity)
}
