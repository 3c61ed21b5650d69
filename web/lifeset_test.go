package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// What a price includes of drawings, what is kept of a cancelled order and how long is mended free are settings like
// the others: kept, refused beside their entries, and left alone by a form without them.
func TestTheTermsOfOrdersAreSettings(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	page := owner.get("/workshop").want(http.StatusOK)
	page.says("of drawings to approve, usually 2", "usually 10 to 50; local law comes first", "after the last hand-over, usually 90")
	send := func(changes map[string]string) reply {
		fields := url.Values{}
		for name, value := range owner.get("/workshop").fields() {
			fields.Set(name, value)
		}
		for name, value := range changes {
			if fields.Set(name, value); value == "-" {
				fields.Del(name)
			}
		}
		return owner.post("/workshop", fields)
	}
	for name, typed := range map[string]string{"rounds": "21", "kept_before": "101", "warranty_days": "3651"} {
		a := send(map[string]string{name: typed}).want(http.StatusUnprocessableEntity)
		if a.fields()[name] != typed {
			t.Errorf("%s: what was typed is gone", name)
		}
	}
	send(map[string]string{"rounds": "many"}).want(http.StatusUnprocessableEntity).says("whole number")
	send(map[string]string{"rounds": "3", "kept_before": "40", "warranty_days": "120"}).want(http.StatusSeeOther)
	send(map[string]string{"rounds": "-", "kept_before": "-", "warranty_days": "-"}).want(http.StatusSeeOther)
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	if w.Rounds != 3 || w.KeptBefore.String() != "0.4" || w.WarrantyDays != 120 {
		t.Errorf("%d %s %d", w.Rounds, w.KeptBefore, w.WarrantyDays)
	}
}

// Whoever is not the owner neither offers, answers, shows, hands over nor cancels.
func TestOnlyTheOwnerActsOnTheLifeOfAnOrder(t *testing.T) {
	s := stocked(t)
	o, _ := s.ordered()
	s.offered(s.as(people.Owner), o, "12", "Twelve studs")
	at := "/orders/" + o.ID
	for _, role := range people.Roles() {
		if role == people.Owner {
			continue
		}
		v := s.as(role)
		for path, fields := range map[string]url.Values{
			"/change": {"do": {"offer"}}, "/change/live": {}, "/changes/1": {"do": {"accepted"}}, "/drawings": {"note": {"x"}}, "/drawings/1": {"verdict": {"approved"}},
			"/deliver": {"pieces": {"1"}}, "/cancel": {"reason": {"x"}},
		} {
			v.post(at+path, fields).want(http.StatusForbidden)
		}
		v.get(at + "/change").want(http.StatusForbidden)
		v.get(at + "/papers/confirmation/1.pdf").want(http.StatusForbidden)
		v.get(at).want(http.StatusOK).lacks("Cancel the order", "Show the drawing")
	}
	life, err := s.sales.Life(t.Context(), o.ID)
	s.must(err)
	if len(life.Rounds) != 0 || life.Changes[0].State != "offered" {
		t.Errorf("%+v", life)
	}
	if to := s.visit().post(at+"/drawings", nil).to(); !strings.HasPrefix(to, "/sign-in") {
		t.Error(to)
	}
	owner := s.as(people.Owner)
	owner.post(at+"/drawings", url.Values{"csrf": {"forged"}}).want(http.StatusForbidden)
	owner.post(at+"/changes/1", url.Values{"do": {"perhaps"}}).want(http.StatusUnprocessableEntity).says("Choose what became")
	owner.post(at+"/changes/x", url.Values{"do": {"accepted"}}).want(http.StatusNotFound)
	owner.post(at+"/drawings/4", url.Values{"verdict": {"approved"}}).want(http.StatusNotFound)
	owner.post("/orders/none/changes/1", url.Values{"do": {"accepted"}}).want(http.StatusNotFound)
	a := owner.post(at+"/change", url.Values{"do": {"offer"}, "studs": {"x"}, "edit": {"0"}, "label": {"Kept <b>words</b>"}}).want(http.StatusUnprocessableEntity)
	if a.fields()["label"] != "Kept <b>words</b>" {
		t.Error("what was typed is gone")
	}
}
