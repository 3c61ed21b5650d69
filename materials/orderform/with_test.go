package orderform_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"foamwright/materials/orderform"
)

func TestWith(t *testing.T) {
	f, err := orderform.Parse([]byte(`{"outline":{"shape":"round","diameter":"50 cm"},"core":{"foam":"mat-10","layers":3},
		"gems":[{"width":"60 mm","height":"80 mm","count":3},{"width":"20 mm","height":"20 mm"}],"coat":{"system":"latex","coats":4}}`))
	if err != nil {
		t.Fatal(err)
	}
	got, err := f.With(map[string]string{"core.layers": "2", "gems": "", "coat.system": "primer"})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"outline.shape": "round", "outline.diameter": "50 cm", "core.foam": "mat-10", "core.layers": "2", "coat.system": "primer", "coat.coats": "4"}
	if d := cmp.Diff(want, got.Fields()); d != "" {
		t.Error(d)
	}
	if same, err := f.With(nil); err != nil || !cmp.Equal(same.Fields(), f.Fields()) {
		t.Errorf("without changes: %v %v", same, err)
	}
}
