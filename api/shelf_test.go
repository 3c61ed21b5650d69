package api_test

import (
	"fmt"
	"testing"

	"foamwright/api"
	"foamwright/pricing/people"
)

// fromShelf goes through everything that begins with an accepted quote: short of latex, bought, come, paid, made.
func (s *shop) fromShelf(quote api.Quote) {
	s.t.Helper()
	var lot api.Lot
	s.owner("POST", "/stock/receipts", `{"item": "latex", "quantity": "0.1", "cost": "1.45", "label": "the last of it", "best_before": "2026-06-01"}`).want(201, &lot)
	if lot.Left.String() != "0.1" || lot.BestBefore != "2026-06-01" || lot.Offcut {
		s.t.Errorf("%+v", lot)
	}
	var o, again api.Order
	s.owner("POST", "/quotes/"+quote.ID+"/accept", `{}`).want(200, &o)
	s.owner("POST", "/quotes/"+quote.ID+"/accept", `{}`).want(200, &again)
	if o.ID != again.ID || o.State != "accepted" || o.Number.Text != "1 of 2026" || len(o.Materials) == 0 || o.DepositDue != "2026-03-12" {
		s.t.Errorf("%+v", o)
	}
	var orders struct{ Orders []api.Order }
	s.as(people.Bookkeeper, "GET", "/orders", "").want(200, &orders)
	if len(orders.Orders) != 1 || orders.Orders[0].Materials != nil {
		s.t.Errorf("%+v", orders)
	}
	s.owner("PUT", "/orders/"+o.ID+"/start", `{"day": "2026-03-23"}`).want(200, &o)
	s.owner("PUT", "/orders/"+o.ID+"/start", `{"day": "soon"}`).problem(422)
	s.owner("POST", "/orders/"+o.ID+"/deposit", `{"day": "2026-03-05"}`).want(200, &o)
	if o.State != "booked" || o.Paid != "2026-03-05" || o.Starts != "2026-03-23" {
		s.t.Errorf("%+v", o)
	}
	for _, m := range o.Materials {
		if !m.Needed.Equal(m.SetAside.Add(m.Short)) || m.SetAside.Sign() > 0 && m.Item != "latex" {
			s.t.Errorf("%+v", m)
		}
	}

	var list struct {
		Suppliers []api.ToBuy
		Nobody    []string `json:"nobody_sells"`
	}
	s.as(people.Bookkeeper, "GET", "/buying", "").want(200, &list)
	for body, field := range map[string]string{
		`{"packs": [{"offer": 3, "packs": "2"}]}`:   "packs.0.offer",
		`{"packs": [{"offer": "x", "packs": 1.5}]}`: "packs.0.packs",
		`{"packs": [{"pack": 1}]}`:                  "packs.0.pack",
		`{"packs": [7]}`:                            "packs.0",
		`{"packs": {}}`:                             "packs",
	} {
		if b := s.owner("POST", "/purchases", body).problem(422); len(b.Problems) == 0 || b.Problems[0].Field != field {
			s.t.Errorf("%s: %+v", body, b.Problems)
		}
	}
	for _, from := range list.Suppliers {
		packs, came := "", ""
		for _, l := range from.Lines {
			for _, p := range l.Packs {
				packs += fmt.Sprintf(`,{"offer": %q, "packs": %d}`, p.Offer, p.Packs)
				came += fmt.Sprintf(`,{"offer": %q, "packs": %d, "price": %q}`, p.Offer, p.Packs, p.Price)
			}
		}
		var p api.Purchase
		s.owner("POST", "/purchases", fmt.Sprintf(`{"supplier": %q, "packs": [%s]}`, from.Supplier, packs[1:])).want(201, &p)
		s.owner("POST", "/purchases/"+p.ID+"/arrivals", fmt.Sprintf(`{"came": [%s]}`, came[1:])).want(200, &p)
		s.owner("POST", "/purchases/"+p.ID+"/arrivals", fmt.Sprintf(`{"came": [%s]}`, came[1:])).problem(409)
		s.as(people.Bookkeeper, "GET", "/purchases/"+p.ID, "").want(200, &p)
		if !p.Closed {
			s.t.Errorf("%+v", p)
		}
	}
	var purchases struct{ Purchases []api.Purchase }
	s.as(people.Bookkeeper, "GET", "/purchases", "").want(200, &purchases)
	if len(list.Suppliers) == 0 || len(purchases.Purchases) != len(list.Suppliers) || len(list.Nobody) > 0 {
		s.t.Errorf("%d suppliers, %d purchases, nobody sells %v", len(list.Suppliers), len(purchases.Purchases), list.Nobody)
	}
	s.as(people.Bookkeeper, "GET", "/buying", "").want(200, &list)
	s.owner("GET", "/orders/"+o.ID, "").want(200, &o)
	for _, m := range o.Materials {
		if m.Short.Sign() != 0 {
			s.t.Errorf("still short after everything came: %+v", m)
		}
	}

	s.as(people.Helper, "POST", "/stock/waste", `{"item": "blade", "quantity": "1", "reason": "rusty"}`).want(204, nil)
	var shelf struct{ Items []api.Shelf }
	s.as(people.Bookkeeper, "GET", "/stock?words=blade", "").want(200, &shelf)
	before := shelf.Items[0].OnHand
	var posted struct{ Posted int }
	s.as(people.Helper, "POST", "/stock/counts", fmt.Sprintf(`{"found": [{"item": "blade", "expected": %q, "found": "2", "why": "in the drawer"}]}`, before)).want(200, &posted)
	s.as(people.Helper, "POST", "/stock/counts", fmt.Sprintf(`{"found": [{"item": "blade", "expected": %q, "found": "3", "why": "again"}]}`, before)).problem(422)
	if posted.Posted != 1 {
		s.t.Errorf("%+v", posted)
	}
	var cut struct{ Foams []api.CutFoam }
	s.as(people.Helper, "GET", "/orders/"+o.ID+"/cutting", "").want(200, &cut)
	if len(cut.Foams) != 1 || cut.Foams[0].Done || cut.Foams[0].Opened == 0 || len(cut.Foams[0].Pieces) == 0 {
		s.t.Errorf("%+v", cut)
	}
	s.as(people.Helper, "POST", "/orders/"+o.ID+"/cutting", `{"foam": "mat-10", "digest": "x"}`).problem(409)
	s.as(people.Helper, "POST", "/orders/"+o.ID+"/cutting", `{"foam": "mat-99", "digest": "x"}`).problem(404)
	var done api.CutFoam
	s.as(people.Helper, "POST", "/orders/"+o.ID+"/cutting", fmt.Sprintf(`{"foam": "mat-10", "digest": %q}`, cut.Foams[0].Digest)).want(200, &done)
	var kept struct{ Offcuts []api.Offcut }
	s.as(people.Helper, "GET", "/offcuts", "").want(200, &kept)
	if !done.Done || len(kept.Offcuts) != done.Keeps {
		s.t.Errorf("%+v, kept %+v", done, kept)
	}
	s.logsTime(o.ID)
	s.atTheBench(o.ID)
	s.owner("POST", "/orders/"+o.ID+"/finish", `{"used": [{"item": "latex", "quantity": "9000"}]}`).problem(422)
	s.owner("POST", "/orders/"+o.ID+"/finish", `{"used": [{"item": "mat-10", "quantity": "1"}]}`).want(200, &o)
	s.owner("POST", "/orders/"+o.ID+"/cancel", `{"reason": "changed their mind"}`).problem(409)
	s.owner("POST", "/stock/returns", fmt.Sprintf(`{"item": "mat-10", "order": %q, "quantity": "99"}`, o.ID)).problem(422)
	s.owner("POST", "/stock/returns", fmt.Sprintf(`{"item": "mat-10", "order": %q, "quantity": "1", "note": "was not cut"}`, o.ID)).want(204, nil)
	var tin struct {
		api.Shelf
		Lots []api.Lot
	}
	s.as(people.Helper, "PUT", "/stock/lots/"+lot.ID, `{"label": "blue lid", "opened": "2026-03-04", "best_before": "soon"}`).problem(422)
	s.as(people.Helper, "PUT", "/stock/lots/"+lot.ID, `{"label": "blue lid", "opened": "2026-03-04"}`).want(204, nil)
	s.as(people.Helper, "PUT", "/stock/lots/"+o.ID, `{"label": "blue lid"}`).problem(404)
	s.as(people.Bookkeeper, "GET", "/stock/latex", "").want(200, &tin)
	if tin.Lots[0].ID != lot.ID || tin.Lots[0].Label != "blue lid" || tin.Lots[0].Opened != "2026-03-04" || tin.Lots[0].BestBefore != "" {
		s.t.Errorf("%+v", tin.Lots)
	}
	if o.State != "done" || len(o.Materials) != 2 || o.Materials[0].Taken.IsZero() {
		s.t.Errorf("%+v", o)
	}
	var card struct {
		api.Shelf
		Movements []api.Moved
	}
	s.as(people.Bookkeeper, "GET", "/stock/mat-10", "").want(200, &card)
	if len(card.Movements) < 2 || card.Movements[0].Kind != "return" || card.Movements[1].Kind != "issue" || card.Movements[0].Order != o.ID || card.Promised.Sign() != 0 {
		s.t.Errorf("%+v", card)
	}
}

