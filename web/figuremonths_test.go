package web_test

import (
	"encoding/csv"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"foamwright/pricing/figures"
	"foamwright/pricing/people"
)

// Months, one of them, its page on paper and every figure's documents open for a bookkeeper; what cannot be read is
// said; a helper sees none of it.
func TestFiguresOfMonths(t *testing.T) {
	s := stocked(t)
	o := s.order().Order
	v := s.as(people.Bookkeeper)
	at := "/orders/" + o.ID
	bill := v.post(at+"/bill", url.Values{"kind": {"deposit"}, "token": {v.purse(at)}}).to()
	v.post(at+"/receive", url.Values{"amount": {o.Deposit.String()}, "day": {aDay(0)}, "way": {"cash"}, "token": {v.purse(at)}}).to()
	s.as(people.Owner).post("/workshop", over(s.as(people.Owner).filled("/workshop"), "fixed_costs", "480")).to()

	month := time.Now().Format("2006-01")
	page := v.get("/figures/months").want(http.StatusOK)
	for _, says := range []string{"Months", o.Totals().Net.String(), "In all"} {
		if !strings.Contains(strings.ReplaceAll(page.words(), "\u00a0", ""), says) {
			t.Errorf("months do not say %s: %s", says, page.words())
		}
	}
	one := v.get("/figures/months/" + month).want(http.StatusOK)
	if !strings.Contains(one.words(), "480.00") {
		t.Errorf("fixed costs are missing: %s", one.words())
	}
	links := regexp.MustCompile(`href="(/figures/documents\?[^"]+)"`).FindAllStringSubmatch(one.body, -1)
	if len(links) < 15 {
		t.Errorf("%d figures open to documents", len(links))
	}
	for _, l := range links {
		v.get(html.UnescapeString(l[1])).want(http.StatusOK)
	}
	if p := v.get("/figures/documents?what=invoiced").want(http.StatusOK); !strings.Contains(p.body, bill) {
		t.Error("the invoice is not among what was invoiced")
	}
	for _, k := range figures.Kinds() {
		v.get("/figures/documents?what=" + url.QueryEscape(k.Key)).want(http.StatusOK)
		rows, err := csv.NewReader(strings.NewReader(v.get("/figures/documents.csv?what=" + url.QueryEscape(k.Key)).want(http.StatusOK).body)).ReadAll()
		if err != nil || len(rows) == 0 || rows[0][0] != "figure" {
			t.Errorf("%s: %v %v", k.Key, rows, err)
		}
	}
	if pdf := v.get("/figures/months/" + month + "/month.pdf").want(http.StatusOK); !strings.HasPrefix(pdf.body, "%PDF-") {
		t.Error("the page of the month is no PDF")
	} else if pdf.Header.Get("ETag") != "" || pdf.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("the page of the month is made anew each time, and a browser keeps it: %v", pdf.Header)
	}
	for _, path := range []string{"/figures/months.csv?from=" + month, "/figures/months/" + month + "/tax.csv", "/figures/months/" + month + "/tax.csv?period=year"} {
		v.get(path).want(http.StatusOK)
	}
	if p := v.get("/figures/months/" + month + "?profit=1000").want(http.StatusOK); !strings.Contains(p.fields()["profit"], "1000") {
		t.Errorf("what was typed is lost: %v", p.fields())
	}
	for path, field := range map[string]string{
		"/figures/months?from=soon": "from", "/figures/months?from=2026-05&to=2026-01": "to", "/figures/months?from=2001-01&to=2026-01": "from", "/figures/months/" + month + "?profit=much": "profit",
		"/figures/documents?from=soon": "from", "/figures/documents?from=2026-02-02&to=2026-01-01": "to", "/figures/documents?what=everything": "what",
	} {
		if a := v.get(path).want(http.StatusUnprocessableEntity); a.see().remedies[field] == "" {
			t.Errorf("%s: nothing beside %s: %s", path, field, a.words())
		}
	}
	v.get("/figures/months/2026-13").want(http.StatusNotFound)
	for _, path := range []string{"/figures/months", "/figures/months/" + month, "/figures/months/" + month + "/month.pdf", "/figures/documents", "/figures/documents.csv"} {
		s.as(people.Helper).get(path).want(http.StatusForbidden)
	}
}
