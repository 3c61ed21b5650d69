package sales_test

import (
	"context"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"
)

// benchPrinter keeps the job sheet it prints.
type benchPrinter struct {
	typist
	sheet *sales.JobSheet
}

func (p benchPrinter) JobSheet(_ context.Context, j sales.JobSheet) ([]byte, error) {
	*p.sheet = j
	return []byte("sheet"), nil
}

// made is an order for a target of two layers, with enough of everything on the shelf.
func (b *books) made() sales.Order {
	b.t.Helper()
	q := b.issue(b.draft(small(b.t)))
	service := stock.NewService(b.store.Stock(), func() time.Time { return *b.now })
	for _, k := range q.Printed.Takes {
		whole := k.Quantity.Mul(decimal.NewFromInt(8)).Ceil()
		_, err := service.Receive(b.t.Context(), stock.Delivery{Item: k.Item, Quantity: whole, Cost: decimal.NewFromInt(80)}, "Wren")
		fatal(b.t, err)
	}
	t, err := b.Accept(b.t.Context(), q.ID, sales.Choice{}, "Wren")
	fatal(b.t, err)
	return t.Order
}

// offer offers a change of an order to a form.
func (b *books) offer(id string, f orderform.Form) sales.ChangeNote {
	b.t.Helper()
	o, err := b.Order(b.t.Context(), id)
	fatal(b.t, err)
	c, err := b.PriceChange(b.t.Context(), id, f)
	fatal(b.t, err)
	n, err := b.OfferChange(b.t.Context(), id, o.Order.Edit, c.After.Gross.String(), "Another size", f, "Wren")
	fatal(b.t, err)
	return n
}

// Promises, what comes off the shelf, the bench and the job sheet follow a change: before the deposit, after it, after
// some material was taken, after foam was cut; up and down.
func TestTheShelfAndTheBenchFollowAChange(t *testing.T) {
	t.Parallel()
	bigger, smaller := map[string]string{"core.layers": "4"}, map[string]string{"core.layers": "1"}
	for _, c := range []struct {
		name       string
		to         map[string]string
		paid       bool
		taken, cut bool
	}{
		{"up before the deposit", bigger, false, false, false},
		{"up", bigger, true, false, false},
		{"down", smaller, true, false, false},
		{"up after some was taken", bigger, true, true, false},
		{"down after some was taken", smaller, true, true, false},
		{"up after it was cut", bigger, true, false, true},
		{"down after it was cut", smaller, true, false, true},
		{"at the same foam after it was cut", map[string]string{"studs": "4"}, true, false, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := openBooks(t, nil)
			var sheet sales.JobSheet
			b.Service = sales.NewService(b.store.Sales(), benchPrinter{sheet: &sheet}, func() time.Time { return *b.now })
			o := b.made()
			if c.paid {
				_, err := b.DepositCame(t.Context(), o.ID, *b.now, sales.OtherWay, "")
				fatal(t, err)
			}
			before, err := b.Order(t.Context(), o.ID)
			fatal(t, err)
			took := map[string]decimal.Decimal{}
			foam := ""
			switch {
			case c.taken:
				i := slices.IndexFunc(before.Quote.Printed.Takes, func(k sales.Taking) bool { return k.Unit.Places() == 3 })
				k := before.Quote.Printed.Takes[i]
				took[k.Item] = k.Quantity.Div(decimal.NewFromInt(2)).Round(3)
				_, err := b.Take(t.Context(), o.ID, before.Order.Edit, []stock.Used{{Item: k.Item, Quantity: took[k.Item]}}, "Wren")
				fatal(t, err)
			case c.cut:
				l, err := b.Layout(t.Context(), o.ID)
				fatal(t, err)
				_, err = b.Cut(t.Context(), o.ID, l.Foams[0].Foam.Code, l.Foams[0].Digest, "Wren")
				fatal(t, err)
				foam = l.Foams[0].Foam.Code
			}
			was, err := b.Order(t.Context(), o.ID)
			fatal(t, err)
			used := was.Used()
			form, err := small(t).With(c.to)
			fatal(t, err)
			n := b.offer(o.ID, form)
			now, err := b.AnswerChange(t.Context(), o.ID, n.No, true, sales.Choice{Name: "Mara"}, "Wren")
			fatal(t, err)

			reckoned := map[string]decimal.Decimal{}
			for _, k := range before.Quote.Printed.Takes {
				reckoned[k.Item] = k.Quantity
			}
			for _, k := range now.Quote.Printed.Takes {
				want := k.Quantity.Sub(took[k.Item])
				if c.cut && k.Item == foam { // it was cut: only what comes on top is still to be taken
					want = decimal.Min(k.Quantity.Sub(reckoned[k.Item]), k.Quantity.Sub(used[k.Item]))
				}
				want = decimal.Max(decimal.Zero, want)
				i := slices.IndexFunc(now.Promises, func(p stock.Promise) bool { return p.Item == k.Item })
				got, set := decimal.Zero, decimal.Zero
				if i >= 0 {
					got, set = now.Promises[i].Needed, now.Promises[i].Reserved
					if now.Promises[i].Firm != c.paid {
						t.Errorf("%s: firm is %t", k.Item, now.Promises[i].Firm)
					}
				}
				if !got.Equal(want) || set.GreaterThan(got) {
					t.Errorf("%s: still needs %s with %s set aside, want %s of %s; %s is used", k.Item, got, set, want, k.Quantity, used[k.Item])
				}
			}
			for item, q := range now.Used() {
				if !q.Equal(used[item]) {
					t.Errorf("%s: a change took %s off the shelf", item, q.Sub(used[item]))
				}
			}
			days, err := b.Days(t.Context())
			fatal(t, err)
			i := slices.IndexFunc(days, func(d sales.OnBench) bool { return d.Order.ID == o.ID })
			if i < 0 || days[i].Booked != c.paid || len(days[i].Plan.Slots) != len(now.Quote.Printed.Tasks) {
				t.Errorf("the bench has %+v for %d tasks", days, len(now.Quote.Printed.Tasks))
			}
			_, err = b.JobSheet(t.Context(), o.ID, "https://here.example/log")
			fatal(t, err)
			if !slices.Equal(sheet.Made, n.Agreed.Made) || len(sheet.Takes) != len(n.Agreed.Takes) || len(sheet.Steps) != len(n.Agreed.Tasks) || slices.Equal(sheet.Made, before.Quote.Printed.Made) {
				t.Errorf("the job sheet says %v", sheet.Made)
			}
			if spec, err := now.Quote.Form.Spec(); err != nil || slices.ContainsFunc(n.Moved, func(m sales.MovedEntry) bool { return m.What == "" }) || spec.Quantity != 1 {
				t.Errorf("%+v %v", n.Moved, err)
			}
		})
	}
}

