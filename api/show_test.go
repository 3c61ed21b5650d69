package api_test

import (
	"fmt"
	"strings"
	"testing"

	"foamwright/api"
)

// around goes through what happens around orders: an event, wearers, a parcel, a repair, and a shield sold at a show.
func (s *shop) around(customer, design string) {
	s.t.Helper()
	var e api.Event
	s.owner("POST", "/events", `{"name": "Fen Muster", "first": "2026-0-14"}`).problem(422)
	s.owner("POST", "/events", `{"name": "Fen Muster", "first": "2026-09-14", "last": "2026-09-16"}`).want(201, &e)
	s.owner("PUT", "/events/"+e.ID, fmt.Sprintf(`{"name": "Fen Muster", "place": "Harrowmouth", "first": "2026-09-14", "last": "2026-09-16", "edit": %d}`, e.Edit)).want(200, &e)
	s.owner("PUT", "/events/"+e.ID, `{"name": "Fen Muster", "first": "2026-09-14", "edit": 0}`).problem(409)
	s.owner("GET", "/events", "").want(200, nil)

	var q api.Quote
	var shown api.Estimate
	var o api.Order
	var g api.Group
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "title": "For the muster", "spec": %s}`, customer, round)).want(201, &q)
	s.owner("PUT", "/quotes/"+q.ID+"/event", fmt.Sprintf(`{"event": %q, "edit": %d}`, e.ID, q.Edit)).want(200, &q)
	if q.Spec.Delivery.By.Typed != "2026-09-13" {
		s.t.Errorf("%+v", q.Spec.Delivery)
	}
	s.owner("PUT", "/quotes/"+q.ID+"/wearers", `{"wearers": [{"name": "Ilse", "hand": "both"}]}`).problem(422)
	s.owner("PUT", "/quotes/"+q.ID+"/wearers", `{"pays": "Jonas", "wearers": [{"name": "Ilse", "hand": "left"}, {"name": "Jonas"}]}`).want(200, &g)
	s.owner("GET", "/quotes/"+q.ID+"/wearers", "").want(200, &g)
	if len(g.Wearers) != 2 || g.Warning == "" {
		s.t.Errorf("%+v", g)
	}
	s.owner("PUT", "/quotes/"+q.ID+"/wearers", fmt.Sprintf(`{"wearers": [{"no": %d, "name": "Ilse", "hand": "left"}]}`, g.Wearers[0].No)).want(200, &g)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &shown)
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, shown.Digest, shown.Price.Gross)).want(200, &q)
	s.owner("POST", "/quotes/"+q.ID+"/accept", `{"name": "Ilse"}`).want(200, &o)
	s.owner("POST", "/orders/"+o.ID+"/deposit", `{"day": "2026-03-05"}`).want(200, &o)
	s.owner("PUT", "/orders/"+o.ID+"/event", fmt.Sprintf(`{"event": %q, "edit": 0}`, e.ID)).want(204, nil)
	var h api.Handover
	s.owner("GET", "/events/"+e.ID+"/handover", "").want(200, &h)
	if len(h.Lines) != 1 || h.Lines[0].Left != 1 || strings.Join(h.Lines[0].Wearers, "") != "Ilse" || !(len(h.Open) > 4) {
		s.t.Errorf("%+v", h)
	}
	s.owner("POST", "/events/"+e.ID+"/handover", fmt.Sprintf(`{"day": "2026-03-05", "orders": [{"order": %q, "edit": %d}]}`, o.ID, h.Lines[0].Edit)).want(200, &h)
	if h.Lines[0].Left != 0 {
		s.t.Errorf("%+v", h)
	}
	s.owner("PUT", "/orders/"+o.ID+"/parcels/1", `{"carrier": "Ferry post", "insured": "25", "state": "sent"}`).problem(409) // it went at an event
	s.owner("GET", "/orders/"+o.ID+"/parcels", "").want(200, nil)
	s.owner("GET", "/orders/"+o.ID+"/photos", "").want(200, nil)
	s.owner("DELETE", "/photos/"+nothing, "").problem(404)
	s.answered["PUT /orders/{id}/parcels/{no}"], s.answered["DELETE /photos/{id}"] = true, true // what they do is tried in pricing/sales

	var r api.Repair
	s.owner("POST", "/repairs", fmt.Sprintf(`{"order": %q, "what": "Round"}`, o.ID)).problem(422)
	s.owner("POST", "/repairs", fmt.Sprintf(`{"order": %q, "what": "Round", "condition": "strap torn"}`, o.ID)).want(201, &r)
	s.owner("POST", "/repairs/"+r.ID+"/move", `{"state": "ready", "edit": 0}`).problem(409)
	s.owner("POST", "/repairs/"+r.ID+"/inspect", `{"findings": "re-glue it", "warranty": false, "edit": 0}`).want(200, &r)
	s.owner("POST", "/repairs/"+r.ID+"/quote", fmt.Sprintf(`{"edit": %d}`, r.Edit)).want(200, &q)
	s.owner("GET", "/repairs/"+r.ID, "").want(200, &r)
	if r.Quote != q.ID || r.FreeUntil == "" || *r.Warranty || q.Spec.Kind.Typed != "repair" {
		s.t.Errorf("%+v", r)
	}
	s.owner("POST", "/repairs/"+r.ID+"/move", fmt.Sprintf(`{"state": "given back", "edit": %d}`, r.Edit)).want(200, &r)
	s.owner("GET", "/repairs?over=true", "").want(200, nil)

	var list api.PriceList
	var ready struct{ Ready []api.ReadyShield }
	var sold api.Invoice
	s.owner("PUT", "/designs/"+design+"/price", `{"price": "-1"}`).problem(422)
	s.owner("PUT", "/designs/"+design+"/price", `{"price": "240"}`).want(204, nil)
	s.owner("GET", "/price-list?day=soon", "").problem(422)
	s.owner("GET", "/price-list?day=2026-03-05", "").want(200, &list)
	if len(list.List) != 1 || list.List[0].Price != "240.00" {
		s.t.Errorf("%+v", list)
	}
	s.owner("POST", "/ready", fmt.Sprintf(`{"design": %q, "count": 2, "cost": "98.5"}`, design)).want(201, &ready)
	one := "/ready/" + ready.Ready[0].ID
	s.owner("PUT", one, `{"place": "chest"}`).want(204, nil)
	s.owner("POST", one+"/sell", `{"way": "shells", "token": "at-the-show"}`).problem(422)
	s.owner("POST", one+"/sell", `{"way": "cash", "token": "at-the-show"}`).want(200, &sold)
	s.owner("POST", one+"/sell", `{"way": "cash", "token": "once-more"}`).problem(409)
	s.owner("GET", "/ready", "").want(200, &ready)
	if len(ready.Ready) != 1 || sold.Gross != "240.00" || sold.Payable != "0.00" {
		s.t.Errorf("%+v %+v", ready, sold)
	}
}

func TestAround(t *testing.T) {
	s := open(t, api.MaxUpload)
	var c api.Customer
	var d api.Design
	s.owner("POST", "/customers", `{"name": "Ilse"}`).want(201, &c)
	s.owner("POST", "/designs", `{"name": "Round", "spec": `+round+`}`).want(201, &d)
	s.around(c.ID, d.ID)
}
