package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// tabs are the names of the drawings that a page offers, in order.
func tabs(body string) string {
	var names []string
	for _, part := range strings.Split(body, `<label for="view-`)[1:] {
		_, name, _ := strings.Cut(part, ">")
		name, _, _ = strings.Cut(name, "<")
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}

// Beside face, back, section and the parts pulled apart a board has the cut plan of all its foams, on the page and while somebody types;
// what has no outline has no empty tabs.
func TestCutPlanBesideTheDrawing(t *testing.T) {
	v := stocked(t).as(people.Owner)
	page := v.draft("Heron kite")
	form := v.filled(page)
	for what, body := range map[string]string{
		"page":    v.get(page).want(http.StatusOK).body,
		"answer":  v.post(page+"/live", form).want(http.StatusOK).body,
		"no name": v.post(page+"/live", over(form, "name", "<script>")).want(http.StatusOK).body,
	} {
		if got := tabs(body); got != "Face, Back, Section, Apart, Cut plan" {
			t.Errorf("%s: the tabs are %s", what, got)
		}
		_, plan, _ := strings.Cut(body, `<figure class="view plan">`)
		plan, _, _ = strings.Cut(plan, "</figure>")
		for _, want := range []string{"Mat 10 mm", " sheets of 550 × 550", "Half sheet 5 mm", `class="hatch"`} {
			if !strings.Contains(plan, want) {
				t.Errorf("%s: the plan has no %q", what, want)
			}
		}
		if len(plan) > 80_000 || strings.Contains(body, "<script>") && what == "no name" {
			t.Errorf("%s: a plan of %d bytes", what, len(plan))
		}
	}
	prop := v.post(page+"/live", url.Values{
		"kind": {"prop"}, "name": {"Reed axe"}, "quantity": {"1"}, "coat.system": {"none"}, "grip.kind": {"none"},
		"parts.0.name": {"blade"}, "parts.0.foam": {"mat-10"}, "parts.0.width": {"200 mm"}, "parts.0.height": {"300 mm"}, "parts.0.count": {"2"}, "parts.0.layers": {"1"},
	}).want(http.StatusOK).body
	if got := tabs(prop); got != "Parts, Cut plan" {
		t.Errorf("a prop has the tabs %q in\n%s", got, prop)
	}
}

// The owner prints the plan of a draft and of a design; nobody else does.
func TestCutPlanPDF(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	for _, page := range []string{"/designs/" + designs[0].ID, v.draft(designs[0].Name)} {
		at := page + "/cutplan.pdf"
		if !strings.Contains(v.get(page).want(http.StatusOK).body, `<a href="`+at+`">Cut plan (PDF)</a>`) {
			t.Errorf("%s has no link to its cut plan", page)
		}
		if r := v.get(at).want(http.StatusOK); !strings.HasPrefix(r.body, "%PDF-") || r.Header.Get("Content-Type") != "application/pdf" {
			t.Errorf("%s is no PDF", at)
		}
		s.as(people.Bookkeeper).get(at).want(http.StatusForbidden)
	}
	v.get("/designs/nowhere/cutplan.pdf").want(http.StatusNotFound)
}
