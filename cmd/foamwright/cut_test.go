package main

import (
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/shopspring/decimal"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// bench is a till with a shelf, for a small round that leaves most of a mat.
type bench struct {
	*till
	books *db.DB
	shelf *stock.Service
}

func openBench(t *testing.T) *bench {
	t.Helper()
	url := dbtest.URL(t)
	b := &bench{till: openTill(t, url)}
	var err error
	b.books, err = db.Open(t.Context(), url)
	fatal(t, err)
	t.Cleanup(b.books.Close)
	b.shelf = stock.NewService(b.books.Stock(), thursday)
	b.form, err = orderform.Parse([]byte(`{"name": "Target", "outline": {"shape": "round", "diameter": "20 cm"}, "core": {"foam": "mat-10", "layers": 1}}`))
	fatal(t, err)
	e, err := b.Estimate(t.Context(), "", b.form)
	fatal(t, err)
	b.shown = sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}
	return b
}

// booked is an order whose deposit came.
func (b *bench) booked(title string) sales.Order {
	b.t.Helper()
	got, err := b.Accept(b.t.Context(), b.issued(title).ID, sales.Choice{}, "Hedda")
	fatal(b.t, err)
	got, err = b.DepositCame(b.t.Context(), got.Order.ID, thursday(), sales.OtherWay, "")
	fatal(b.t, err)
	return got.Order
}

func (b *bench) receive(mats int64, cost string) {
	b.t.Helper()
	_, err := b.shelf.Receive(b.t.Context(), stock.Delivery{Item: "mat-10", Quantity: decimal.NewFromInt(mats), Cost: decimal.RequireFromString(cost)}, "Wren")
	fatal(b.t, err)
}

// mats is how the mats of an order are laid out.
func (b *bench) mats(order string) sales.Layout {
	b.t.Helper()
	l, err := b.Layout(b.t.Context(), order)
	fatal(b.t, err)
	if len(l.Foams) != 1 || l.Foams[0].Foam.Code != "mat-10" {
		b.t.Fatalf("the order takes %d foams", len(l.Foams))
	}
	return l.Foams[0]
}

func (b *bench) balance() stock.Balance {
	b.t.Helper()
	card, err := b.shelf.Card(b.t.Context(), "mat-10", 0, 1)
	fatal(b.t, err)
	return card.Balance
}

func told(t *testing.T, err error, kind fault.Kind, words string) {
	t.Helper()
	if fault.KindOf(err) != kind || !strings.Contains(err.Error(), words) {
		t.Errorf("want %v with %q, got %v", kind, words, err)
	}
}

// A mat is cut, what is left is kept at the workshop's value, and the next order is cut from that alone.
func TestCutKeepReuse(t *testing.T) {
	t.Parallel()
	b := openBench(t)
	waiting, err := b.Accept(t.Context(), b.issued("Waiting").ID, sales.Choice{}, "Hedda")
	fatal(t, err)
	first := b.booked("First")
	told(t, b.mats(first.ID).Short, fault.Shortage, "Missing: 1")
	_, err = b.Cut(t.Context(), first.ID, "mat-10", "", "Jonas")
	told(t, err, fault.Shortage, "Missing: 1")
	b.receive(2, "7.20") // one for each who waits

	l := b.mats(first.ID)
	_, err = b.Cut(t.Context(), waiting.Order.ID, "mat-10", b.mats(waiting.Order.ID).Digest, "Jonas")
	told(t, err, fault.State, "deposit")
	_, err = b.Cut(t.Context(), first.ID, "sheet-3", l.Digest, "Jonas")
	told(t, err, fault.NotFound, "sheet-3")
	_, err = b.Cut(t.Context(), first.ID, "mat-10", "what was seen yesterday", "Jonas")
	told(t, err, fault.Conflict, "The shelf changed")
	cut, err := b.Cut(t.Context(), first.ID, "mat-10", l.Digest, "Jonas")
	fatal(t, err)
	if kept := cut.Cutting.Plan.Offcuts; len(kept) != 2 || len(cut.Cutting.Plan.Sheets) != 1 {
		t.Fatalf("%d mats opened, %d offcuts kept", len(cut.Cutting.Plan.Sheets), len(kept))
	}

	// By hand: a mat cost 3.60, an offcut is worth half of that by its share of the area.
	b1 := b.balance()
	worth, share := decimal.Zero, decimal.Zero
	for _, o := range cut.Cutting.Plan.Offcuts {
		s := decimal.NewFromFloat(o.Area / (550 * 550)).Round(4)
		worth, share = worth.Add(decimal.RequireFromString("1.80").Mul(s).Round(2)), share.Add(s)
	}
	if !b1.OnHand.Equal(decimal.NewFromInt(1)) || b1.Value.String() != "3.60" || !b1.Offcuts.Equal(share) || !b1.OffcutValue.Decimal().Equal(worth) {
		t.Errorf("on hand %s worth %s, offcuts %s worth %s: want 1, 3.60, %s, %s", b1.OnHand, b1.Value, b1.Offcuts, b1.OffcutValue, share, worth)
	}
	if !b1.Reserved.Equal(decimal.NewFromInt(1)) {
		t.Errorf("%s is set aside: the other order's mat was touched", b1.Reserved)
	}
	taken, err := b.Order(t.Context(), first.ID)
	fatal(t, err)
	if got := taken.Cost().Decimal(); !got.Equal(decimal.RequireFromString("3.60").Sub(worth)) {
		t.Errorf("the order's foam costs %s", got)
	}
	for _, left := range taken.Left() {
		if left.Item == "mat-10" && !left.Quantity.IsZero() {
			t.Errorf("%s more of what was cut", left.Quantity)
		}
	}

	// Kept, it reads back as it was verified, and asking twice gives the same.
	again := b.mats(first.ID)
	if again.Digest != l.Digest || !again.Done() || !reflect.DeepEqual(again.Cutting.Plan, l.Cutting.Plan) || !reflect.DeepEqual(again.Cutting.Job, l.Cutting.Job) {
		t.Error("what is kept is not what was cut")
	}
	fatal(t, cutplan.Verify(again.Cutting.Job, again.Cutting.Plan))
	twice, err := b.Cut(t.Context(), first.ID, "mat-10", l.Digest, "Ilse")
	if err != nil || twice.Cutting.ID != cut.Cutting.ID || twice.Cutting.By != "Jonas" {
		t.Errorf("asked again: %v by %s", err, twice.Cutting.By)
	}
	_, err = b.Cut(t.Context(), first.ID, "mat-10", "another", "Ilse")
	told(t, err, fault.Conflict, "by Jonas")

	second := b.booked("Second")
	l = b.mats(second.ID)
	lots, opened := l.Cutting.Used()
	if opened != 0 || len(lots) != 1 {
		t.Fatalf("the next order opens %d mats and %d offcuts", opened, len(lots))
	}
	if label := l.Cutting.Job.Sheets[l.Cutting.Plan.Sheets[0].Sheet].Label; !strings.HasPrefix(label, "Mat 10 mm, 203 × 347, order ") || !strings.HasSuffix(label, first.Number.String()+", "+thursday().Format("2 Jan 2006")) {
		t.Errorf("the offcut is called %q", label)
	}
	_, err = b.Cut(t.Context(), second.ID, "mat-10", l.Digest, "Jonas")
	fatal(t, err)
	if b2 := b.balance(); !b2.OnHand.Equal(b1.OnHand) || b2.Offcuts.Cmp(b1.Offcuts) >= 0 || b2.OffcutValue.Cmp(b1.OffcutValue) >= 0 {
		t.Errorf("%s whole, %s of offcuts worth %s", b2.OnHand, b2.Offcuts, b2.OffcutValue)
	}
}

