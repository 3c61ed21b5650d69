package api_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"foamwright/api"
	"foamwright/pricing/people"
)

// atTheBench reads an order's days, takes material for it once though it is sent twice, measures it and holds it against
// its plan.
func (s *shop) atTheBench(order string) {
	s.t.Helper()
	var list struct{ Bookings []api.Booking }
	for _, role := range people.Roles() {
		s.as(role, "GET", "/days", "").want(200, &list)
	}
	if len(list.Bookings) != 1 {
		s.t.Fatalf("%+v", list)
	}
	b := list.Bookings[0]
	if b.Order != order || !b.Booked || len(b.Slots) < 5 || b.Slots[0].Start[:10] < "2026-03-23" || b.Late || b.Damp == nil {
		s.t.Errorf("%+v", b)
	}
	last := b.Slots[0].Start
	for _, slot := range b.Slots {
		if _, err := time.Parse("2006-01-02T15:04:05", slot.Ready); err != nil || slot.Start < last || slot.End < slot.Start || slot.Ready < slot.End || slot.People < 1 {
			s.t.Errorf("%+v after %s", slot, last)
		}
		last = slot.Start
	}

	s.owner("POST", "/estimate/days", round).want(200, nil)
	var o api.Order
	take := func(edit string) string {
		return fmt.Sprintf(`{"edit": %s, "used": [{"item": "contact", "quantity": "0.05"}]}`, edit)
	}
	at := "/orders/" + order
	s.as(people.Helper, "POST", at+"/take", take(fmt.Sprint(b.Edit))).want(200, &o)
	s.as(people.Helper, "POST", at+"/take", take(fmt.Sprint(b.Edit))).problem(409)
	for body, says := range map[string]string{
		`{"used": [{"item": "latex", "quantity": "1"}]}`: "edit: Send the edit count",
		`{"edit": 3}`: "used: Write how much",
		`{"edit": 3, "used": [{"item": "latex", "quantity": "-1"}]}`: "used.latex: Write a number",
	} {
		if got := first(s.as(people.Helper, "POST", at+"/take", body).problem(422)); !strings.HasPrefix(got, says) {
			s.t.Errorf("%s: %s", body, got)
		}
	}
	taken := ""
	for _, m := range o.Materials {
		if m.Item == "contact" {
			taken = m.Taken.String()
		}
	}
	if taken != "0.05" {
		s.t.Errorf("%s l of adhesive taken: %+v", taken, o.Materials)
	}

	var m struct {
		Reckoned api.Measure
		Measured []api.Measure
	}
	s.as(people.Helper, "POST", at+"/measure", `{"width_mm": "598", "note": "by eye"}`).want(200, nil)
	s.as(people.Helper, "POST", at+"/measure", `{"width_mm": "601.5", "weight_kg": "0.81"}`).want(200, nil)
	s.as(people.Bookkeeper, "GET", at+"/measure", "").want(200, &m)
	if len(m.Measured) != 2 || m.Measured[0].Width.String() != "601.5" || m.Measured[0].By != "The helper" || m.Measured[0].Depth != nil || m.Measured[1].Note != "by eye" || m.Reckoned.Weight == nil {
		s.t.Errorf("%+v", m)
	}
	for body, says := range map[string]string{`{}`: "width_mm: Write at least one", `{"depth_mm": "x"}`: "depth_mm: Write a number", `{"weight_kg": "900"}`: "weight_kg: Write kg up to"} {
		if got := first(s.as(people.Helper, "POST", at+"/measure", body).problem(422)); !strings.HasPrefix(got, says) {
			s.t.Errorf("%s: %s", body, got)
		}
	}

	var a api.Actual
	s.as(people.Bookkeeper, "GET", at+"/actual", "").want(200, &a)
	if a.Planned.Sign() <= 0 || a.Rework.String() != "35" || a.Worked.Sign() != 0 || len(a.Groups) < 4 || len(a.Groups[0].Steps) == 0 || len(a.Reasons) == 0 || !strings.Contains(a.Reasons[0], "lifted at the point") {
		s.t.Errorf("%+v", a)
	}
	for _, use := range a.Materials {
		if use.Item == "contact" && (use.Taken.String() != "0.05" || use.Reckoned.Sign() <= 0 || use.Cost == "0.00") {
			s.t.Errorf("%+v", use)
		}
	}
}

// When a spec can be ready is asked without a page, and a date that cannot be met says why.
func TestDaysOfAnEstimate(t *testing.T) {
	s := open(t, api.MaxBody)
	latex := func(more string) string {
		return strings.TrimSuffix(round, "}") + `, "coat": {"system": "latex", "coats": 4}` + more + `}`
	}
	var free, late api.Fit
	s.owner("POST", "/estimate/days", latex("")).want(200, &free)
	if free.Ready <= "2026-03-05T10" || free.Ready != free.Empty || free.Late != "" || free.Impossible || free.Decides == "" {
		t.Errorf("%+v", free)
	}
	s.owner("POST", "/estimate/days", latex(`, "delivery": {"by": "2026-03-05"}`)).want(200, &late)
	if !late.Impossible || !strings.HasPrefix(late.Late, "Four coats of latex need ") || late.Ready != free.Ready {
		t.Errorf("%+v", late)
	}
	s.owner("POST", "/estimate/days", `{}`).problem(422)
}

func TestActualOfNoOrder(t *testing.T) {
	s := open(t, api.MaxBody)
	for _, id := range []string{nothing, never} {
		for _, door := range []string{"/actual", "/measure"} {
			s.owner("GET", "/orders/"+id+door, "").problem(404)
		}
		s.owner("POST", "/orders/"+id+"/measure", `{"width_mm": "1"}`).problem(404)
		s.owner("POST", "/orders/"+id+"/take", `{"edit": 1, "used": [{"item": "latex", "quantity": "1"}]}`).problem(404)
	}
}
