package web_test

import (
	"net/http"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// What is typed at figures is answered as it was meant or refused beside its entry, never answered with something else.
func TestFiguresAsTheyWereTyped(t *testing.T) {
	s := stocked(t)
	s.order()
	v := s.as(people.Bookkeeper)
	for path, field := range map[string]string{
		"/figures/what-if?rate=0": "rate", "/figures/what-if?margin=0": "margin", "/figures?from=2199-01-01": "from", "/figures/months/2026-10?profit=1+00": "profit", "/figures/months/2026-10?profit=1+000+00": "profit",
	} {
		if a := v.get(path).want(http.StatusUnprocessableEntity); a.see().remedies[field] == "" {
			t.Errorf("%s: nothing beside %s: %s", path, field, a.words())
		}
	}
	// Money as pages print it, with narrow blanks or others between its thousands.
	for _, typed := range []string{"1%20000", "1%E2%80%89000.50", "1%C2%A0000,50", "12%20000"} {
		v.get("/figures/months/2026-10?profit=" + typed).want(http.StatusOK)
	}
	if a := v.get("/figures/documents?what=ordered&page=99").want(http.StatusOK); !strings.Contains(a.body, `href="/orders/`) {
		t.Errorf("a page beyond the last one is empty: %s", a.words())
	}
	v.get("/figures/documents?what=ordered&page=soon&code=moon").want(http.StatusOK).lacks("moon")
	v.get("/figures/take?month=2001-01").want(http.StatusOK).says("This month is over").lacks("On offer takes")
}
