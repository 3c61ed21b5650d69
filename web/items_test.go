package web_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/people"
)

// upload sends a file as a browser does.
func (v *visitor) upload(path, name string, data []byte, fields map[string]string) reply {
	v.t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	v.must(form.WriteField("csrf", v.csrf))
	for field, value := range fields {
		v.must(form.WriteField(field, value))
	}
	file, err := form.CreateFormFile("file", name)
	v.must(err)
	_, err = file.Write(data)
	v.must(err)
	v.must(form.Close())
	r := httptest.NewRequest(http.MethodPost, path, &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return v.send(r)
}

// catalogue is what the pages keep items in.
func (s *shop) catalogue() *stock.Catalogue { return stock.NewCatalogue(s.books.Catalogue(), time.Now) }

// line is an item as it is kept.
func (v *visitor) line(code string) stock.Line {
	v.t.Helper()
	line, err := v.catalogue().Line(v.t.Context(), code)
	v.must(err)
	return line
}

// The owner keeps items, packs, prices and suppliers by hand.
func TestCatalogueByHand(t *testing.T) {
	v := stocked(t).as(people.Owner)
	for _, words := range []string{"Contact adhesive", "solvent", "62.00", "Pastes and fillers", "colour-deep blue"} {
		if got := v.get("/stock/items").want(http.StatusOK).body; !strings.Contains(got, words) && !strings.Contains(got, strings.ToLower(words)) {
			t.Errorf("the catalogue does not say %q", words)
		}
	}
	if got := v.get("/stock/items?words=deep+blue").words(); !strings.Contains(got, "deep blue") || strings.Contains(got, "madder red") {
		t.Error(got)
	}
	v.get("/stock/items/colour-deep%20blue").want(http.StatusOK)
	v.get("/stock/items/nothing").want(http.StatusNotFound)

	who := v.post("/stock/suppliers/new", url.Values{"name": {"Quay Ropes"}, "lead_days": {"4"}}).to()
	supplier := strings.TrimSuffix(strings.TrimPrefix(who, "/stock/suppliers/"), "?kept=1")
	v.post("/stock/suppliers/"+supplier, url.Values{"name": {"Quay Ropes & Sons"}, "lead_days": {"5"}, "edit": {"1"}}).to()
	refused := v.post("/stock/suppliers/"+supplier, url.Values{"name": {"Quay Ropes Ltd"}, "lead_days": {"soon"}, "edit": {"1"}}).want(http.StatusUnprocessableEntity)
	if !strings.Contains(refused.words(), "whole number") || refused.fields()["name"] != "Quay Ropes Ltd" || refused.fields()["lead_days"] != "soon" {
		t.Error(refused.words())
	}
	if got := v.post("/stock/suppliers/"+supplier, url.Values{"name": {"x"}, "lead_days": {"4"}, "edit": {"1"}}).want(http.StatusUnprocessableEntity).words(); !strings.Contains(got, "meanwhile") {
		t.Error(got)
	}

	buckle := url.Values{"kind": {"good"}, "code": {"buckle"}, "name": {"Buckle 25 mm"}, "unit": {"pcs"}, "use": {""}, "mass": {"0.02"}, "least": {"4"}, "edit": {"0"}}
	if to := v.post("/stock/items/new", buckle).to(); to != "/stock/items/buckle?kept=1" {
		t.Error(to)
	}
	wrong := v.post("/stock/items/new", over(buckle, "code", "Buckle!", "mass", "1,5x")).want(http.StatusUnprocessableEntity)
	if got := wrong.words(); !strings.Contains(got, "no number") || wrong.fields()["code"] != "Buckle!" || wrong.fields()["mass"] != "1,5x" {
		t.Error(got)
	}
	if got := v.post("/stock/items/new", buckle).want(http.StatusUnprocessableEntity).words(); !strings.Contains(got, "already") {
		t.Error(got)
	}
	v.post("/stock/items/latex", url.Values{"edit": {"1"}, "name": {"Latex"}, "use": {"latex"}, "density_kg_l": {"0,95"}, "spread": {"0.13"}, "flags": {"latex", "oil"}, "warmest": {"25"}}).to()
	if i := v.line("latex").Item; len(i.Liquid.Flags) != 2 || i.Liquid.Density.String() != "0.95" || i.Climate.Coldest != nil || *i.Climate.Warmest != 25 || i.Place != 16 || i.SealedDays != 0 {
		t.Errorf("%+v %+v", i, i.Liquid)
	}
	v.post("/stock/items/filler", url.Values{"edit": {"1"}, "name": {"Sealant"}, "use": {"filler"}, "dry_hours": {"24"}, "sets": {"warmth"}, "unsanded": {"yes"}}).to()
	if i := v.line("filler").Item; !i.Liquid.Unsanded || i.Liquid.DryHours.String() != "24" || i.Liquid.Sets != "warmth" || v.get("/stock/items/filler").fields()["dry_hours"] != "24" {
		t.Errorf("%+v", i.Liquid)
	}

	pack := url.Values{"supplier": {supplier}, "pack": {"10"}, "amount": {"8,40"}, "from": {"2026-03-01"}, "usual": {"yes"}}
	if to := v.post("/stock/items/buckle/packs/new", pack).to(); to != "/stock/items/buckle?kept=1#packs" {
		t.Error(to)
	}
	if got := v.post("/stock/items/buckle/packs/new", over(pack, "pack", "0", "amount", "much", "from", "")).want(http.StatusUnprocessableEntity).words(); !strings.Contains(got, "Write from which day on") || !strings.Contains(got, "Write a number") {
		t.Error(got)
	}
	o := v.line("buckle").Offers[0]
	v.post("/stock/items/buckle/packs/"+o.ID+"/price", url.Values{"amount": {"8.90"}, "from": {"2026-04-01"}}).to()
	v.post("/stock/items/buckle/packs/"+o.ID+"/price", url.Values{"amount": {"-1"}, "from": {"2026-04-01"}}).want(http.StatusUnprocessableEntity)
	v.post("/stock/items/buckle/packs/"+o.ID, url.Values{"supplier": {supplier}, "pack": {"12"}, "edit": {"1"}, "retired": {"yes"}}).to()
	if o = v.line("buckle").Offers[0]; len(o.Prices) != 2 || o.Usual || !o.Retired || o.Pack.String() != "12" || o.Prices[0].By != "The owner" {
		t.Errorf("%+v", o)
	}
	page := v.get("/stock/items/buckle").want(http.StatusOK)
	for _, want := range []string{`class="line line-0" d="M`, "no longer sold", "8.90", "Quay Ropes &amp; Sons"} {
		if !strings.Contains(page.body, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
}

// A file is checked, brought in, or refused by row and column; what it says never becomes markup.
func TestCatalogueByFile(t *testing.T) {
	v := stocked(t).as(people.Owner)
	v.get("/stock/items").want(http.StatusOK)
	for _, kind := range []string{"items", "prices"} {
		file := v.get("/stock/" + kind + ".csv").want(http.StatusOK)
		if file.Header.Get("Content-Type") != "text/csv; charset=utf-8" || !strings.Contains(file.Header.Get("Content-Disposition"), kind+".csv") {
			t.Errorf("%v", file.Header)
		}
		v.get("/stock/items")
		if got := v.upload("/stock/items", kind+".csv", []byte(file.body), map[string]string{"kind": kind, "do": "keep"}).want(http.StatusOK).words(); !strings.Contains(got, "0 new, 0 changed") {
			t.Error(got)
		}
	}
	const head = "code,name,kind,unit\n"
	items := map[string]string{"kind": "items", "do": "check"}
	if got := v.upload("/stock/items", "a.csv", []byte(head+"buckle,Buckle,good,pcs\n"), items).want(http.StatusOK).words(); !strings.Contains(got, "1 new, 0 changed, 0 the same. Nothing was written") {
		t.Error(got)
	}
	v.get("/stock/items/buckle").want(http.StatusNotFound)
	v.get("/stock/items")
	items["do"] = "keep"
	bad := v.upload("/stock/items", "a.csv", []byte(head+"buckle,Buckle,good,pcs\nclasp,Clasp,good,<script>alert(1)</script>\n"), items).want(http.StatusUnprocessableEntity)
	if got := bad.words(); !strings.Contains(got, "row 3, unit") || !strings.Contains(got, "Write one of: pcs") || strings.Contains(bad.body, "<script>alert") {
		t.Error(got)
	}
	v.get("/stock/items/buckle").want(http.StatusNotFound)
	v.get("/stock/items")
	for what, file := range map[string][]byte{"nothing": nil, "no text": {0xff, 0xfe, 0}} {
		v.upload("/stock/items", "a.csv", file, items).want(http.StatusUnprocessableEntity)
		if got := v.get("/stock/items").words(); strings.Contains(got, "buckle") {
			t.Errorf("%s: %s", what, got)
		}
	}
	v.upload("/stock/items", "a.csv", []byte(head+"buckle,=Buckle,good,pcs\n"), items).want(http.StatusOK)
	if i := v.line("buckle").Item; i.Name != "=Buckle" {
		t.Errorf("%+v", i)
	}
	if got := v.get("/stock/items.csv").body; !strings.Contains(got, "buckle,'=Buckle,good") {
		t.Error("a formula goes out")
	}
}

// The bookkeeper reads prices and changes nothing; the helper does not see them.
func TestWhoSeesPrices(t *testing.T) {
	s := stocked(t)
	bookkeeper, helper := s.as(people.Bookkeeper), s.as(people.Helper)
	list, err := s.catalogue().List(t.Context())
	s.must(err)
	for _, path := range []string{"/stock/items", "/stock/items/latex", "/stock/items.csv", "/stock/prices.csv", "/stock/suppliers", "/stock/suppliers/" + list.Suppliers[0].ID} {
		if got := bookkeeper.get(path).want(http.StatusOK).body; strings.Contains(got, `method="post" action="/stock`) {
			t.Errorf("%s has a form for the bookkeeper", path)
		}
		helper.get(path).want(http.StatusForbidden)
	}
	for _, path := range []string{"/stock/items", "/stock/items/latex", "/stock/items/latex/packs/new", "/stock/suppliers/new"} {
		bookkeeper.post(path, url.Values{}).want(http.StatusForbidden)
		helper.post(path, url.Values{}).want(http.StatusForbidden)
	}
}

// A name that is markup stays a name on every page of the catalogue.
func TestCatalogueNamesNeverBecomeMarkup(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	supplier, err := s.catalogue().KeepSupplier(t.Context(), stock.Supplier{Name: hostile, Note: hostile})
	s.must(err)
	latex := s.as(people.Owner).line("latex")
	latex.Item.Name, latex.Item.Liquid.Colour = hostile[:60], hostile[:50]
	_, err = s.catalogue().KeepItem(t.Context(), latex.Item)
	s.must(err)
	_, err = s.catalogue().KeepPack(t.Context(), stock.Offer{Item: "latex", Supplier: supplier.ID, Pack: latex.Offers[0].Pack, Article: hostile[:50]}, stock.Price{From: time.Now(), Amount: latex.Offers[0].Pack}, hostile)
	s.must(err)
	for _, path := range []string{"/stock/items", "/stock/items/latex", "/stock/suppliers", "/stock/suppliers/" + supplier.ID, "/stock/items?words=" + url.QueryEscape(hostile)} {
		a := v.get(path).want(http.StatusOK)
		for _, raw := range []string{"<script>alert", "<img", "ZgotmplZ"} {
			if strings.Contains(a.body, raw) {
				t.Errorf("%s holds %s", path, raw)
			}
		}
	}
}
