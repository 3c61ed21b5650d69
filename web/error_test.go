package web_test

import (
	"net/http/httptest"
	"regexp"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// internals are words of the machinery that no visitor should read.
var internals = regexp.MustCompile(`(?i)pgx|postgres|sql|fiber|fasthttp|goroutine|panic|\.go:|0x[0-9a-f]{6}|nil|EOF|strconv|uuid|invalid input|template|context`)

// forPeople holds the reply to be a page that says what happened and where to go on, in words for people.
func (a reply) forPeople() {
	a.t.Helper()
	words := a.words()
	if found := internals.FindString(words); found != "" {
		a.t.Errorf("shows %q: %s", found, words)
	}
	seen := a.see()
	if seen.tags["h1"] != 1 || seen.tags["main"] != 1 || !strings.Contains(a.body, `lang="en"`) || !strings.Contains(a.body, `<a href="/">`) {
		a.t.Errorf("no whole page: %s", words)
	}
	if !strings.Contains(words, ".") {
		a.t.Errorf("no sentence: %s", words)
	}
}

func TestErrorPagesAreForPeople(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	draft := v.draft("Ferry buckler")
	no := "01234567-89ab-7cde-8f01-23456789abcd"
	for _, c := range []struct {
		method, path string
		status       int
	}{
		{"GET", "/nowhere", 404}, {"GET", "/quotes/" + no, 404}, {"GET", "/quotes/1", 404}, {"GET", "/quotes/%00", 404}, {"GET", "/quotes/..%2f..%2fetc", 404},
		{"GET", "/quotes/" + strings.Repeat("9", 2000), 404}, {"GET", "/quotes/" + no + "/quote.pdf", 404}, {"GET", draft + "/quote.pdf", 409},
		{"GET", draft + "/revise", 405}, {"GET", "/designs/" + no, 404}, {"GET", "/designs/x", 404}, {"GET", "/customers/" + no, 404}, {"GET", "/customers/%ff", 404},
		{"GET", "/set-up", 403}, {"PUT", "/quotes", 403}, {"DELETE", draft, 403}, {"GET", "/static/none.css", 404},
		{"POST", "/quotes/" + no, 404}, {"POST", "/quotes/" + no + "/revise", 404}, {"POST", "/quotes/" + no + "/discard", 404},
		{"POST", "/customers/" + no, 404}, {"POST", "/designs/" + no, 404}, {"POST", "/quotes", 405},
	} {
		var a reply
		if c.method == "POST" {
			a = v.post(c.path, nil)
		} else {
			a = v.send(httptest.NewRequest(c.method, c.path, nil))
		}
		if a.StatusCode != c.status {
			t.Errorf("%s %.60s: %d, want %d: %s", c.method, c.path, a.StatusCode, c.status, a.words())
		}
		a.forPeople()
	}
	if logged := s.log.String(); strings.Contains(logged, "level=ERROR") {
		t.Errorf("what visitors get wrong is logged as ours: %s", logged)
	}
}

func TestNoDatabaseNoInternals(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	s.books.Close()
	for _, path := range []string{"/", "/quotes", "/designs", "/workshop", "/today", "/stock", "/stock/latex", "/stock/count", "/buying", "/orders", "/sign-in", "/account"} {
		a := v.get(path)
		if a.StatusCode < 500 || !strings.Contains(a.words(), a.Header.Get("X-Request-ID")) && a.StatusCode != 503 {
			t.Errorf("%s: %d %s", path, a.StatusCode, a.words())
		}
		a.forPeople()
	}
	if !strings.Contains(s.log.String(), "level=ERROR") {
		t.Error("nothing is logged about it")
	}
}