// A change is offered once at a time, as it was seen, and for what can still be made; it is answered once.
func TestChangesThatAreRefused(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	ctx := t.Context()
	o := b.made()
	other, err := small(t).With(map[string]string{"quantity": "3"})
	fatal(t, err)
	c, err := b.PriceChange(ctx, o.ID, other)
	fatal(t, err)
	gross := c.After.Gross.String()
	refused := func(err error, kind fault.Kind, word string) {
		t.Helper()
		if fault.KindOf(err) != kind || !strings.Contains(err.Error(), word) {
			t.Errorf("kind %d, %v; want %d, %q", fault.KindOf(err), err, kind, word)
		}
	}
	try := func(edit int, gross, label string, f orderform.Form) error {
		_, err := b.OfferChange(ctx, o.ID, edit, gross, label, f, "Wren")
		return err
	}
	refused(try(o.Edit+7, gross, "Three", other), fault.Conflict, "has changed")
	refused(try(o.Edit, "1", "Three", other), fault.Conflict, "You saw")
	refused(try(o.Edit, gross, " ", other), fault.Invalid, "few words")
	refused(try(o.Edit, gross, strings.Repeat("x", 401), other), fault.Invalid, "")
	refused(try(o.Edit, o.Totals().Gross.String(), "Nothing", small(t)), fault.Invalid, "Nothing is changed")
	n := b.offer(o.ID, other)
	refused(try(o.Edit+1, gross, "Three", other), fault.State, "waits for its answer")
	_, err = b.AnswerChange(ctx, o.ID, n.No, true, sales.Choice{Document: "another"}, "Wren")
	refused(err, fault.Conflict, "not the change you saw")
	_, err = b.AnswerChange(ctx, o.ID, 9, true, sales.Choice{}, "Wren")
	refused(err, fault.NotFound, "no change 9")
	_, err = b.AnswerChange(ctx, o.ID, n.No, true, sales.Choice{}, "Wren")
	fatal(t, err)
	_, err = b.AnswerChange(ctx, o.ID, n.No, true, sales.Choice{}, "Wren")
	refused(err, fault.State, "accepted already")
	_, err = b.WithdrawChange(ctx, o.ID, n.No, "Wren")
	refused(err, fault.State, "accepted already")

	// Two of the three are gone: there can be no fewer.
	_, err = b.DepositCame(ctx, o.ID, *b.now, sales.OtherWay, "")
	fatal(t, err)
	now, err := b.Order(ctx, o.ID)
	fatal(t, err)
	now, err = b.Deliver(ctx, o.ID, now.Order.Edit, sales.Delivery{Day: *b.now, Pieces: 2, Way: "collected"}, "Wren")
	fatal(t, err)
	_, err = b.PriceChange(ctx, o.ID, small(t))
	refused(err, fault.State, "handed over already")
	// What waits when it is finished is taken back.
	n = b.offer(o.ID, func() orderform.Form { f, err := other.With(map[string]string{"studs": "4"}); fatal(t, err); return f }())
	_, err = b.Finish(ctx, o.ID, nil, "Wren")
	fatal(t, err)
	l, err := b.Life(ctx, o.ID)
	fatal(t, err)
	if l.Changes[n.No-1].State != sales.Withdrawn {
		t.Errorf("%+v", l.Changes[n.No-1])
	}
}

