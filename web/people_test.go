package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

func TestTheFirstOwnerSetsUp(t *testing.T) {
	s := open(t)
	v := s.visit()
	if !strings.Contains(v.get("/sign-in").want(http.StatusOK).words(), "has no owner yet") {
		t.Error("the first visitor is not told what to do")
	}
	v.get("/set-up").want(http.StatusForbidden)
	v.get("/set-up?key=" + strings.ToUpper(key)).want(http.StatusForbidden)
	v.get("/set-up?key=" + key).want(http.StatusOK)
	for field, typed := range map[string][]string{
		"name":     {"name", " ", "login", "wren", "password", password},
		"login":    {"name", "Wren", "login", "W r e n", "password", password},
		"password": {"name", "Wren", "login", "wren", "password", "short"},
	} {
		form := over(url.Values{"key": {key}}, typed...)
		a := v.post("/set-up", form).want(http.StatusUnprocessableEntity)
		seen := a.see()
		if seen.remedies[field] == "" || seen.fields["login"] != form.Get("login") || seen.fields["password"] != "" {
			t.Errorf("%s: %v, %v", field, seen.remedies, seen.fields)
		}
	}
	if to := v.post("/set-up", url.Values{"key": {key}, "name": {"Wren"}, "login": {"wren"}, "password": {password}}).to(); to != "/" {
		t.Error(to)
	}
	v.get("/today").says("Before the first quote", "Size rules of the games you make for")
	if !strings.Contains(v.get("/quotes").want(http.StatusOK).words(), "No quotes yet") {
		t.Error("an empty list does not say so")
	}
	for path, words := range map[string]string{"/designs": "No designs yet", "/customers": "Nobody yet", "/quotes?words=heron": "Nothing matches"} {
		if got := v.get(path).want(http.StatusOK).words(); !strings.Contains(got, words) {
			t.Errorf("%s: %s", path, got)
		}
	}
	// Once is once, whoever has the key.
	other := s.visit()
	other.get("/set-up?key=" + key)
	if a := other.post("/set-up", url.Values{"key": {key}, "name": {"Eve"}, "login": {"eve"}, "password": {password}}); a.StatusCode < 400 {
		t.Errorf("a second owner: %d", a.StatusCode)
	}
}

func TestALinkWorksOnceAndOnlyByAPress(t *testing.T) {
	s := stocked(t)
	all, err := s.people.People(t.Context())
	s.must(err)
	secret, _, err := s.people.NewLink(t.Context(), all[0].ID)
	s.must(err)
	v := s.visit()
	v.get("/link/" + secret).want(http.StatusOK)
	v.get("/link/" + secret).want(http.StatusOK) // a mail program that looks at links
	if to := v.post("/link/"+secret, nil).to(); to != "/" {
		t.Error(to)
	}
	for _, used := range []string{secret, "made-up", "%00", "%ff%fe", strings.Repeat("a", 1000)} {
		w := s.visit()
		if a := w.get("/link/" + used); a.StatusCode != http.StatusOK {
			t.Errorf("%.20s: %d", used, a.StatusCode)
		}
		if a := w.post("/link/"+used, nil); a.StatusCode != http.StatusUnauthorized || !strings.Contains(a.words(), "new link") {
			t.Errorf("%.20s: %d %s", used, a.StatusCode, a.words())
		}
	}
}

// everyPath is where a browser can go, with something at each address.
func (s *shop) everyPath() []string {
	s.t.Helper()
	customers, err := s.sales.Customers(s.t.Context(), sales.Found{})
	s.must(err)
	designs, err := s.sales.Designs(s.t.Context())
	s.must(err)
	quotes, err := s.sales.Quotes(s.t.Context(), sales.Found{})
	s.must(err)
	paths := []string{"/", "/quotes", "/quotes?words=heron", "/quotes/new", "/designs", "/designs/new", "/customers", "/customers/new", "/workshop", "/account", "/nowhere", "/quotes/nowhere",
		"/today", "/stock", "/stock/latex", "/stock/count", "/stock/nothing", "/buying", "/buying/nowhere", "/orders", "/orders/nowhere"}
	for _, q := range quotes {
		paths = append(paths, "/quotes/"+q.ID, "/quotes/"+q.ID+"/quote.pdf")
	}
	return append(paths, "/designs/"+designs[0].ID, "/customers/"+customers[0].ID)
}

