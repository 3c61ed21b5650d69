package figures

import (
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// Unit is what the amounts of documents are.
type Unit string

// The units.
const (
	InMoney   Unit = "money"
	InHours   Unit = "hours"
	InMinutes Unit = "minutes"
)

// Kind is one figure that opens to the documents it sums. The store has a query of the same key; who adds a kind adds it
// here and there.
type Kind struct {
	Key, Name string // the name goes on: "Ordered, net"
	Says      string // how it is counted
	Unit      Unit
	At        bool     // as it stood at the end of the last day, not within the days
	Narrowed  []string // what it can be narrowed by
}

// Kinds are all figures that can be opened.
func Kinds() []Kind {
	return slices.Concat(moneyKinds(), []Kind{
		{Key: "sold", Name: "Hours sold", Says: "Planned hours of orders accepted in these days, without cancelled ones.", Unit: InHours},
		{Key: "worked", Name: "Worked at the bench", Says: "Logged minutes by the day that was worked, as they were corrected last.", Unit: InMinutes},
		{Key: "job hours", Name: "Worked on jobs that ended", Says: "All minutes logged on jobs that were done or cancelled in these days, whenever they were worked.", Unit: InMinutes},
		{Key: "bought", Name: "Bought", Says: "What came onto the shelf."},
		{Key: "taken", Name: "Taken for orders", Says: "What left the shelf for orders, less what they brought back."},
		{Key: "lost", Name: "Lost", Says: "What left the shelf without an order: waste, differences found by counting, revaluations. What was found is below zero."},
		{Key: "stock", Name: "On the shelf", Says: "What lay there at the end, item by item, as the ledger values it.", At: true},
		{Key: "at bench", Name: "Work at the bench", Says: "Unfinished orders at cost: material as it left the shelf, hours at the planned cost of an hour.", At: true},
		{Key: "put in material", Name: "Material put into orders", Says: "What left the shelf for orders, less what they brought back, order by order."},
		{Key: "put in hours", Name: "Hours put into orders", Says: "Hours worked, at the planned cost of an hour of each order."},
		{Key: "finished", Name: "Finished", Says: "Orders that were done or cancelled in these days, at cost; what came to ended ones later is finished at once."},
	})
}

// moneyKinds are those of quotes, orders, invoices and payments.
func moneyKinds() []Kind {
	return []Kind{
		{Key: "quoted", Name: "Quoted, net", Says: "Each number of a quote once: on the day its first version was issued, at the net of its newest."},
		{Key: "ordered", Name: "Ordered, net", Says: "Orders by the day they were accepted, with their options and changes, less what was cancelled, as they stand now."},
		{Key: "cancelled", Name: "Cancelled, net", Says: "What cancellations took off the net of orders, by the day they were made."},
		{Key: "invoiced", Name: "Invoiced, net", Says: "Invoices by their day; credit notes are below zero."},
		{Key: "paid", Name: "Paid", Says: "What came, with tax, by its day; what went back is below zero."},
		{Key: "owed", Name: "Owed, with tax", Says: "Of each order, what was invoiced and had not come by the end of the last day.", At: true},
		{Key: "tax", Name: "Tax", Says: "Tax of invoices by their day; credit notes are below zero.", Narrowed: []string{"code", "percent", "category"}},
		{Key: "taxed", Name: "Net by rate", Says: "Net of invoices by their day; credit notes are below zero.", Narrowed: []string{"code", "percent", "category"}},
		{Key: "done", Name: "Jobs that ended, net", Says: "Orders by the day they were done or cancelled, at what is charged for them, net."},
		{Key: "fees", Name: "Payment fees of jobs done", Says: "As they were reckoned."},
		{Key: "bought in", Name: "Bought in for jobs done", Says: "As it was reckoned."},
		{Key: "job material", Name: "Material of jobs that ended", Says: "As it left the shelf for orders that were done or cancelled in these days, whenever it did."},
	}
}

// KindOf is the kind of a key.
func KindOf(key string) (Kind, error) {
	all := Kinds()
	i := slices.IndexFunc(all, func(k Kind) bool { return k.Key == key })
	if i < 0 {
		return Kind{}, wrong("what", key, "There is no such figure. Open one from the page of its month.")
	}
	if all[i].Unit == "" {
		all[i].Unit = InMoney
	}
	return all[i], nil
}

// MostRows is how many documents stand on a page.
const MostRows = 500

// Asked is which documents are looked for.
type Asked struct {
	What     string
	From, To time.Time         // days, both within
	By       map[string]string // by keys of the kind; what is not there narrows nothing
	Page     int               // from 1
	All      bool              // every row, for a file
}

// DocumentRow is one document with its share of a figure.
type DocumentRow struct {
	Day    time.Time // zero of what stands at the end
	Link   string    // "quote", "order", "invoice" or "item"
	ID     string    // of it
	Kind   string    // what it is: "credit note"
	Number sales.Number
	Title  string
	Who    string
	Amount decimal.Decimal
}

// Documents are what a figure sums.
type Documents struct {
	Kind
	Asked
	Currency money.Currency
	Rows     []DocumentRow
	N        int
	Sum      decimal.Decimal // of all, on this page or not
}

// Write is an amount with the places of its unit.
func (d Documents) Write(amount decimal.Decimal) string {
	if d.Unit == InMoney {
		return money.Round(amount, d.Currency).String()
	}
	return amount.StringFixed(2)
}

// Grouped is the same as people read it.
func (d Documents) Grouped(amount decimal.Decimal) string {
	if d.Unit == InMoney {
		return words.Money(money.Round(amount, d.Currency))
	}
	return signedText(d.Write(amount))
}

// Pages is how many pages there are.
func (d Documents) Pages() int { return max(1, (d.N+MostRows-1)/MostRows) }

// Documents are what a figure sums, oldest first.
func (s *Service) Documents(ctx context.Context, a Asked) (d Documents, err error) {
	if d.Kind, err = KindOf(a.What); err != nil {
		return d, err
	}
	d.Asked = a
	d.Asked.Page, d.Asked.By = max(1, a.Page), d.narrowed()
	if a.To.Before(a.From) {
		return d, wrong("to", a.To.Format(time.DateOnly), "The last day is before the first. Write the same or a later one.")
	}
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return d, err
	}
	d.Currency = w.Figures.Rates.Currency
	clock := s.now().Location()
	from, to := moment(a.From, clock), moment(a.To.AddDate(0, 0, 1), clock)
	err = s.store.Look(ctx, func(tx Tx) error {
		read := func(skip, most int) error {
			d.Rows, d.N, d.Sum, err = tx.Documents(ctx, d.Kind, Within{d.Currency, from, to}, d.By, skip, most)
			return err
		}
		if a.All {
			return read(0, 0)
		}
		if err := read((d.Asked.Page-1)*MostRows, MostRows); err != nil || d.Asked.Page <= d.Pages() {
			return err
		}
		d.Asked.Page = d.Pages() // of fewer than were asked for, the last
		return read((d.Asked.Page-1)*MostRows, MostRows)
	})
	return d, err
}

// narrowed is what the documents are narrowed by, each of the kind's keys once.
func (d Documents) narrowed() map[string]string {
	by := map[string]string{}
	for _, key := range d.Narrowed {
		if v, ok := d.By[key]; ok {
			by[key] = v
		}
	}
	return by
}

// moment is the beginning of a day by a clock.
func moment(day time.Time, clock *time.Location) time.Time {
	return time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, clock)
}

func wrong(field, value, remedy string) error {
	var l fault.List
	l.Add(field, value, remedy)
	return l.Err()
}
