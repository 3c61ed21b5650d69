package web_test

import (
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// A list that is shown again because an entry was refused keeps the pages beside it.
func TestARefusedListKeepsItsMenu(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	v.get("/standard").want(200)
	body := v.post("/standard/price", url.Values{"price": {"nothing"}}).want(422).body
	if !strings.Contains(body, `<a href="/standard" aria-current="page"`) {
		t.Error("a refused price leaves the price list without the pages beside it")
	}
}

// TestMenu: eight entries for the owner, and what lies beside a list is one press away for whoever may open it.
func TestMenu(t *testing.T) {
	s := stocked(t)
	for _, c := range []struct {
		role    people.Role
		entries int
		page    string
		beside  []string
		never   []string
	}{
		{people.Owner, 8, "/orders", []string{"/days", "/events", "/repairs"}, []string{"/log"}},
		{people.Owner, 8, "/customers", []string{"/quotes", "/enquiries", "/waiting", "/mail"}, nil},
		{people.Owner, 8, "/buying", []string{"/stock", "/stock/offcuts", "/stock/items", "/stock/suppliers"}, nil},
		{people.Bookkeeper, 6, "/quotes", []string{"/mail"}, []string{"/customers", "/enquiries", "/designs", "/workshop"}},
		{people.Helper, 4, "/days", []string{"/orders", "/log"}, []string{"/money", "/buying", "/stock/items", "/events"}},
	} {
		body := s.as(c.role).get(c.page).want(200).body
		nav := body[strings.Index(body, `<nav aria-label="Pages">`):]
		if n := strings.Count(nav[:strings.Index(nav, "</nav>")], "<a "); n != c.entries {
			t.Errorf("%s has %d entries in the menu, want %d", c.role, n, c.entries)
		}
		for _, a := range append(c.beside, c.page) {
			if !strings.Contains(body, `<a href="`+a+`"`) {
				t.Errorf("%s on %s does not find %s", c.role, c.page, a)
			}
		}
		if n := strings.Count(body, `aria-current="page"`); n < 2 {
			t.Errorf("%s on %s: %d entries are lit, want at least the one of the menu and the page's own", c.role, c.page, n)
		}
		for _, a := range c.never {
			if strings.Contains(body, `href="`+a+`"`) {
				t.Errorf("%s on %s is offered %s, which is not for them", c.role, c.page, a)
			}
		}
	}
}
