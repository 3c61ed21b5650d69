package figures_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
)

// typist prints next to nothing.
type typist struct{ sales.Renderer }

func (typist) Quote(_ context.Context, s sales.Sheet) ([]byte, error) {
	return fmt.Appendf(nil, "%s v%d %s", s.Number, s.Version, s.Estimate.Price.Gross), nil
}
func (typist) Letter(_ context.Context, l sales.Letter) ([]byte, error) {
	return []byte(l.Name + l.File), nil
}
func (typist) Invoice(_ context.Context, i sales.Invoice) ([]byte, error) {
	return fmt.Append(nil, i.Kind, i.Number), nil
}
func (typist) JobSheet(context.Context, sales.JobSheet) ([]byte, error) { return []byte("sheet"), nil }
func (typist) Picture(sales.Sheet) string                               { return "" }
func (typist) Attach(doc []byte, _, _ string, _ []byte, _ time.Time) ([]byte, error) {
	return doc, nil
}

// history is a workshop on a real database whose clock goes on.
type history struct {
	*sales.Service
	shelf    *stock.Service
	figures  *figures.Service
	store    *db.DB
	ctx      context.Context
	now      time.Time
	began    time.Time
	customer string
	forms    []orderform.Form
	items    []string
	quotes   []string // that may be revised or accepted
	orders   []string
}

// A quarter to one in the morning there is still the month before at Greenwich.
func harrow() *time.Location { return time.FixedZone("Harrowmouth", 12*3600+45*60) }

func begin(t *testing.T) *history {
	t.Helper()
	h := &history{store: dbtest.New(t), ctx: t.Context(), now: time.Date(2026, 1, 28, 20, 0, 0, 0, harrow())}
	h.began = h.now
	clock := func() time.Time { return h.now }
	h.Service = sales.NewService(h.store.Sales(), typist{}, clock)
	h.shelf = stock.NewService(h.store.Stock(), clock)
	h.figures = figures.NewService(h.store.Figures(), h.Service, typist{}, clock)
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	w, err := demo.Workshop(h.now)
	must(err)
	w.FixedCosts = dec("480")
	must(h.Begin(h.ctx, w, demo.Stock(h.now)))
	c, err := h.KeepCustomer(h.ctx, sales.Customer{Name: "Mara Quist", Country: "DE", Address: "1 Ferry House\nHarrowmouth"})
	must(err)
	h.customer = c.ID
	for _, spec := range []string{
		`{"name": "Target", "outline": {"shape": "rectangle", "width": "40 cm", "height": "30 cm"}, "core": {"foam": "mat-10"}}`,
		`{"name": "Small target", "outline": {"shape": "rectangle", "width": "30 cm", "height": "25 cm"}, "core": {"foam": "mat-10"}}`,
	} {
		f, err := orderform.Parse([]byte(spec))
		must(err)
		h.forms = append(h.forms, f)
		e, err := h.Estimate(h.ctx, "", f)
		must(err)
		for _, m := range e.Materials {
			if !slices.Contains(h.items, m.Item) {
				h.items = append(h.items, m.Item)
			}
		}
	}
	for i, item := range h.items {
		_, err := h.shelf.Receive(h.ctx, stock.Delivery{Item: item, Quantity: decimal.NewFromInt(90), Cost: decimal.New(int64(10_003+77*i), -2)}, "Wren")
		must(err)
	}
	return h
}

// might is what may be refused; another failure is one of the program.
func might(t *rapid.T, err error) bool {
	if k := fault.KindOf(err); err != nil && k != fault.State && k != fault.Invalid && k != fault.Shortage && k != fault.Conflict && k != fault.NotFound {
		t.Fatal(err)
	}
	return err == nil
}

// ago is a day that is not to come.
func (h *history) ago(t *rapid.T) time.Time {
	return stock.Day(h.now).AddDate(0, 0, -rapid.SampledFrom([]int{0, 0, 1, 9, 34}).Draw(t, "days ago"))
}

func (h *history) issue(t *rapid.T, q sales.Quote) {
	e, err := h.Estimate(h.ctx, q.CustomerID, q.Form)
	if !might(t, err) {
		return
	}
	if q, err = h.Issue(h.ctx, q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "Wren"); might(t, err) {
		h.quotes = append(h.quotes, q.ID)
	}
}

