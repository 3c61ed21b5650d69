package shield

import "reflect"

// With is the shield that Make gives for another spec with the same catalogue and bench as this one, which it made of
// was, where the two specs differ only in what no part and no measure hangs on: name, number, rule, first time,
// complexity, how many coats there are (but not whether there are any), weathering, steps and words. ok is false where
// they differ in more.
func (s Shield) With(was, spec Spec) (other Shield, ok bool) {
	if !reflect.DeepEqual(was.shape(), spec.shape()) {
		return Shield{}, false
	}
	to := &s.Spec // Make may have moved parts in it
	to.Name, to.Rule, to.Caveat, to.Notes, to.Steps = spec.Name, spec.Rule, spec.Caveat, spec.Notes, spec.Steps
	to.Quantity, to.Complexity, to.Weathering, to.ClearCoats, to.Coat.Coats = spec.Quantity, spec.Complexity, spec.Weathering, spec.ClearCoats, spec.Coat.Coats
	to.FirstTime, to.Delivery = spec.FirstTime, spec.Delivery
	return s, true
}

// shape is a spec without what Make does not look at.
func (s Spec) shape() Spec {
	s.Name, s.Rule, s.Caveat, s.Notes, s.Steps = "", "", "", nil, nil
	s.Quantity, s.Complexity, s.Weathering, s.ClearCoats, s.Coat.Coats = 0, 0, 0, 0, min(s.Coat.Coats, 1)
	s.FirstTime, s.Delivery = false, Delivery{}
	return s
}