// A cancelled order gives free what was set aside for it.
func TestCancelledOrder(t *testing.T) {
	s := open(t, api.MaxBody)
	var c api.Customer
	var q api.Quote
	var e api.Estimate
	s.owner("POST", "/customers", `{"name": "Jonas"}`).want(201, &c)
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "spec": %s}`, c.ID, round)).want(201, &q)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &e)
	s.owner("POST", "/quotes/"+q.ID+"/accept", `{}`).problem(409)
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, e.Digest, e.Price.Gross)).want(200, &q)
	s.owner("POST", "/stock/receipts", `{"item": "mat-10", "quantity": "20", "cost": "72"}`).want(201, nil)
	var o api.Order
	s.owner("POST", "/quotes/"+q.ID+"/accept", `{}`).want(200, &o)
	var card api.Shelf
	s.owner("GET", "/stock/mat-10", "").want(200, &card)
	if card.Promised.Sign() <= 0 {
		t.Errorf("%+v", card)
	}
	s.owner("POST", "/orders/"+o.ID+"/cancel", `{"reason": " "}`).problem(422)
	s.owner("POST", "/orders/"+o.ID+"/cancel", `{"reason": "the event is off"}`).want(200, &o)
	s.owner("GET", "/stock/mat-10", "").want(200, &card)
	if o.State != "cancelled" || o.Reason != "the event is off" || card.Promised.Sign() != 0 || card.Free.String() != "20" {
		t.Errorf("%+v %+v", o, card)
	}
}

// A declined quote keeps its reason; it is not accepted after that, but a new version of it can be made.
func TestDeclinedQuote(t *testing.T) {
	s := open(t, api.MaxBody)
	var c api.Customer
	var q, next api.Quote
	var e api.Estimate
	s.owner("POST", "/customers", `{"name": "Jonas"}`).want(201, &c)
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "spec": %s}`, c.ID, round)).want(201, &q)
	s.owner("POST", "/quotes/"+q.ID+"/decline", `{"reason": "too dear"}`).problem(409)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &e)
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, e.Digest, e.Price.Gross)).want(200, &q)
	s.owner("POST", "/quotes/"+q.ID+"/decline", `{"name": "Jonas", "reason": "too dear"}`).want(200, &q)
	s.owner("POST", "/quotes/"+q.ID+"/decline", `{"reason": "twice"}`).want(200, &q)
	if q.State != "declined" {
		t.Errorf("%+v", q)
	}
	s.owner("POST", "/quotes/"+q.ID+"/accept", `{}`).problem(409)
	s.owner("POST", "/quotes/"+q.ID+"/revise", "").want(200, &next)
	if next.State != "draft" || next.Version != 2 {
		t.Errorf("%+v", next)
	}
}
