package web_test

import (
	"strings"
	"testing"

	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/google/go-cmp/cmp"
)

// A design that came in by the API or a file may say more than the page has entries for.
func TestWhatThePageHasNoPlaceForIsCarriedAlong(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	form, err := orderform.Parse([]byte(`{"name": "Ferry buckler", "outline": {"shape": "round", "diameter": "44 cm"}, "core": {"foam": "mat-10", "layers": 2, "prep": "smooth", "joint_glue": "contact"},
		"caveat": "as \"Mara\" <said>", "steps": [{"name": "fit the bell", "minutes": "12"}], "back": {"finish": "planks", "plank_width": "70 mm", "grain_pitch": "8 mm"}}`))
	s.must(err)
	kept, err := s.sales.KeepDesign(t.Context(), sales.Design{Name: "From a file", Form: form})
	s.must(err)
	path := "/designs/" + kept.ID
	if to := v.post(path, over(v.filled(path), "do", "keep", "outline.diameter", "46 cm")).to(); to != path {
		t.Error(to)
	}
	got, err := s.sales.Design(t.Context(), kept.ID)
	s.must(err)
	want := form.Fields()
	want["outline.diameter"] = "46 cm"
	for name, value := range got.Form.Fields() { // the page writes the usual choices down
		if want[name] == "" && !strings.Contains(name, "caveat") {
			want[name] = value
		}
	}
	if diff := cmp.Diff(want, got.Form.Fields()); diff != "" {
		t.Error(diff)
	}
}
