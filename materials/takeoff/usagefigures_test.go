package takeoff_test

import (
	"reflect"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/takeoff"
)

// Every entry of Usage is among the figures once, under a name of its own; what common practice says is within range.
func TestUsageFigures(t *testing.T) {
	u := takeoff.UsualUsage()
	if err := u.Check(); err != nil {
		t.Error(err)
	}
	all := u.Figures()
	if fields := reflect.TypeFor[takeoff.Usage]().NumField(); len(all) != fields {
		t.Errorf("%d figures of %d entries", len(all), fields)
	}
	names, places := map[string]bool{}, map[any]bool{}
	for i, f := range all {
		var at any = f.Number
		if f.Length != nil {
			at = f.Length
		}
		if names[f.Name] || places[at] {
			t.Errorf("%s stands there twice", f.Name)
		}
		names[f.Name], places[at] = true, true
		wrong := takeoff.UsualUsage()
		if w := wrong.Figures()[i]; w.Length != nil {
			*w.Length = -measure.Millimetre
		} else {
			*w.Number = decimal.NewFromInt(-1)
		}
		if problems := fault.ProblemsOf(wrong.Check()); len(problems) != 1 || problems[0].Field != f.Name {
			t.Errorf("%s below nothing: %v", f.Name, problems)
		}
	}
}
