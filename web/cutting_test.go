package web_test

import (
	"net/http"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// The owner prints templates from the drawing of a draft, a design and an issued quote; nobody else does.
func TestTemplates(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	for _, page := range []string{"/designs/" + designs[0].ID, v.draft(designs[0].Name)} {
		at := page + "/templates.pdf"
		if body := v.get(page).want(http.StatusOK).body; !strings.Contains(body, `<a href="`+at+`">Templates (PDF)</a>`) {
			t.Errorf("%s has no link to its templates", page)
		}
		if live := v.post(page+"/live", v.filled(page)).want(http.StatusOK).body; !strings.Contains(live, `<a href="`+at+`">Templates as last kept (PDF)</a>`) {
			t.Errorf("%s loses its link while somebody types", page)
		}
		for _, query := range []string{"", "?paper=a3", "?paper=letter&whole=1&rim=1"} {
			if r := v.get(at + query).want(http.StatusOK); !strings.HasPrefix(r.body, "%PDF-") || r.Header.Get("Content-Type") != "application/pdf" {
				t.Errorf("%s%s is no PDF", at, query)
			}
		}
		v.get(at + "?paper=foolscap").want(http.StatusUnprocessableEntity)
		s.as(people.Bookkeeper).get(at).want(http.StatusForbidden)
	}
	issued, err := s.sales.Quotes(t.Context(), sales.Found{Words: "Ferry buckler"})
	s.must(err)
	for _, q := range issued {
		if page := "/quotes/" + q.ID; q.State == sales.Issued {
			if !strings.Contains(v.get(page).want(http.StatusOK).body, page+"/templates.pdf") || strings.Contains(s.as(people.Bookkeeper).get(page).want(http.StatusOK).body, "templates.pdf") {
				t.Errorf("%s: the owner has no link to the templates, or the bookkeeper has", page)
			}
			v.get(page + "/templates.pdf").want(http.StatusOK)
		}
	}
	if strings.Contains(v.get("/designs/new").want(http.StatusOK).body, "templates.pdf") {
		t.Error("what is not kept has templates")
	}
	v.get("/designs/nowhere/templates.pdf").want(http.StatusNotFound)
}
