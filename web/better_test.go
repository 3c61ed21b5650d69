package web_test

import (
	"encoding/json"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

type told struct {
	Spent      int
	Gain, HTML string
}

// heard is the last line of an answer; what is told before is how far the search is.
func heard(t *testing.T, body string) (last told) {
	t.Helper()
	spent := 0
	for line := range strings.Lines(body) {
		last = told{}
		if err := json.Unmarshal([]byte(line), &last); err != nil || last.Spent < spent || last.Spent > 100 {
			t.Fatalf("after %d: %s, %v", spent, line, err)
		}
		spent = last.Spent
	}
	if spent != 100 {
		t.Fatalf("the search ended at %d per cent: %s", spent, body)
	}
	return last
}

// price and digest as they would be sent on issuing.
func shown(t *testing.T, body string) (digest, gross string) {
	t.Helper()
	found := regexp.MustCompile(`name="digest" value="([^"]+)".*name="gross" value="([^"]+)"`).FindStringSubmatch(body)
	if found == nil {
		t.Fatalf("no price: %s", body)
	}
	return found[1], found[2]
}

// While the first plan is shown a better one is looked for. Four ovals cost less when their last sheet leaves more; it
// is the price they are issued at, and the page that knew the first one alone may issue as well.
func TestBetterPlan(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	page := v.draft("Reed oval")
	form := v.filled(page)
	if one := heard(t, v.post(page+"/better", form).want(http.StatusOK).body); one.Gain != "" || one.HTML != "" {
		t.Errorf("one oval is said to go better: %s", one.Gain)
	}
	four := over(form, "quantity", "4")
	digest, first := shown(t, v.post(page+"/live", four).want(http.StatusOK).body)
	answer := v.post(page+"/better", four).want(http.StatusOK)
	if answer.Header.Get("Cache-Control") != "no-store" {
		t.Error("an answer with prices may be kept")
	}
	better := heard(t, answer.body)
	same, price := shown(t, better.HTML)
	if better.Gain != "A better cut plan: 4.00\u00a0EUR less." || same != digest || first == price {
		t.Errorf("%q: from %s to %s", better.Gain, first, price)
	}
}

// What cannot be made goes no better, and says so at once.
func TestNoBetterPlanOfWhatCannotBeMade(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	page := v.draft("Reed oval")
	body := v.post(page+"/better", over(v.filled(page), "outline.width", "80")).want(http.StatusOK).body
	if strings.Contains(body, "html") || strings.Contains(body, "gain") {
		t.Error(body)
	}
}
