package web_test

import (
	"encoding/csv"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Won and lost: of few quotes only counts are told; every count opens to as many quotes; what was typed wrongly is shown
// again; a helper sees none of it.
func TestFiguresOfAnswers(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	_, err = s.sales.Decline(t.Context(), quotes[0].ID, sales.Choice{Note: "<b>Too dear</b>"}, "The owner")
	s.must(err)
	page := owner.get("/figures/answers").want(http.StatusOK)
	page.says("0 of 1 accepted: too few to tell", "Begun without a design", "first order", "the same day", "&lt;b&gt;Too dear&lt;/b&gt;")
	links := regexp.MustCompile(`href="(/figures/answers/quotes\?[^"]*)">([^<]*)</a>`).FindAllStringSubmatch(page.body, -1)
	if len(links) < 10 {
		t.Fatalf("%d links to quotes: %s", len(links), page.body)
	}
	opened := regexp.MustCompile(`<p class="state">(\d+) quotes? first sent`)
	for _, l := range links {
		at := html.UnescapeString(l[1])
		row := owner.get(at).want(http.StatusOK)
		list := opened.FindStringSubmatch(row.body)
		if list == nil || strconv.Itoa(strings.Count(row.body, `href="/quotes/`+quotes[0].ID)) != list[1] {
			t.Errorf("%s opens to %v", at, list)
		} else if _, err := strconv.Atoi(l[2]); err == nil && list[1] != l[2] {
			t.Errorf("%s counts %s and opens to %s", at, l[2], list[1])
		}
		file := owner.get(strings.Replace(at, "/quotes?", "/quotes.csv?", 1)).want(http.StatusOK)
		if rows, err := csv.NewReader(strings.NewReader(file.body)).ReadAll(); err != nil || list != nil && strconv.Itoa(len(rows)-1) != list[1] {
			t.Errorf("%s as a file: %v, %d rows", at, err, len(rows))
		}
	}
	owner.get("/figures/answers?from=2027-03-02&to=2027-03-01").want(http.StatusUnprocessableEntity).says(`value="2027-03-02"`, `value="2027-03-01"`, "The last day is before the first.")
	owner.get("/figures/answers?from=soon").want(http.StatusUnprocessableEntity).says(`value="soon"`)
	owner.get("/figures/answers?from=2001-01-01&to=2001-12-31").want(http.StatusOK).says("No quote was first sent in these days.")
	owner.get("/figures/answers/quotes?" + url.Values{"by": {"moon"}, "row": {"1"}}.Encode()).want(http.StatusNotFound)
	owner.get("/figures/answers/quotes?outcome=lost").want(http.StatusNotFound)
	owner.get("/figures/answers.csv?to=never").want(http.StatusUnprocessableEntity)
	owner.get("/figures/answers.csv").want(http.StatusOK).says("all,,0,1,0,0,1,0.0000,0.0000,0.7935")
	for _, path := range []string{"/figures/answers", "/figures/answers.csv", "/figures/answers/quotes", "/figures/answers/quotes.csv"} {
		s.as(people.Helper).get(path).want(http.StatusForbidden)
		s.as(people.Bookkeeper).get(path).want(http.StatusOK)
	}
}
