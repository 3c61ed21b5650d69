package api_test

import (
	"fmt"
	"strings"

	"foamwright/api"
	"foamwright/materials/stock"
)

// catalogue goes once through everything the API can do with items, suppliers and prices.
func (s *shop) catalogue() {
	t := s.t
	var list struct{ Items []api.Item }
	s.owner("GET", "/items?words=deep+blue", "").want(200, &list)
	if len(list.Items) != 1 || list.Items[0].Code != "colour-deep blue" || list.Items[0].UnitCode != "LTR" || list.Items[0].Section != "paints" {
		t.Errorf("%+v", list)
	}
	var i, changed api.Item
	s.owner("GET", "/items/mat-10", "").want(200, &i)
	if i.Name != "Mat 10 mm" || i.Thickness != "10" || i.Form != "mat" || i.Edit != 1 {
		t.Errorf("%+v", i)
	}
	s.owner("PUT", "/items/buckle", `{"name": "Buckle", "kind": "good", "unit": "H87", "mass": "0.02"}`).want(200, &i)
	if i.Code != "buckle" || i.Unit != "pcs" || i.Mass != "0.02" || i.Edit != 1 {
		t.Errorf("%+v", i)
	}
	s.owner("PUT", "/items/buckle", `{"name": "Buckle 25 mm", "kind": "good", "unit": "pcs", "edit": 1}`).want(200, &changed)
	if changed.Edit != 2 || changed.Name != "Buckle 25 mm" || changed.Mass != "" {
		t.Errorf("%+v", i)
	}
	s.owner("PUT", "/items/buckle", `{"name": "Buckle", "kind": "good", "unit": "pcs", "edit": 1}`).problem(409)
	s.owner("PUT", "/items/buckle", `{"name": "Buckle", "kind": "good", "unit": "pcs"}`).problem(409)
	if p := s.owner("PUT", "/items/buckle", `{"name": "Buckle", "kind": "good", "unit": "m", "edit": 2}`).problem(422).Problems; len(p) != 1 || p[0].Field != "unit" {
		t.Errorf("%+v", p)
	}
	if p := s.owner("PUT", "/items/buckle", `{"name": "", "kind": "good", "unit": "pcs", "solids": "4", "mass": "much", "edit": 2}`).problem(422).Problems; len(p) != 3 || p[0].Field != "solids" || p[1].Field != "mass" || p[2].Field != "name" {
		t.Errorf("%+v", p)
	}
	s.owner("GET", "/items/nothing", "").problem(404)

	var suppliers struct{ Suppliers []api.Supplier }
	var who api.Supplier
	s.owner("POST", "/suppliers", `{"name": "Quay Ropes", "lead_days": 4}`).want(201, &who)
	s.owner("PUT", "/suppliers/"+who.ID, `{"name": "Quay Ropes", "lead_days": 5, "edit": 1}`).want(200, &who)
	s.owner("PUT", "/suppliers/"+who.ID, `{"name": "Quay Ropes", "lead_days": 5}`).problem(422)
	s.owner("GET", "/suppliers/"+who.ID, "").want(200, &who)
	s.owner("GET", "/suppliers", "").want(200, &suppliers)
	if who.Edit != 2 || *who.LeadDays != 5 || len(suppliers.Suppliers) != 4 {
		t.Errorf("%+v", suppliers)
	}
	var o api.Offer
	s.owner("POST", "/items/buckle/offers", fmt.Sprintf(`{"supplier": %q, "pack": "10", "usual": true}`, who.ID)).want(201, &o)
	s.owner("POST", "/items/buckle/offers/"+o.ID+"/prices", `{"from": "2026-03-01", "amount": "8.40"}`).want(200, &o)
	s.owner("POST", "/items/buckle/offers/"+o.ID+"/prices", `{"from": "soon", "amount": "8,40"}`).problem(422)
	s.owner("PUT", "/items/buckle/offers/"+o.ID, fmt.Sprintf(`{"supplier": %q, "pack": "12", "edit": 1}`, who.ID)).want(200, &o)
	if o.Pack != "12" || o.Usual || len(o.Prices) != 1 || o.Prices[0].Amount != "8.4" || o.Prices[0].By != "The owner" {
		t.Errorf("%+v", o)
	}
	var offers struct{ Offers []api.Offer }
	s.owner("GET", "/items/buckle/offers", "").want(200, &offers)
	if len(offers.Offers) != 1 {
		t.Errorf("%+v", offers)
	}

	csv := []string{"Content-Type", "text/csv; charset=utf-8"}
	for _, file := range []string{"/items.csv", "/prices.csv"} {
		text := s.owner("GET", file, "").want(200, nil)
		if !strings.HasPrefix(text.Header.Get("Content-Type"), "text/csv") || !strings.Contains(text.Header.Get("Content-Disposition"), file[1:]) {
			t.Errorf("%v", text.Header)
		}
		var out api.Imported
		s.owner("PUT", file+"?check=true", text.body, csv...).want(200, &out)
		if len(out.Added)+len(out.Changed) > 0 || out.Same < 40 || !out.Checked {
			t.Errorf("%s: %+v", file, out)
		}
		s.owner("PUT", file, text.body, csv...).want(200, &out)
		s.owner("PUT", file, "{}").problem(415)
		s.owner("PUT", file, "", csv...).problem(422)
		s.owner("PUT", file, strings.Repeat("x", stock.MaxCSV+1), csv...).problem(413)
	}
	if p := s.owner("PUT", "/items.csv", "code,name,kind,unit\nbuckle,Buckle,good,gallon\n", csv...).problem(422).Problems; len(p) != 1 || p[0].Field != "row 2, unit" || p[0].Value != "gallon" {
		t.Errorf("%+v", p)
	}
}
