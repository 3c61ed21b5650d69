package shield

import "reflect"

// With is the shield that Make gives for another spec with the same catalogue and bench, where the two specs differ only
// in what no part and no measure hangs on: name, number, rule, first time, complexity, how many coats there are (but
// not whether there are any), weathering, steps and words. ok is false where they differ in more.
func (s Shield) With(spec Spec) (other Shield, ok bool) {
	if !(Shield{Spec: spec}).Made() {
		spec.Core.Layers = 0 // as Make does
	}
	if !reflect.DeepEqual(s.Spec.shape(), spec.shape()) {
		return Shield{}, false
	}
	s.Spec = spec
	return s, true
}

// shape is a spec without what Make does not look at.
func (s Spec) shape() Spec {
	s.Name, s.Rule, s.Caveat, s.Notes, s.Steps = "", "", "", nil, nil
	s.Quantity, s.Complexity, s.Weathering, s.ClearCoats, s.Coat.Coats = 0, 0, 0, 0, min(s.Coat.Coats, 1)
	s.FirstTime, s.Delivery = false, Delivery{}
	return s
}
