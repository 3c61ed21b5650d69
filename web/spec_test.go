package web_test

import (
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/google/go-cmp/cmp"
)

// draft starts a quote from a design by the page and gives its path.
func (v *visitor) draft(design string) string {
	v.t.Helper()
	customers, err := v.sales.Customers(v.t.Context(), sales.Found{})
	v.must(err)
	designs, err := v.sales.Designs(v.t.Context())
	v.must(err)
	v.get("/quotes/new").want(http.StatusOK)
	for _, d := range designs {
		if d.Name == design {
			return v.post("/quotes/new", url.Values{"customer": {customers[0].ID}, "design": {d.ID}}).to()
		}
	}
	v.t.Fatalf("no design %q", design)
	return ""
}

// filled is the form of a page as it stands.
func (v *visitor) filled(path string) url.Values {
	v.t.Helper()
	return v.get(path).want(http.StatusOK).form()
}

// over is a form with some entries typed over: name, value, name, value.
func over(form url.Values, typed ...string) url.Values {
	fields := maps.Clone(form)
	for i := 0; i < len(typed); i += 2 {
		fields[typed[i]] = []string{typed[i+1]}
	}
	return fields
}

// keeps tells what of the typed is not in the page any more.
func (a reply) keeps(typed url.Values) (lost []string) {
	a.t.Helper()
	got := a.fields()
	for name, value := range typed {
		switch name {
		case "csrf", "do", "digest", "gross", "edit":
			continue
		}
		if want := strings.TrimSpace(value[0]); want != strings.TrimSpace(got[name]) {
			lost = append(lost, fmt.Sprintf("%s: %q became %q", name, want, got[name]))
		}
	}
	return lost
}

// wrongSpecs are entries that cannot be made, the entry each is put down to, and a word of the remedy.
func wrongSpecs() []struct {
	name  string
	typed []string
	field string
	word  string
} {
	bowTie := "M0,0 L100,100 L100,0 L0,100 Z"
	return []struct {
		name  string
		typed []string
		field string
		word  string
	}{
		{"no width", []string{"outline.width", ""}, "outline.width", "how wide"},
		{"no unit", []string{"outline.width", "80"}, "outline.width", "cm"},
		{"negative", []string{"outline.width", "-5 cm"}, "outline.width", ""},
		{"not a number", []string{"outline.width", "NaN"}, "outline.width", "56 cm"},
		{"not a number with a unit", []string{"outline.width", "NaN cm"}, "outline.width", ""},
		{"beyond floats", []string{"outline.width", "1e308 cm"}, "outline.width", ""},
		{"huge", []string{"outline.width", strings.Repeat("9", 400) + " cm"}, "outline.width", ""},
		{"words", []string{"outline.height", "<b>tall</b>"}, "outline.height", ""},
		{"crossing path", []string{"outline.shape", "path", "outline.d", bowTie}, "outline.d", ""},
		{"half off its axis", []string{"outline.shape", "half", "outline.d", "M10,0 L200,300 L40,600"}, "outline.d", "centre"},
		{"no path", []string{"outline.shape", "path", "outline.d", "a heron"}, "outline.d", ""},
		{"unknown foam", []string{"core.foam", "unobtainium"}, "core.foam", ""},
		{"unknown shape", []string{"outline.shape", "blob"}, "outline.shape", ""},
		{"layers", []string{"core.layers", "1e9"}, "core.layers", "whole number"},
		{"none of them", []string{"quantity", "0"}, "quantity", "whole number"},
		{"colour", []string{"paint.0.colour", "octarine"}, "paint.0.colour", ""},
		{"piece", []string{"pieces.0.d", bowTie}, "pieces.0.d", ""},
		{"gem", []string{"gems.0.width", "0 mm"}, "gems.0.width", ""},
		{"turn", []string{"pieces.0.turn", "720°"}, "pieces.0.turn", "degrees"},
		{"date", []string{"delivery.by", "soon"}, "delivery.by", "2027-05-28"},
		{"date gone by", []string{"delivery.by", "2020-01-01"}, "delivery.by", ""},
	}
}

func TestWrongEntriesComeBackWithARemedyBesideThem(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Heron kite")
	before, err := s.sales.Quote(t.Context(), strings.TrimPrefix(path, "/quotes/"))
	s.must(err)
	form := v.filled(path)
	for _, c := range wrongSpecs() {
		for _, do := range []string{"issue", "recompute", "recompute face"} {
			typed := over(form, append(c.typed, "do", do, "title", "Typed title")...)
			a := v.post(path, typed)
			if a.StatusCode != http.StatusUnprocessableEntity {
				t.Errorf("%s, %s: status %d", c.name, do, a.StatusCode)
				continue
			}
			seen := a.see()
			if remedy := seen.remedies[c.field]; remedy == "" || !strings.Contains(strings.ToLower(remedy), strings.ToLower(c.word)) {
				t.Errorf("%s, %s: beside %s stands %q; remedies %v", c.name, do, c.field, remedy, seen.remedies)
			}
			if lost := a.keeps(typed); lost != nil {
				t.Errorf("%s, %s: lost %v", c.name, do, lost)
			}
			if !strings.Contains(a.words(), "need") || !strings.Contains(a.words(), "No price yet.") || !strings.Contains(a.body, `class="go" disabled`) {
				t.Errorf("%s, %s: the slip or the button does not say that it cannot be issued", c.name, do)
			}
			if !strings.Contains(a.body, `<span data-unsaved>`) {
				t.Errorf("%s, %s: not marked as not kept", c.name, do)
			}
		}
		if a := v.post(path+"/live", over(form, c.typed...)).want(http.StatusOK); !strings.Contains(a.body, `data-problem="`+c.field+`"`) {
			t.Errorf("%s, live: %s", c.name, a.words())
		}
	}
	after, err := s.sales.Quote(t.Context(), before.ID)
	s.must(err)
	if diff := cmp.Diff(before, after); diff != "" {
		t.Errorf("something was stored: %s", diff)
	}
}
