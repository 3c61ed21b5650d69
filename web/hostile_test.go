package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// hostile is a name that would become markup wherever it is not escaped.
const hostile = `<script>alert("x")</script>"><img src=x onerror='alert(1)'> & ` + "`{{.}}`"

func TestNamesNeverBecomeMarkup(t *testing.T) {
	s := stocked(t)
	owner, err := s.people.People(t.Context())
	s.must(err)
	for _, p := range owner {
		_, err := s.people.Change(t.Context(), p.ID, `<b onclick="x">"Wren"`, p.Role)
		s.must(err)
	}
	v := s.as(people.Owner)
	settings := over(v.filled("/workshop"), "head.name", hostile, "head.address", hostile, "terms", hostile)
	if to := v.post("/workshop", settings).to(); to != "/workshop?kept=1" {
		t.Error(to)
	}
	customer := v.post("/customers/new", url.Values{"name": {hostile}, "email": {`"<img>"@x`}, "phone": {`<img>`}, "address": {hostile}, "note": {"</textarea>" + hostile}}).to()
	typed := over(v.filled("/designs/new"), "do", "keep", "title", hostile, "note", hostile, "name", hostile[:60],
		"outline.diameter", "30 cm", "pieces.0.name", hostile[:60], "pieces.0.foam", "mat-10", "pieces.0.d", "M0,60 L40,120 L-40,120 Z")
	design := v.post("/designs/new", typed).to()
	quote := v.post("/quotes/new", url.Values{"customer": {strings.TrimPrefix(customer, "/customers/")}, "design": {strings.TrimPrefix(design, "/designs/")}}).to()

	pages := map[string]reply{}
	for _, path := range []string{"/quotes", "/quotes?words=" + url.QueryEscape(hostile), "/quotes/new", "/quotes/new?customer=" + url.QueryEscape(hostile), quote, "/designs", design, "/customers", customer, "/workshop", "/account", "/nowhere/" + url.PathEscape(hostile)} {
		pages[path] = v.get(path)
	}
	pages["live"] = v.post(quote+"/live", v.filled(quote))
	wrong := over(v.filled(quote), "do", "recompute")
	for name := range wrong {
		if name != "do" && name != "edit" {
			wrong.Set(name, hostile)
		}
	}
	pages["every entry hostile"] = v.post(quote, wrong)
	pages["no spec"] = v.post(quote, url.Values{"do": {"keep"}, hostile: {hostile}, "outline." + hostile: {hostile}})
	pages["customer refused"] = v.post(customer, url.Values{"name": {""}, "note": {hostile}})
	pages["signed in wrongly"] = s.visitAndTry(hostile)
	to := v.post(quote, over(v.filled(quote), "do", "issue")).to()
	pages["issued"] = v.get(to).want(http.StatusOK)
	pages["issued, list"] = v.get("/quotes")
	pages["order"] = v.get(v.post(to+"/accept", nil).to()).want(http.StatusOK)
	pages["days"] = v.get("/days").want(http.StatusOK)
	pages["calendar links"] = v.post("/account/calendar", url.Values{"name": {hostile[:60]}})
	for name, a := range pages {
		seen := a.see()
		if seen.tags["img"] != 0 || seen.tags["b"] > 14 || seen.tags["script"] > 1 {
			t.Errorf("%s: %v", name, seen.tags)
		}
		for _, raw := range []string{"<script>alert", "<img", "<b onclick", "ZgotmplZ"} {
			if strings.Contains(a.body, raw) {
				t.Errorf("%s holds %s", name, raw)
			}
		}
	}
	// What was written is still there to be read, whole.
	for name, want := range map[string]string{quote: hostile, customer: hostile, "issued": hostile, "every entry hostile": hostile} {
		if !strings.Contains(strings.Join(strings.Fields(pages[name].see().text.String()+strings.Join(values(pages[name].fields()), " ")), " "), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%s does not show what was written", name)
		}
	}
}

func (s *shop) visitAndTry(login string) reply {
	v := s.visit()
	v.get("/sign-in")
	return v.post("/sign-in", url.Values{"login": {login}, "password": {hostile}, "next": {"javascript:alert(1)"}})
}

func values(fields map[string]string) []string {
	var all []string
	for _, value := range fields {
		all = append(all, value)
	}
	return all
}
