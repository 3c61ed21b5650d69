package figures_test

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/figures"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// whole is an order with all its documents.
type whole struct {
	sales.Taken
	sales.Dues
	standing []labour.Log
}

// papers are all documents there are, read one by one.
type papers struct {
	numbers [][]sales.Quote // versions that were issued, oldest first
	orders  []whole
	moves   []stock.Movement
}

func (h *history) papers(t *rapid.T) (p papers) {
	must := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	quotes, err := h.Quotes(h.ctx, sales.Found{Most: 100_000})
	must(err)
	seen := map[sales.Number]bool{}
	for _, q := range quotes {
		if q.Number.No == 0 || seen[q.Number] {
			continue
		}
		seen[q.Number] = true
		versions, err := h.Versions(h.ctx, q)
		must(err)
		if versions = slices.DeleteFunc(versions, func(v sales.Quote) bool { return v.State == sales.Draft }); len(versions) > 0 {
			p.numbers = append(p.numbers, versions)
		}
	}
	for _, id := range h.orders {
		var w whole
		w.Taken, err = h.Order(h.ctx, id)
		must(err)
		w.Dues, err = h.Dues(h.ctx, id)
		must(err)
		logs, err := h.Logs(h.ctx, id)
		must(err)
		w.standing = labour.Standing(logs)
		p.orders = append(p.orders, w)
	}
	for _, item := range h.items {
		c, err := h.shelf.Card(h.ctx, item, 0, 100_000)
		must(err)
		p.moves = append(p.moves, c.Moves...)
	}
	return p
}

// within tells that a moment, or a day, lies between two midnights of the workshop.
func within(at, from, to time.Time) bool { return !at.IsZero() && !at.Before(from) && at.Before(to) }

func onDay(day, from, to time.Time) bool {
	return within(stock.Day(day), stock.Day(from), stock.Day(to))
}

// sums is a month as the second hand has it: by the keys of documents.
type sums map[string]decimal.Decimal

func (s sums) add(key string, a decimal.Decimal) { s[key] = s[key].Add(a) }

// month adds up what belongs to a month.
func (p papers) month(from, to time.Time) (s sums, took pricing.Costing) {
	s = sums{}
	took.Net, took.Fee, took.Material, took.Handling, took.Labour, took.BoughtIn, took.Contingency = eur("0"), eur("0"), eur("0"), eur("0"), eur("0"), eur("0"), eur("0")
	for _, versions := range p.numbers {
		if within(versions[0].IssuedAt, from, to) {
			s.add("quoted", versions[len(versions)-1].Net.Decimal())
		}
	}
	for _, m := range p.moves {
		if m.At.Before(to) {
			s.add("stock", m.Cost.Decimal())
		}
		if within(m.At, from, to) {
			switch {
			case m.Kind == stock.Receipt:
				s.add("bought", m.Cost.Decimal())
			case m.Order != "":
				s.add("taken", m.Cost.Neg().Decimal())
			default:
				s.add("lost", m.Cost.Neg().Decimal())
			}
		}
	}
	for _, w := range p.orders {
		took = w.month(s, took, from, to)
	}
	return s, took
}

// month adds what belongs to a month of an order.
func (w whole) month(s sums, took pricing.Costing, from, to time.Time) pricing.Costing {
	o, c := w.Taken.Order, w.Quote.Printed.Costing
	c.Net = o.Totals().Net
	if within(o.Accepted, from, to) {
		s.add("ordered", c.Net.Decimal())
		if o.State != sales.Cancelled {
			s.add("sold", c.Hours)
		}
	}
	owed := money.Sum("EUR")
	for _, b := range append(slices.Clone(w.Credits), bills(w.Bills)...) {
		net, tax, gross := b.Totals.Net, b.Totals.Tax, b.Totals.Gross
		if b.Kind == sales.CreditNote {
			net, tax, gross = net.Neg(), tax.Neg(), gross.Neg()
		}
		if onDay(b.Issued.In(from.Location()), from, to) {
			s.add("invoiced", net.Decimal())
			s.add("taxed", net.Decimal())
			s.add("tax", tax.Decimal())
		}
		if stock.Day(b.Issued.In(from.Location())).Before(stock.Day(to)) {
			owed = owed.Add(gross)
		}
	}
	for _, pay := range w.Payments {
		if onDay(pay.Day, from, to) {
			s.add("paid", pay.Amount.Decimal())
		}
		if stock.Day(pay.Day).Before(stock.Day(to)) {
			owed = owed.Sub(pay.Amount)
		}
	}
	if owed.Sign() > 0 {
		s.add("owed", owed.Decimal())
	}
	// What was put in until the month began and until it ended; what was worked in all.
	var minutes [3]decimal.Decimal
	for _, l := range w.standing {
		minutes[2] = minutes[2].Add(l.Minutes)
		for i, at := range []time.Time{from, to} {
			if stock.Day(l.Day).Before(stock.Day(at)) {
				minutes[i] = minutes[i].Add(l.Minutes)
			}
		}
	}
	s.add("worked", minutes[1].Sub(minutes[0]))
	var material [2]decimal.Decimal
	for _, m := range w.Moves {
		for i, at := range []time.Time{from, to} {
			if m.At.Before(at) {
				material[i] = material[i].Sub(m.Cost.Decimal())
			}
		}
	}
	labour := func(i int) decimal.Decimal {
		return c.Took(money.Round(material[i], "EUR"), minutes[i]).Labour.Decimal()
	}
	s.add("put in material", material[1].Sub(material[0]))
	s.add("put in hours", labour(1).Sub(labour(0)))
	gone, over := !o.Ended.IsZero() && o.Ended.Before(from), !o.Ended.IsZero() && o.Ended.Before(to)
	switch cost := material[1].Add(labour(1)); {
	case gone:
		s.add("finished", cost.Sub(material[0]).Sub(labour(0)))
	case over:
		s.add("finished", cost)
	default:
		s.add("at bench", cost)
	}
	if !within(o.Ended, from, to) {
		return took
	}
	s.add("done", c.Net.Decimal())
	s.add("job material", w.Cost().Decimal())
	s.add("job hours", minutes[2])
	if o.State == sales.Cancelled {
		s.add("cancelled", o.Off().Decimal())
		return took
	}
	s.add("fees", c.Fee.Decimal())
	s.add("bought in", c.BoughtIn.Decimal())
	t := c.Took(w.Cost(), minutes[2])
	took.Net, took.Fee, took.Material, took.Handling, took.Labour = took.Net.Add(t.Net), took.Fee.Add(t.Fee), took.Material.Add(t.Material), took.Handling.Add(t.Handling), took.Labour.Add(t.Labour)
	took.BoughtIn, took.Hours = took.BoughtIn.Add(t.BoughtIn), took.Hours.Add(t.Hours)
	return took
}

