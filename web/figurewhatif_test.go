package web_test

import (
	"encoding/csv"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// A price that rises is felt and said; what cannot be read is told beside its entry with everything typed kept; nothing
// is changed by looking. What falls below gets a new version when the owner says so, once however often it is pressed.
func TestWhatIf(t *testing.T) {
	s := stocked(t)
	owner, books := s.as(people.Owner), s.as(people.Bookkeeper)
	before := owner.get("/figures/designs.csv").body
	owner.get("/figures/what-if").want(http.StatusOK).says("Nothing is changed by looking")
	owner.get("/figures/what-if?rate=60&wait=1").want(http.StatusOK).says("when their prices stay")
	owner.get("/figures/what-if?foam=-5+%25&coats=%E2%88%921&wait=1").want(http.StatusOK).says("Nothing falls below")
	owner.get("/figures/what-if?foam=%2B12&wait=1&margin=30&hours_by=5&group=coat&item=mat-10&item_by=40").want(http.StatusOK).says("To make it so")
	owner.get("/figures/what-if?today=1&wait=1").want(http.StatusOK).says("Nothing falls below")

	bad := owner.get("/figures/what-if?foam=abc&rate=35x&materials=100000&item=cork&item_by=5&coats=many&group=juggling&margin=99").want(http.StatusUnprocessableEntity)
	for _, remedy := range []string{"Write a number, for example 2.5", "Write a whole number", "to 900", "Choose one of the list", "no such group", "up to 95"} {
		bad.says(remedy)
	}
	for name, typed := range map[string]string{"foam": "abc", "rate": "35x", "materials": "100000", "coats": "many", "margin": "99"} {
		if !strings.Contains(bad.body, `name="`+name+`" value="`+typed+`"`) {
			t.Errorf("%s does not say %q any more", name, typed)
		}
	}
	for _, typed := range []string{`value="cork" selected`, `value="juggling" selected`} {
		if !strings.Contains(bad.body, typed) {
			t.Errorf("no %s", typed)
		}
	}

	t.Run("told", func(t *testing.T) {
		shell := owner.get("/figures/what-if?rate=60").want(http.StatusOK)
		at := regexp.MustCompile(`data-told-at="([^"]+)"`).FindStringSubmatch(shell.body)
		if at == nil {
			t.Fatal("the page does not say where it hears what comes of it")
		}
		answer := books.get(at[1]).want(http.StatusOK)
		last := heard(t, answer.body)
		if !strings.Contains(last.HTML, "when their prices stay") || strings.Contains(last.HTML, "revise\"") && strings.Contains(last.HTML, "New version") {
			t.Errorf("the bookkeeper is told %s", last.HTML)
		}
		if answer.Header.Get("Cache-Control") != "no-store" {
			t.Error("an answer with prices may be kept")
		}
		owner.get("/figures/what-if/told?rate=abc").want(http.StatusUnprocessableEntity)
	})

	t.Run("the act", func(t *testing.T) {
		file := owner.get("/figures/what-if.csv?rate=60").want(http.StatusOK)
		rows, err := csv.NewReader(strings.NewReader(file.body)).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatal(err, len(rows))
		}
		page := owner.get("/figures/what-if?rate=60&wait=1").body
		quote := regexp.MustCompile(`name="one" value="([^"]+)"`).FindStringSubmatch(page)
		if quote == nil {
			t.Fatal("nothing can be revised")
		}
		form := url.Values{"one": {quote[1]}, "asked": {"rate=60"}}
		books.post("/figures/what-if/revise", form).want(http.StatusForbidden)
		draft := owner.post("/figures/what-if/revise", form).to()
		if again := owner.post("/figures/what-if/revise", form).to(); again != draft {
			t.Errorf("pressed twice: %s, then %s", draft, again)
		}
		owner.get("/figures/what-if?rate=60&wait=1").want(http.StatusOK).says("draft is open")
		owner.post("/figures/what-if/revise", url.Values{"asked": {"rate=60"}}).want(http.StatusUnprocessableEntity).says("Tick the quotes")
		owner.post("/figures/what-if/revise", url.Values{"quote": {"00000000-0000-4000-8000-000000000000"}, "asked": {"rate=60"}}).want(http.StatusNotFound).says("Not every new version")
	})
	if owner.get("/figures/designs.csv").body != before {
		t.Error("looking changed a figure")
	}

	t.Run("take", func(t *testing.T) {
		page := books.get("/figures/take").want(http.StatusOK)
		page.says("What there is in")
		owner.get("/figures/take?month=2199-01&by=drying").want(http.StatusOK).says("There is room for all")
		owner.get("/figures/take?month=2001-01").want(http.StatusOK).says("This month is over")
		owner.get("/figures/take?month=soon").want(http.StatusUnprocessableEntity).says("Write a month")
		file := owner.get("/figures/take.csv?month=2199-01").want(http.StatusOK)
		if rows, err := csv.NewReader(strings.NewReader(file.body)).ReadAll(); err != nil || len(rows) < 3 {
			t.Error(err, len(rows))
		}
		for _, path := range []string{"/figures/take", "/figures/take.csv", "/figures/what-if/told?rate=60"} {
			s.as(people.Helper).get(path).want(http.StatusForbidden)
		}
	})
}