// Whoever draws by hand in what is kept is refused, by the database and by the verifier.
func TestCutPlanIsNotTamperedWith(t *testing.T) {
	t.Parallel()
	b := openBench(t)
	b.receive(1, "3.60")
	order := b.booked("Only")
	l := b.mats(order.ID)
	_, err := b.Cut(t.Context(), order.ID, "mat-10", l.Digest, "Jonas")
	fatal(t, err)
	for _, statement := range []string{`UPDATE cutting SET plan = '{}'`, `DELETE FROM cutting`} {
		if err := b.books.Act(t.Context(), func(tx pgx.Tx) error { _, err := tx.Exec(t.Context(), statement); return err }); err == nil {
			t.Errorf("%s is let through", statement)
		}
	}
	kept := b.mats(order.ID).Cutting
	for name, tamper := range map[string]func(p *cutplan.Plan){
		"a piece over the edge":       func(p *cutplan.Plan) { p.Placements[0].At.X -= 30 },
		"a piece left out":            func(p *cutplan.Plan) { p.Placements = nil },
		"an offcut over a piece":      func(p *cutplan.Plan) { p.Offcuts[0].Shape = kept.Job.Pieces[0].Shape },
		"an offcut that is no offcut": func(p *cutplan.Plan) { p.Offcuts[0].Area *= 2 },
		"more mats than there are":    func(p *cutplan.Plan) { p.Sheets = append(p.Sheets, cutplan.Opened{}) },
	} {
		p := b.mats(order.ID).Cutting.Plan
		tamper(&p)
		if cutplan.Verify(kept.Job, p) == nil {
			t.Errorf("%s is let through", name)
		}
	}
}

// Two who cut from one offcut at once: one cuts, the other is told; and two who press the same button move the shelf
// once.
func TestTwoCutAtOnce(t *testing.T) {
	t.Parallel()
	b := openBench(t)
	b.receive(1, "3.60")
	first := b.booked("First")
	seen := b.mats(first.ID).Digest
	together(8, func(int) {
		if _, err := b.Cut(t.Context(), first.ID, "mat-10", seen, "Jonas"); err != nil {
			t.Error(err)
		}
	})
	taken, err := b.Order(t.Context(), first.ID)
	fatal(t, err)
	if len(taken.Moves) != 3 { // a mat out, two offcuts in
		t.Errorf("%d movements", len(taken.Moves))
	}
	orders := []sales.Order{b.booked("Left"), b.booked("Right")}
	digests := []string{b.mats(orders[0].ID).Digest, b.mats(orders[1].ID).Digest}
	errs := make([]error, 2)
	var both sync.WaitGroup
	for i := range 2 {
		both.Go(func() { _, errs[i] = b.Cut(t.Context(), orders[i].ID, "mat-10", digests[i], "Ilse") })
	}
	both.Wait()
	loser := 0
	if errs[0] == nil {
		loser = 1
	}
	if errs[1-loser] != nil {
		t.Fatal(errs)
	}
	if k := fault.KindOf(errs[loser]); k != fault.Conflict && k != fault.Shortage {
		t.Errorf("the other is told %v", errs[loser])
	}
	if got := b.mats(orders[loser].ID); got.Done() {
		t.Error("both cut from it")
	}
}
