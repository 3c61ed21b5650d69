package db_test

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/db/migrations"
	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/shopspring/decimal"
)

var march = time.Date(2026, 3, 5, 10, 0, 0, 0, time.UTC)

func num(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// began is a database that the demo's workshop began in.
func began(t testing.TB, d *db.DB) (*sales.Service, workshop.Workshop) {
	t.Helper()
	w, err := demo.Workshop(march)
	if err != nil {
		t.Fatal(err)
	}
	s := sales.NewService(d.Sales(), nil, func() time.Time { return march })
	if err := s.Begin(t.Context(), w, demo.Stock(march)); err != nil {
		t.Fatal(err)
	}
	return s, w
}

// catalogue runs an act that must succeed.
func catalogue(t testing.TB, d *db.DB, act func(context.Context, stock.CatalogueTx) error) {
	t.Helper()
	if err := tried(t, d, act); err != nil {
		t.Fatal(err)
	}
}

func tried(t testing.TB, d *db.DB, act func(context.Context, stock.CatalogueTx) error) error {
	return d.Catalogue().ActOnCatalogue(t.Context(), func(tx stock.CatalogueTx) error { return act(t.Context(), tx) })
}

// asJSON is how snapshots are written and compared.
func asJSON(t testing.TB, v any) string {
	t.Helper()
	text, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What was listed comes back, and estimates get the same figures as from memory, to the byte.
func TestCatalogueComesBack(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	s, first := began(t, d)
	want := demo.Stock(march)
	got, err := stock.NewCatalogue(d.Catalogue(), time.Now).List(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for i := range want.Items {
		want.Items[i].Edit = 1
	}
	if diff := cmp.Diff(asJSON(t, want.Items), asJSON(t, got.Items)); diff != "" {
		t.Error(diff)
	}
	if len(got.Offers) != len(want.Offers) || len(got.Suppliers) != 3 || got.Suppliers[0].Name != "Cinder Lane Colours" {
		t.Errorf("%d offers of %+v", len(got.Offers), got.Suppliers)
	}
	w, err := s.Workshop(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(asJSON(t, first.Figures.Catalogue), asJSON(t, w.Figures.Catalogue)) + cmp.Diff(asJSON(t, first.Figures.Prices), asJSON(t, w.Figures.Prices)); diff != "" {
		t.Error(diff)
	}
	if n := value[int](t, d, "SELECT count(*)::int FROM balance WHERE currency = 'EUR'"); n != len(want.Items) {
		t.Errorf("%d balances of %d items", n, len(want.Items))
	}
	if body := value[string](t, d, "SELECT body::text FROM workshop"); strings.Contains(body, "mat-10") {
		t.Error("the settings still hold the catalogue")
	}
	if again := s.Begin(t.Context(), first, want); again != nil {
		t.Error(again)
	}
}

// A database of the version before has catalogue and prices in its settings.
func TestOldSettingsBecomeACatalogue(t *testing.T) {
	t.Parallel()
	url := dbtest.URL(t)
	d, err := db.Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	run(t, d, `DROP SCHEMA public CASCADE`, `CREATE SCHEMA public`)
	config, err := pgx.ParseConfig(url)
	if err != nil {
		t.Fatal(err)
	}
	plain := stdlib.OpenDB(*config)
	defer plain.Close()
	old, err := goose.NewProvider(goose.DialectPostgres, plain, migrations.FS(), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := old.UpTo(t.Context(), 3); err != nil {
		t.Fatal(err)
	}
	w, err := demo.Workshop(march)
	if err != nil {
		t.Fatal(err)
	}
	// An item that is priced twice, with more places than the tables keep, and a price of nothing that is listed.
	odd := w
	odd.Figures.Prices = append(append([]pricing.Price{}, w.Figures.Prices...), w.Figures.Prices[0], pricing.Price{Item: "gone", Amount: num("1"), Pack: num("1")})
	body := asJSON(t, odd)
	err = d.Act(t.Context(), func(tx pgx.Tx) error {
		_, err := tx.Exec(t.Context(), "INSERT INTO workshop (body, changed) VALUES ($1, $2)", body, march)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Migrate(t.Context()); err != nil {
		t.Fatal(err)
	}
	now := sales.NewService(d.Sales(), nil, func() time.Time { return march })
	got, err := now.Workshop(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(asJSON(t, w.Figures), asJSON(t, got.Figures)); diff != "" {
		t.Error(diff)
	}
	line, err := stock.NewCatalogue(d.Catalogue(), time.Now).Line(t.Context(), "contact")
	if err != nil || len(line.Offers) != 1 {
		t.Fatal(err, line)
	}
	if o := line.Offers[0]; !o.Usual || !o.Pack.Equal(num("5")) || len(o.Prices) != 1 || !o.Prices[0].Amount.Equal(num("62")) || !o.Prices[0].From.Equal(stock.Day(march)) || line.Item.Unit != measure.Litre {
		t.Errorf("%+v", o)
	}
	if n := value[int](t, d, "SELECT count(*)::int FROM balance"); n != len(demo.Stock(march).Items) {
		t.Errorf("%d balances", n)
	}
}

func good(code string) stock.Item {
	return stock.Of(materials.Good{Code: code, Name: "Buckle", Unit: measure.Each})
}

func TestKeepingItems(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	began(t, d)
	c := stock.NewCatalogue(d.Catalogue(), func() time.Time { return march })
	kept, err := c.KeepItem(t.Context(), good("buckle"))
	if err != nil || kept.Edit != 1 || kept.Place != len(demo.Stock(march).Items)+1 {
		t.Fatal(err, kept)
	}
	for name, try := range map[string]struct {
		change func(*stock.Item)
		kind   fault.Kind
		words  string
	}{
		"new with a code there is": {func(i *stock.Item) { i.Edit = 0 }, fault.Conflict, "already"},
		"another unit":             {func(i *stock.Item) { i.Unit = measure.RunMetre }, fault.Invalid, "counts buckle in pcs, and that stays"},
		"something else": {func(i *stock.Item) {
			i.Good, i.Foam = nil, &materials.Foam{Form: materials.Sheet, Thickness: 5 * measure.Millimetre, Width: measure.Metre, Height: measure.Metre}
		}, fault.Invalid, "is a good, and that stays"},
		"saved meanwhile": {func(i *stock.Item) { i.Edit = 7 }, fault.Conflict, "meanwhile"},
		"not there":       {func(i *stock.Item) { i.Code = "clasp" }, fault.NotFound, "no such item"},
	} {
		i := kept
		try.change(&i)
		if _, err := c.KeepItem(t.Context(), i); fault.KindOf(err) != try.kind || !strings.Contains(err.Error(), try.words) {
			t.Errorf("%s: %v", name, err)
		}
	}
	kept.Name = "Buckle, 25 mm"
	if kept, err = c.KeepItem(t.Context(), kept); err != nil || kept.Edit != 2 || kept.Good.Name != "Buckle, 25 mm" {
		t.Error(err, kept)
	}
}

// Two people save one item at the same time: one is told.
func TestTwoSaveAnItem(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	began(t, d)
	c := stock.NewCatalogue(d.Catalogue(), time.Now)
	i, err := c.KeepItem(t.Context(), good("buckle"))
	if err != nil {
		t.Fatal(err)
	}
	told := make(chan error, 8)
	var all sync.WaitGroup
	for n := range 8 {
		all.Go(func() {
			i := i
			i.Name = fmt.Sprint("Buckle ", n)
			_, err := c.KeepItem(t.Context(), i)
			told <- err
		})
	}
	all.Wait()
	close(told)
	refused := 0
	for err := range told {
		if fault.KindOf(err) == fault.Conflict {
			refused++
		} else if err != nil {
			t.Error(err)
		}
	}
	if refused != 7 {
		t.Errorf("%d were told", refused)
	}
}

func TestOffersAndPrices(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	s, _ := began(t, d)
	c := stock.NewCatalogue(d.Catalogue(), func() time.Time { return march })
	price := func(day time.Time) (got string) {
		t.Helper()
		err := d.Sales().Act(t.Context(), func(tx sales.Tx) error {
			w, err := tx.Workshop(t.Context(), day)
			got = "none"
			for _, p := range w.Figures.Prices {
				if p.Item == "contact" {
					got = p.Amount.String() + " for " + p.Pack.String()
				}
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	line, err := c.Line(t.Context(), "contact")
	if err != nil {
		t.Fatal(err)
	}
	usual := line.Offers[0]
	day := stock.Day(march)
	for _, n := range []struct{ from, amount string }{{"2026-03-10", "64"}, {"2026-03-10", "65.5"}, {"2026-02-20", "63"}} {
		from, _ := time.Parse(time.DateOnly, n.from)
		if err := c.NotePrice(t.Context(), usual.ID, stock.Price{From: from, Amount: num(n.amount)}, "Wren"); err != nil {
			t.Fatal(err)
		}
	}
	for _, at := range []struct {
		day  time.Time
		want string
	}{{day, "63 for 5"}, {day.AddDate(0, 0, 4), "63 for 5"}, {day.AddDate(0, 0, 5), "65.5 for 5"}, {day.AddDate(0, 0, -30), "62 for 5"}, {day.AddDate(0, 0, -100), "65.1 for 5"}, {day.AddDate(-3, 0, 0), "none"}} {
		if got := price(at.day); got != at.want {
			t.Errorf("on %s it is %s, want %s", at.day, got, at.want)
		}
	}
	// Without a usual pack the cheapest a litre counts; a pack that is no longer sold never does.
	usual.Usual = false
	if usual, err = c.KeepOffer(t.Context(), usual); err != nil || price(day) != "63 for 5" {
		t.Error(err, price(day))
	}
	usual.Retired = true
	if usual, err = c.KeepOffer(t.Context(), usual); err != nil || price(day) != "15.9 for 1" {
		t.Error(err, price(day))
	}
	// Marking one unmarks the other.
	small := line.Offers[1]
	small.Usual = true
	if _, err = c.KeepOffer(t.Context(), small); err != nil {
		t.Fatal(err)
	}
	third := line.Offers[2]
	third.Usual = true
	if _, err = c.KeepOffer(t.Context(), third); err != nil || value[int](t, d, "SELECT count(*)::int FROM offer WHERE item = 'contact' AND usual") != 1 {
		t.Error(err)
	}
	for name, try := range map[string]struct {
		change func(*stock.Offer)
		kind   fault.Kind
		words  string
	}{
		"the same pack twice": {func(o *stock.Offer) { o.ID, o.Edit = "", 0 }, fault.Conflict, "listed already"},
		"no such item":        {func(o *stock.Offer) { o.ID, o.Edit, o.Item = "", 0, "cork" }, fault.NotFound, "no such item"},
		"no such supplier":    {func(o *stock.Offer) { o.ID, o.Edit, o.Supplier = "", 0, uuid.NewString() }, fault.NotFound, "no such supplier"},
		"a supplier's name":   {func(o *stock.Offer) { o.Supplier = "Saltmarsh" }, fault.NotFound, "no such supplier"},
		"saved meanwhile":     {func(o *stock.Offer) { o.Edit-- }, fault.Conflict, "meanwhile"},
		"not there":           {func(o *stock.Offer) { o.ID = uuid.NewString() }, fault.NotFound, "no such pack"},
		"nothing in it":       {func(o *stock.Offer) { o.Pack = decimal.Zero }, fault.Invalid, "more than nothing"},
		"retired and usual":   {func(o *stock.Offer) { o.Usual = true }, fault.Invalid, "cannot be the usual"},
	} {
		o := usual
		try.change(&o)
		if _, err := c.KeepOffer(t.Context(), o); fault.KindOf(err) != try.kind || !strings.Contains(err.Error(), try.words) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := c.NotePrice(t.Context(), uuid.NewString(), stock.Price{From: day, Amount: num("1")}, "Wren"); fault.KindOf(err) != fault.NotFound {
		t.Error(err)
	}
	if _, err := s.Workshop(t.Context()); err != nil {
		t.Error(err)
	}
}

func TestSuppliers(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	began(t, d)
	c := stock.NewCatalogue(d.Catalogue(), time.Now)
	kept, err := c.KeepSupplier(t.Context(), stock.Supplier{Name: " Quay Ropes ", LeadDays: 4})
	if err != nil || kept.Edit != 1 || kept.Name != "Quay Ropes" {
		t.Fatal(err, kept)
	}
	if _, err := c.KeepSupplier(t.Context(), stock.Supplier{Name: "Quay Ropes"}); fault.KindOf(err) != fault.Conflict {
		t.Error(err)
	}
	stale := kept
	kept.LeadDays = 5
	if kept, err = c.KeepSupplier(t.Context(), kept); err != nil || kept.Edit != 2 {
		t.Error(err, kept)
	}
	if _, err := c.KeepSupplier(t.Context(), stale); fault.KindOf(err) != fault.Conflict || !strings.Contains(err.Error(), "meanwhile") {
		t.Error(err)
	}
	if s, sold, err := c.Supplier(t.Context(), kept.ID); err != nil || s != kept || len(sold) != 0 {
		t.Error(err, s, sold)
	}
	if _, _, err := c.Supplier(t.Context(), "nobody"); fault.KindOf(err) != fault.NotFound {
		t.Error(err)
	}
}