// priced finds an amount of money, as pages print it.
var priced = regexp.MustCompile(`\d[.,]\d\d\b|EUR|€`)

func TestAHelperSeesNoPriceAnywhere(t *testing.T) {
	s := stocked(t)
	draft := s.as(people.Owner).draft("Ferry buckler")
	v := s.as(people.Helper)
	if to := v.get("/").to(); to != "/today" {
		t.Error(to)
	}
	opened := 0
	for _, path := range append(s.everyPath(), draft+"/live") {
		a := v.get(path)
		if found := priced.FindString(a.written()); found != "" {
			t.Errorf("%s shows %q", path, found)
		}
		if a.StatusCode == http.StatusOK {
			opened++
		}
		for _, to := range []string{path, path + "/live", path + "/revise", path + "/discard"} {
			if b := v.post(to, url.Values{"do": {"recompute"}, "outline.shape": {"round"}, "outline.diameter": {"50 cm"}, "core.foam": {"mat-10"}}); b.StatusCode < 400 || priced.MatchString(b.written()) {
				t.Errorf("%s answers a helper's post with %d", to, b.StatusCode)
			}
		}
	}
	if opened != 6 {
		t.Errorf("a helper opened %d pages, want their account, today, orders, the shelf, an item and the count", opened)
	}
}

func TestABookkeeperReadsWhatWasIssuedAndChangesNothing(t *testing.T) {
	s := stocked(t)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	issued := "/quotes/" + quotes[0].ID
	draft := s.as(people.Owner).draft("Ferry buckler")
	v := s.as(people.Bookkeeper)
	for path, status := range map[string]int{
		"/quotes": 200, issued: 200, issued + "/quote.pdf": 200, "/account": 200,
		draft: http.StatusConflict, draft + "/quote.pdf": http.StatusConflict, "/quotes/new": 403, "/designs": 403, "/customers": 403, "/workshop": 403,
	} {
		a := v.get(path).want(status)
		if strings.Contains(a.body, "New version") || strings.Contains(a.body, "New quote") || strings.Contains(a.body, `href="/workshop"`) {
			t.Errorf("%s offers what is not theirs: %s", path, a.words())
		}
	}
	for _, path := range []string{issued, draft} {
		for _, act := range []string{"", "/live", "/revise", "/discard"} {
			v.post(path+act, url.Values{"do": {"issue"}, "title": {"Changed"}}).want(http.StatusForbidden)
		}
	}
	for _, path := range []string{"/quotes/new", "/designs/new", "/customers/new", "/workshop"} {
		v.post(path, url.Values{"name": {"x"}, "title": {"x"}}).want(http.StatusForbidden)
	}
	after, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	if len(after) != len(quotes)+1 || after[0].Title != "Ferry buckler" {
		t.Errorf("%+v", after)
	}
}

func TestNobodyIsSentToTheDoor(t *testing.T) {
	s := stocked(t)
	for _, path := range s.everyPath() {
		v := s.visit()
		if to := v.get(path).to(); to != "/sign-in?next="+url.QueryEscape(path) {
			t.Errorf("%s leads to %s", path, to)
		}
		v.get("/sign-in").want(http.StatusOK)
		if to := v.post(path, url.Values{"do": {"keep"}}).to(); !strings.HasPrefix(to, "/sign-in") {
			t.Errorf("a post to %s leads to %s", path, to)
		}
	}
}
