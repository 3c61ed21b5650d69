package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/google/go-cmp/cmp"
)

// refusal is a small form that is not taken: the entry each problem is put down to ("" for the form), and a word.
type refusal struct {
	name, path string
	typed      []string
	field      string
	word       string
	gone       bool // what was typed must not come back, being a password, or has no place to
}

func TestSmallFormsComeBackAsTyped(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	customers, err := s.sales.Customers(t.Context(), sales.Found{})
	s.must(err)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	settings, err := s.sales.Workshop(t.Context())
	s.must(err)
	long := strings.Repeat("long ", 2000)
	for _, c := range []refusal{
		{"customer without a name", "/customers/new", []string{"name", " ", "note", "left-handed"}, "name", "name", false},
		{"customer with a long name", "/customers/new", []string{"name", long}, "name", "Shorten", false},
		{"customer without an @", "/customers/new", []string{"name", "Mara", "email", "mara.example", "phone", "1"}, "email", "@", false},
		{"customer with a long note", "/customers/" + customers[0].ID, []string{"name", "Ilse", "note", long}, "note", "Shorten", false},
		{"customer with a long address", "/customers/" + customers[0].ID, []string{"name", "", "address", long}, "address", "Shorten", false},
		{"quote for nobody", "/quotes/new", []string{"design", designs[0].ID}, "customer", "Choose who", false},
		{"quote for a stranger", "/quotes/new", []string{"customer", "nobody-here", "design", designs[0].ID}, "customer", "no such customer", true},
		{"quote for a new customer without an @", "/quotes/new", []string{"new_customer", "Jonas", "new_email", "jonas"}, "new_email", "@", false},
		{"quote for a long name", "/quotes/new", []string{"new_customer", long}, "new_customer", "Shorten", false},
		{"design without a name", "/designs/new", []string{"do", "keep", "title", " ", "note", "n", "outline.shape", "round", "outline.diameter", "50 cm", "core.foam", "mat-10"}, "title", "Give the design a name", false},
		{"design with a long note", "/designs/" + designs[0].ID, []string{"do", "keep", "title", "x", "note", long}, "note", "Shorten", false},
		{"workshop rate in words", "/workshop", []string{"rates.hour", "thirty"}, "rates.hour", "number", false},
		{"workshop rate not a number", "/workshop", []string{"rates.margin", "NaN"}, "rates.margin", "number", false},
		{"workshop rate beyond all", "/workshop", []string{"rates.handling", "1e308"}, "rates.handling", "number", false},
		{"workshop rate below nothing", "/workshop", []string{"rates.step", "-1"}, "rates.step", "number", false},
		{"workshop margin that eats the price", "/workshop", []string{"rates.margin", "100"}, "rates.margin", "", false},
		{"workshop days", "/workshop", []string{"valid_days", "400"}, "valid_days", "1 to 365", false},
		{"workshop lead time", "/workshop", []string{"lead_days", "soon"}, "lead_days", "1 to 365", false},
		{"workshop tax", "/workshop", []string{"tax", "twenty"}, "tax", "number", false},
		{"workshop without a name", "/workshop", []string{"head.name", ""}, "head.name", "", false},
		{"workshop with long terms", "/workshop", []string{"terms", long}, "terms", "Shorten", false},
		{"sign in", "/sign-in", []string{"login", "owner", "password", "wrong boots"}, "", "", true},
		{"password too short", "/account", []string{"old", password, "new", "short"}, "new", "10", true},
		{"old password wrong", "/account", []string{"old", "three new boots", "new", "four new boots"}, "old", "", true},
	} {
		typed := v.filled(c.path)
		if c.path == "/sign-in" {
			typed = url.Values{}
		}
		typed = over(typed, c.typed...)
		a := v.post(c.path, typed)
		if a.StatusCode != http.StatusUnprocessableEntity && a.StatusCode != http.StatusUnauthorized && a.StatusCode != http.StatusConflict {
			t.Errorf("%s: status %d: %s", c.name, a.StatusCode, a.words())
			continue
		}
		seen := a.see()
		remedy := seen.remedies[c.field]
		if remedy == "" || !strings.Contains(remedy, c.word) {
			t.Errorf("%s: beside %q stands %q; remedies %v", c.name, c.field, remedy, seen.remedies)
		}
		if c.gone {
			if strings.Contains(a.body, "boots") {
				t.Errorf("%s: the password comes back", c.name)
			}
			continue
		}
		if lost := a.keeps(typed); lost != nil {
			t.Errorf("%s: lost %v", c.name, lost)
		}
	}
	now, err := s.sales.Customers(t.Context(), sales.Found{})
	s.must(err)
	nowDesigns, err := s.sales.Designs(t.Context())
	s.must(err)
	nowQuotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	nowSettings, err := s.sales.Workshop(t.Context())
	s.must(err)
	if diff := cmp.Diff(customers, now) + cmp.Diff(designs, nowDesigns) + cmp.Diff(quotes, nowQuotes); diff != "" || nowSettings.Figures.Rates.Hour.String() != settings.Figures.Rates.Hour.String() {
		t.Errorf("something was stored: %s", diff)
	}
}

func TestSmallFormsKeep(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	to := v.post("/customers/new", url.Values{"name": {"  Bram of the Yard "}, "email": {"bram@yard.example"}, "address": {"1 Yard\r\nHarrowmouth"}, "note": {"\x00quartermaster\xff"}}).to()
	if got := v.get(to).see().fields; got["name"] != "Bram of the Yard" || got["note"] != "quartermaster" {
		t.Errorf("%v", got)
	}
	to = v.post("/quotes/new", url.Values{"new_customer": {"Jonas the Younger"}, "design": {""}}).to()
	if got := v.get(to).words(); !strings.Contains(got, "Jonas the Younger") || !strings.Contains(got, "EUR") {
		t.Error(got)
	}
	settings := over(v.filled("/workshop"), "rates.hour", "31,50", "tax", "19")
	if to := v.post("/workshop", settings).to(); to != "/workshop?kept=1" {
		t.Error(to)
	}
	got := v.filled("/workshop")
	for _, name := range []string{"rates.hour", "tax", "terms", "head.address"} {
		if want := strings.Replace(settings.Get(name), ",", ".", 1); name != "terms" && got.Get(name) != want && got.Get(name)+"0" != want {
			t.Errorf("%s is %q, want %q", name, got.Get(name), want)
		}
	}
	if to := v.post("/account", url.Values{"old": {password}, "new": {"four new boots"}}).to(); to != "/account?done=1" {
		t.Error(to)
	}
	if to := v.post("/sign-out", nil).to(); to != "/sign-in" {
		t.Error(to)
	}
	if to := v.get("/quotes?words=kite").to(); to != "/sign-in?next=%2Fquotes%3Fwords%3Dkite" {
		t.Error(to)
	}
}