func bills(all []sales.Owed) (list []sales.Invoice) {
	for _, b := range all {
		list = append(list, b.Invoice)
	}
	return list
}

// reconcile holds every figure of every month against the second hand, and the documents of one month against both.
func (h *history) reconcile(t *rapid.T) {
	p := h.papers(t)
	all, err := h.figures.Months(h.ctx, h.began, h.now)
	if err != nil {
		t.Fatal(err)
	}
	look := rapid.IntRange(0, len(all)-1).Draw(t, "month")
	for i, m := range all {
		want, took := p.month(m.First, m.Next)
		e := m.Earnings()
		for key, got := range map[string]decimal.Decimal{
			"quoted": m.Quoted.Amount.Decimal(), "ordered": m.Ordered.Amount.Decimal(), "cancelled": m.Cancelled.Amount.Decimal(), "invoiced": m.Invoiced.Amount.Decimal(), "paid": m.Paid.Amount.Decimal(),
			"owed": m.Owed.Decimal(), "stock": m.Stock.Decimal(), "bought": m.Bought.Decimal(), "taken": m.Taken.Decimal(), "lost": m.Lost.Decimal(), "sold": m.Sold, "worked": m.Minutes,
			"done": e.Net.Decimal(), "fees": e.Fee.Decimal(), "bought in": e.BoughtIn.Decimal(), "job material": e.Material.Decimal(), "job hours": e.Minutes,
		} {
			if !got.Equal(want[key]) {
				t.Fatalf("%s: %s is %s, its documents are %s", m.Words(), key, got, want[key])
			}
		}
		if got := m.Ended.Took; got.Cost().Cmp(took.Cost()) != 0 || got.Earned().Cmp(took.Earned()) != 0 || !got.Hours.Equal(took.Hours) || got.Contribution().Cmp(took.Contribution()) != 0 {
			t.Fatalf("%s: jobs took %+v, one by one %+v", m.Words(), got, took)
		}
		left := want["done"].Sub(want["fees"]).Sub(want["bought in"]).Sub(want["job material"]).Sub(want["lost"]).Sub(dec("480"))
		if !e.Left().Decimal().Equal(left) {
			t.Fatalf("%s: %s left, by hand %s", m.Words(), e.Left(), left)
		}
		if i > 0 && !m.Shelf().Begin.Equal(all[i-1].Stock) {
			t.Fatalf("%s begins with %s on the shelf, the month before ended with %s", m.Words(), m.Shelf().Begin, all[i-1].Stock)
		}
		if i == look {
			h.opened(t, m, want)
		}
	}
}

// opened looks at one month's page and opens all its figures.
func (h *history) opened(t *rapid.T, m figures.Month, want sums) {
	page, err := h.figures.Month(h.ctx, m.First, decimal.Zero)
	if err != nil {
		t.Fatal(err)
	}
	before, _ := h.papers(t).month(m.First.AddDate(0, -1, 0), m.First)
	b := page.Bench
	if !b.Begin.Decimal().Equal(before["at bench"]) || !b.Material.Decimal().Equal(want["put in material"]) || !b.Labour.Decimal().Equal(want["put in hours"]) ||
		!b.Finished.Decimal().Equal(want["finished"]) || !b.Flow().End().Decimal().Equal(want["at bench"]) {
		t.Fatalf("%s: the bench is %+v, by hand %v before and %v", m.Words(), b, before["at bench"], want)
	}
	if sum := page.Taxes[0].Sum; !sum.Net.Decimal().Equal(want["taxed"]) || !sum.Tax.Decimal().Equal(want["tax"]) {
		t.Fatalf("%s: tax %s on %s, by hand %s on %s", m.Words(), sum.Tax, sum.Net, want["tax"], want["taxed"])
	}
	for _, k := range figures.Kinds() {
		d, err := h.figures.Documents(h.ctx, figures.Asked{What: k.Key, From: m.First, To: m.Last(), All: true})
		if err != nil {
			t.Fatal(err)
		}
		sum := decimal.Zero
		for _, r := range d.Rows {
			sum = sum.Add(r.Amount)
		}
		if !sum.Equal(d.Sum) || !sum.Equal(want[k.Key]) || len(d.Rows) != d.N {
			t.Fatalf("%s: %d documents of %s come to %s, their foot is %s of %d, by hand %s", m.Words(), len(d.Rows), k.Key, sum, d.Sum, d.N, want[k.Key])
		}
	}
}
