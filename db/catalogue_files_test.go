package db_test

import (
	"strings"
	"testing"
	"time"

	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// The files of one workshop make the same catalogue in another, and change nothing where they came from.
func TestFilesCarryACatalogue(t *testing.T) {
	t.Parallel()
	from, to := dbtest.New(t), dbtest.New(t)
	began(t, from)
	source := stock.NewCatalogue(from.Catalogue(), func() time.Time { return march })
	target := stock.NewCatalogue(to.Catalogue(), func() time.Time { return march })
	must := func(out any, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	items, err := source.ItemsCSV(t.Context())
	must(items, err)
	prices, err := source.PricesCSV(t.Context())
	must(prices, err)
	same, err := source.ImportItems(t.Context(), items, false)
	if must(same, err); len(same.Added)+len(same.Changed) > 0 || same.Same != 51 {
		t.Errorf("%+v", same)
	}
	same, err = source.ImportPrices(t.Context(), prices, "Wren", false)
	if must(same, err); len(same.Added)+len(same.Changed) > 0 || same.Same == 0 {
		t.Errorf("%+v", same)
	}
	if n := value[int](t, from, "SELECT max(edit) FROM (SELECT edit FROM item UNION ALL SELECT edit FROM offer UNION ALL SELECT edit FROM supplier) e"); n != 1 {
		t.Error("importing what is there counts as a change")
	}
	if _, err := target.ImportPrices(t.Context(), prices, "Wren", false); fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "no such item") {
		t.Error(err)
	}
	said, err := target.ImportItems(t.Context(), items, true)
	if must(said, err); len(said.Added) != 51 || value[int](t, to, "SELECT count(*)::int FROM item") != 0 {
		t.Errorf("a check of %d wrote", len(said.Added))
	}
	_, err = target.ImportItems(t.Context(), items, false)
	must(nil, err)
	_, err = target.ImportPrices(t.Context(), prices, "Wren", false)
	must(nil, err)
	items2, err := target.ItemsCSV(t.Context())
	must(items2, err)
	prices2, err := target.PricesCSV(t.Context())
	must(prices2, err)
	if string(items2) != string(items) || string(prices2) != string(prices) {
		t.Error("the copy is not the same")
	}
}

// A file with one bad row changes nothing; a file of a few columns changes those.
func TestNothingIsHalfImported(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	began(t, d)
	c := stock.NewCatalogue(d.Catalogue(), func() time.Time { return march })
	before, err := c.ItemsCSV(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	const head = "code,name,kind,unit,buy when below\n"
	if _, err := c.ImportItems(t.Context(), []byte(head+"mat-10,Mat 10 mm thick,foam,pcs,9\nmat-12,Mat 12 mm,foam,pcs,-1\n"), false); fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "row 3, buy when below") {
		t.Error(err)
	}
	if after, err := c.ItemsCSV(t.Context()); err != nil || string(after) != string(before) {
		t.Error("something was kept", err)
	}
	out, err := c.ImportItems(t.Context(), []byte(head+"mat-10,Mat 10 mm thick,foam,pcs,9\nbuckle,Buckle,good,pcs,\n"), false)
	if err != nil || strings.Join(out.Changed, " ") != "mat-10" || strings.Join(out.Added, " ") != "buckle" {
		t.Fatal(err, out)
	}
	line, err := c.Line(t.Context(), "mat-10")
	if err != nil || line.Item.Name != "Mat 10 mm thick" || line.Item.Foam.Name != line.Item.Name || line.Item.Foam.Width.MM() != 550 || line.Item.Place != 1 || !line.Item.Least.Equal(num("9")) {
		t.Error(err, line)
	}
	// A price of a day that is priced already is the last word; the history keeps both.
	prices := "supplier,item,pack,usual,valid from,price\nHarrow Chandlery,contact,5,,2026-03-05,64\nHarrow Chandlery,contact,0.75,yes,2026-03-05,13\n"
	for range 2 {
		if out, err = c.ImportPrices(t.Context(), []byte(prices), "Wren", false); err != nil {
			t.Fatal(err)
		}
	}
	prices = strings.Replace(prices, "64", "65", 1)
	if out, err = c.ImportPrices(t.Context(), []byte(prices), "Wren", false); err != nil || len(out.Added) != 0 || len(out.Changed) != 1 || out.Same != 4 {
		t.Errorf("%v %+v", err, out)
	}
	line, err = c.Line(t.Context(), "contact")
	if err != nil || !line.Offers[0].Usual || !line.Offers[0].Pack.Equal(num("0.75")) {
		t.Fatal(err, line.Offers)
	}
	for _, o := range line.Offers {
		if o.Pack.Equal(num("5")) && (o.Usual || len(o.Prices) != 5 || !o.Prices[0].Amount.Equal(num("65")) || !o.Prices[1].Amount.Equal(num("64")) || o.Prices[0].By != "Wren") {
			t.Errorf("%+v", o)
		}
	}
}

// Ten thousand rows come in well within the time a request has.
func BenchmarkImport(b *testing.B) {
	for b.Loop() {
		d := dbtest.New(b)
		began(b, d)
		var file strings.Builder
		if err := stock.WriteItems(&file, big(10_000).Items); err != nil {
			b.Fatal(err)
		}
		if out, err := stock.NewCatalogue(d.Catalogue(), time.Now).ImportItems(b.Context(), []byte(file.String()), false); err != nil || len(out.Added) == 0 {
			b.Fatal(err)
		}
	}
}