// acts are what is done to books, the frequent ones several times.
func acts() []string {
	return []string{"quote", "revise", "accept", "accept", "change", "bill", "bill", "credit", "pay", "pay", "take back", "take", "take", "return", "waste", "count", "receive", "log", "log", "log", "correct", "finish", "cancel"}
}

// act does one thing to the books.
func (h *history) act(t *rapid.T, what string) {
	h.now = h.now.Add(time.Duration(rapid.SampledFrom([]int{1, 5, 26, 90, 200}).Draw(t, "hours")) * time.Hour)
	draw := func(from, to int) decimal.Decimal {
		return decimal.NewFromInt(int64(rapid.IntRange(from, to).Draw(t, "n")))
	}
	item := rapid.SampledFrom(h.items).Draw(t, "item")
	switch what {
	case "quote":
		f := rapid.SampledFrom(h.forms).Draw(t, "form")
		q, err := h.NewQuote(h.ctx, h.customer, f.Name.String(), f)
		if might(t, err) && rapid.Bool().Draw(t, "options") {
			q, err = h.SaveOptions(h.ctx, q.ID, q.Edit, []sales.Option{{Key: "a", Name: "one layer more", Changes: map[string]string{"core.layers": "2"}}})
			might(t, err)
		}
		h.issue(t, q)
		return
	case "receive":
		_, err := h.shelf.Receive(h.ctx, stock.Delivery{Item: item, Quantity: draw(1, 9), Cost: draw(1, 9999).Shift(-2)}, "Wren")
		might(t, err)
		return
	case "waste":
		might(t, h.shelf.Waste(h.ctx, item, "", draw(1, 3), "spilt", "Wren"))
		return
	case "count":
		c, err := h.shelf.Card(h.ctx, item, 0, 1)
		if might(t, err) {
			_, err = h.shelf.Stocktake(h.ctx, []stock.Finding{{Item: item, Expected: c.Balance.OnHand, Found: c.Balance.OnHand.Add(draw(-2, 2)), Why: "counted"}}, "Wren")
			might(t, err)
		}
		return
	case "revise", "accept":
		if len(h.quotes) == 0 {
			return
		}
		id := h.quotes[len(h.quotes)-1-rapid.IntRange(0, min(2, len(h.quotes)-1)).Draw(t, "quote")]
		q, err := h.Quote(h.ctx, id)
		if !might(t, err) {
			return
		}
		if what == "revise" {
			if q, err = h.Revise(h.ctx, id); might(t, err) {
				h.issue(t, q)
			}
			return
		}
		var c sales.Choice
		if len(q.Options) > 0 && rapid.Bool().Draw(t, "chosen") {
			c.Options = []string{"a"}
		}
		got, err := h.Accept(h.ctx, id, c, "Wren")
		if might(t, err) && !slices.Contains(h.orders, got.Order.ID) {
			h.orders = append(h.orders, got.Order.ID)
		}
		return
	}
	if len(h.orders) > 0 {
		h.toOrder(t, what, h.orders[len(h.orders)-1-rapid.IntRange(0, min(3, len(h.orders)-1)).Draw(t, "order")], item)
	}
}

