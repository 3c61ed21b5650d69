package web_test

import (
	"html"
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"foamwright/pricing/people"
)

// No link on a page of figures is shut to a bookkeeper, who may look at all of them.
func TestFiguresLeadABookkeeperNowhereShut(t *testing.T) {
	s := stocked(t)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	s.jobDone(designs[0], "390", "45.5")
	id := designs[0].ID
	v := s.as(people.Bookkeeper)
	month := time.Now().Format("2006-01")
	tried := map[string]bool{}
	for _, path := range []string{
		"/figures", "/figures/compare?design=" + id, "/figures/designs/" + id, "/figures/designs/" + id + "/batch", "/figures/what-if?rate=60&foam=12&margin=25&coats=1&hours_by=10&wait=1",
		"/figures/take", "/figures/answers", "/figures/answers/quotes", "/figures/months", "/figures/months/" + month, "/figures/documents",
	} {
		page := v.get(path).want(http.StatusOK)
		_, main, _ := strings.Cut(page.body, `<main id="main">`)
		for _, l := range regexp.MustCompile(`href="(/[^"]*)"`).FindAllStringSubmatch(main, -1) {
			to, _, _ := strings.Cut(html.UnescapeString(l[1]), "#")
			if tried[to] {
				continue
			}
			tried[to] = true
			if a := v.get(to); a.StatusCode != http.StatusOK {
				t.Errorf("%s leads to %s: %d", path, to, a.StatusCode)
			}
		}
	}
	if len(tried) < 40 {
		t.Errorf("only %d links were tried", len(tried))
	}
}