// What a customer says of a change and of a drawing is written to the workshop once; before the drawing is approved
// nothing is cut, and afterwards it is.
func TestTheWorkshopIsToldWhatWasSaidOfAnOrder(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	ctx := t.Context()
	b.SetMailServer("mail.example")
	o := b.made()
	secret, err := b.Link(ctx, o.QuoteID, "Wren")
	fatal(t, err)
	_, err = b.DepositCame(ctx, o.ID, *b.now, sales.OtherWay, "")
	fatal(t, err)
	form, err := small(t).With(map[string]string{"studs": "4"})
	fatal(t, err)
	n := b.offer(o.ID, form)
	_, err = b.ShowDrawing(ctx, o.ID, "", "Wren")
	fatal(t, err)
	cut := func() error {
		l, err := b.Layout(ctx, o.ID)
		fatal(t, err)
		_, err = b.Cut(ctx, o.ID, l.Foams[0].Foam.Code, l.Foams[0].Digest, "Wren")
		return err
	}
	if err := cut(); fault.KindOf(err) != fault.State || !strings.Contains(err.Error(), "has not approved it") {
		t.Errorf("cut before the drawing was approved: %v", err)
	}
	for i := range 2 {
		fresh, err := b.AnswerChangeLinked(ctx, secret, 1, true, sales.Choice{Name: "Mara\nQuist", Document: n.Document})
		if err != nil || fresh != (i == 0) {
			t.Errorf("%t %v", fresh, err)
		}
		if i == 0 { // the drawing that waited shows what was ordered before
			_, err := b.AnswerDrawingLinked(ctx, secret, 1, sales.Approved, "", sales.Choice{Name: "Mara"})
			if fault.KindOf(err) != fault.State {
				t.Errorf("what a change has overtaken was approved: %v", err)
			}
			if err := cut(); fault.KindOf(err) != fault.State || !strings.Contains(err.Error(), "what is made now") {
				t.Errorf("cut before the drawing of what is made now was approved: %v", err)
			}
			_, err = b.ShowDrawing(ctx, o.ID, "", "Wren")
			fatal(t, err)
		}
		fresh, err = b.AnswerDrawingLinked(ctx, secret, 2, sales.Approved, "Fine {link}", sales.Choice{Name: "Mara"})
		if err != nil || fresh != (i == 0) {
			t.Errorf("%t %v", fresh, err)
		}
	}
	fatal(t, cut())
	mails, err := b.Mails(ctx, sales.MailFound{})
	fatal(t, err)
	var said []string
	for _, m := range mails {
		said = append(said, m.Subject)
		if m.Kind != sales.MailNotice || strings.Contains(m.Text, sales.LinkMark) {
			t.Errorf("%+v", m)
		}
	}
	slices.Sort(said)
	if want := []string{"Mara Quist has accepted change 1 of order 1 of 2026", "Mara Quist has approved the drawing of order 1 of 2026"}; !slices.Equal(said, want) {
		t.Errorf("%q", said)
	}
	if _, err := b.AnswerChangeLinked(ctx, "nothing", 1, true, sales.Choice{Name: "Mara"}); fault.KindOf(err) != fault.NotFound {
		t.Error(err)
	}
}

// Many answers at once: one is what was said, the others are told so, and the change counts once.
func TestManyAnswersAtOnce(t *testing.T) {
	t.Parallel()
	b := openBooks(t, nil)
	o := b.made()
	secret, err := b.Link(t.Context(), o.QuoteID, "Wren")
	fatal(t, err)
	form, err := small(t).With(map[string]string{"studs": "4"})
	fatal(t, err)
	n := b.offer(o.ID, form)
	var all sync.WaitGroup
	var fresh, told atomic.Int32
	for i := range 8 {
		all.Go(func() {
			first, err := b.AnswerChangeLinked(context.Background(), secret, 1, i%2 == 0, sales.Choice{Name: "Mara", Document: n.Document})
			switch {
			case first:
				fresh.Add(1)
			case err == nil || fault.KindOf(err) == fault.State:
				told.Add(1)
			default:
				t.Error(err)
			}
		})
	}
	all.Wait()
	now, err := b.Order(t.Context(), o.ID)
	fatal(t, err)
	l, err := b.Life(t.Context(), o.ID)
	fatal(t, err)
	lines := 1
	if l.Changes[0].State == sales.Consented {
		lines = 2
	}
	if fresh.Load() != 1 || told.Load() != 7 || len(now.Order.Lines) != lines || now.Order.Edit != o.Edit+2 {
		t.Errorf("%d answers, %d told, %d lines, edit %d", fresh.Load(), told.Load(), len(now.Order.Lines), now.Order.Edit)
	}
}