// toOrder does one thing to an order.
func (h *history) toOrder(t *rapid.T, what, id, item string) {
	token := uuid.NewString()
	draw := func(from, to int) decimal.Decimal {
		return decimal.NewFromInt(int64(rapid.IntRange(from, to).Draw(t, "n")))
	}
	d, err := h.Dues(h.ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	switch what {
	case "change":
		form := rapid.SampledFrom(h.forms).Draw(t, "to")
		c, err := h.PriceChange(h.ctx, id, form)
		if !might(t, err) {
			return
		}
		n, err := h.OfferChange(h.ctx, id, d.Order.Edit, c.After.Gross.String(), "Another one", form, "Wren")
		if might(t, err) {
			_, err = h.AnswerChange(h.ctx, id, n.No, rapid.Bool().Draw(t, "yes"), sales.Choice{Name: "Mara"}, "Wren")
			might(t, err)
		}
	case "bill":
		b := sales.Billing{Kind: rapid.SampledFrom([]sales.BillKind{sales.DepositBill, sales.PartBill, sales.BalanceBill, sales.SaleBill}).Draw(t, "kind"), Token: token}
		if b.Kind == sales.PartBill {
			b.Share = draw(1, 60).Shift(-2)
		}
		_, err := h.Bill(h.ctx, id, b, "Wren")
		might(t, err)
	case "credit":
		if len(d.Bills) > 0 {
			_, err := h.Credit(h.ctx, rapid.SampledFrom(d.Bills).Draw(t, "bill").ID, sales.Crediting{Reason: "A slip", Token: token, Amount: draw(0, 900).Shift(-2)}, "Wren")
			might(t, err)
		}
	case "pay":
		amount := rapid.SampledFrom([]decimal.Decimal{d.DepositOpen().Decimal(), d.Owed().Decimal(), d.Open().Decimal(), draw(-900, 900).Shift(-2)}).Draw(t, "amount")
		_, err := h.Receive(h.ctx, id, sales.Paying{Day: h.ago(t), Amount: amount, Way: sales.ByTransfer, Token: token}, "Wren")
		might(t, err)
	case "take back":
		if len(d.Payments) > 0 {
			_, err := h.TakeBack(h.ctx, id, rapid.SampledFrom(d.Payments).Draw(t, "payment").ID, "A slip", token, "Wren")
			might(t, err)
		}
	case "take":
		_, err := h.Take(h.ctx, id, d.Order.Edit, []stock.Used{{Item: item, Quantity: draw(1, 5)}}, "Wren")
		might(t, err)
	case "return":
		might(t, h.shelf.Return(h.ctx, item, id, draw(1, 2), "left over", "Wren"))
	case "log", "correct":
		h.log(t, what, id, draw(0, 400))
	case "finish":
		_, err := h.Finish(h.ctx, id, nil, "Wren")
		might(t, err)
	case "cancel":
		var kept *decimal.Decimal
		if rapid.Bool().Draw(t, "kept") {
			k := draw(0, 5000).Shift(-2)
			kept = &k
		}
		_, err := h.Cancel(h.ctx, id, "Changed their mind", kept, "Wren")
		might(t, err)
	}
}

// log writes time down, or corrects what stands.
func (h *history) log(t *rapid.T, what, id string, minutes decimal.Decimal) {
	got, err := h.Order(h.ctx, id)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Quote.Printed.Tasks) == 0 {
		return
	}
	l := labour.Log{ID: uuid.NewString(), Order: id, Step: rapid.SampledFrom(got.Quote.Printed.Tasks).Draw(t, "task").Code, Minutes: minutes, Day: h.ago(t), By: "Wren", Written: h.now}
	if rapid.IntRange(0, 4).Draw(t, "rework") == 0 {
		l.Rework = "a seam came open"
	}
	if what == "correct" {
		logs, err := h.Logs(h.ctx, id)
		if err != nil || len(logs) == 0 {
			return
		}
		l.Corrects = rapid.SampledFrom(logs).Draw(t, "log").ID
	}
	_, err = h.LogTime(h.ctx, l)
	might(t, err)
}

// Whatever is done to the books over the months, by the acts of the program, every figure of every month is the sum of
// the single documents, as a second hand adds them up from how each order, invoice, payment, movement and log reads.
func TestFiguresAreTheirDocuments(t *testing.T) {
	t.Parallel()
	h := begin(t)
	most, until := 12, time.Now().Add(3*time.Second)
	if os.Getenv("FOAMWRIGHT_TORTURE") == "1" {
		most, until = 400, time.Now().Add(10*time.Minute)
	}
	runs, done := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		if runs >= most || time.Now().After(until) {
			return
		}
		runs++
		for i := range rapid.IntRange(10, 30).Draw(t, "acts") {
			what := rapid.SampledFrom(acts()).Draw(t, "what")
			if i < 2 { // there is always an order to go on with
				what = []string{"quote", "accept"}[i]
			}
			h.act(t, what)
			done++
		}
		h.reconcile(t)
	})
	t.Logf("%d histories, %d acts, %d orders, until %s", runs, done, len(h.orders), h.now.Format(time.DateOnly))
}
