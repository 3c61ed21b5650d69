package sales

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// LineKind is where a line of an order comes from.
type LineKind string

// The kinds of lines.
const (
	QuoteLine  LineKind = "quote"
	OptionLine LineKind = "option"
	ChangeLine LineKind = "change" // an accepted change note
	// CancelLine takes off what is not kept of a cancelled order.
	CancelLine LineKind = "cancelled"
)

// OrderLine is one line of what was agreed. Lines are only ever added.
type OrderLine struct {
	Kind     LineKind
	Key      string // of the option; the number of the change note
	Text     string
	Quantity int // pieces it is for
	// Amount is for all of them: net, or with tax where prices are made with tax inside. That of a CancelLine always has
	// tax in it, so that what is kept can be any sum to the cent.
	Amount money.Amount
}

// Terms are what the sums of an order are made by, from the day it was quoted.
type Terms struct {
	Regime tax.Regime // without its rates
	Rate   tax.Rate
}

// Totals are net, tax and gross of an order: what is invoiced in all, neither more nor less.
func (o Order) Totals() tax.Totals {
	var lines []tax.Line
	for _, l := range o.Lines {
		if l.Kind != CancelLine {
			lines = append(lines, tax.Line{Amount: l.Amount, Rate: o.Terms.Rate})
		}
	}
	sums := o.Terms.Regime.Totals(o.Deposit.Currency(), lines)
	for _, l := range o.Lines {
		if l.Kind == CancelLine {
			sums = o.Terms.part(sums, sums.Gross.Add(l.Amount))
		}
	}
	return sums
}

// Off is what a cancellation took off the net.
func (o Order) Off() money.Amount {
	agreed := o
	agreed.Lines = slices.DeleteFunc(slices.Clone(o.Lines), func(l OrderLine) bool { return l.Kind == CancelLine })
	return agreed.Totals().Net.Sub(o.Totals().Net)
}

// NotKept is the line that takes off all of an order but a sum with tax, which is kept of one that is cancelled.
func (o Order) NotKept(kept money.Amount, text string) OrderLine {
	return OrderLine{Kind: CancelLine, Text: text, Quantity: 1, Amount: kept.Sub(o.Totals().Gross)}
}

// Agreed is what an order is made to where it is not what its quote alone says: options were chosen, or changes
// agreed on later.
type Agreed struct {
	Form     orderform.Form
	Made     []string // in English, for the workshop
	Said     []string // in the customer's language
	Costing  pricing.Costing
	Takes    []Taking
	Tasks    []schedule.Task
	Snapshot string // hash of the figures it was worked out from
}

// as is a quote with what an order agreed in place of its own.
func (o Order) as(q Quote) Quote {
	if a := o.Agreed; a != nil {
		q.Form, q.Snapshot, q.Printed.Made, q.Printed.Takes, q.Printed.Tasks = a.Form, a.Snapshot, a.Made, a.Takes, a.Tasks
		q.Printed.Costing = a.Costing
	}
	return q
}

// Choice is how a quote was accepted.
type Choice struct {
	Options  []string // keys
	Name     string   // of who accepted, as they wrote it
	Document string   // hash of the document they saw; empty where the maker notes it
	Online   bool     // on the customer's own page
	Note     string
	Latex    Latex  // what was said about it; empty where it was not asked
	Language string // the page was read in
	Link     string // ID of the link that opened it
}

// Outcome is how a quote ended.
type Outcome string

// The outcomes.
const (
	Yes Outcome = "accepted"
	No  Outcome = "declined"
)

// Answer is what became of a quote, with what was seen: kept for good.
type Answer struct {
	QuoteID  string
	Outcome  Outcome
	At       time.Time
	Name     string // of the customer, as they wrote it
	By       string // who noted it; the customer's name where it came online
	Online   bool
	Options  []string
	Document string // hash
	Reason   string // it was declined for, or a note
	Gross    money.Amount
	Latex    Latex
	Language string // ISO 639-1, of the page; empty where the maker noted it
	Link     string
	Seen     time.Time // by the workshop, where it came online; zero until then
}

// agree works out what an order is made to with some options, from the figures the quote was issued with.
func (s *Service) agree(ctx context.Context, tx Tx, q Quote, options []PrintedOption) (*Agreed, error) {
	if len(options) == 0 {
		return nil, nil
	}
	body, err := tx.Snapshot(ctx, q.Snapshot)
	if err != nil {
		return nil, err
	}
	var snap pricing.Snapshot
	if err := json.Unmarshal(body, &snap); err != nil {
		return nil, fmt.Errorf("snapshot of quote %s: %w", q.ID, err)
	}
	form, err := with(q.Form, options)
	if err != nil {
		return nil, err
	}
	e, err := worked(ctx, form, snap)
	if err != nil {
		return nil, err
	}
	return agreed(form, e, q.Snapshot, words.Speak(q.Printed.Said.Language)), nil
}

// worked is a form worked out as thoroughly as when a quote is issued.
func worked(ctx context.Context, form orderform.Form, snap pricing.Snapshot) (pricing.Estimate, error) {
	spec, err := form.Spec()
	if err != nil {
		return pricing.Estimate{}, err
	}
	return pricing.Make(ctx, spec, snap, pricing.Issue)
}

// agreed is what a form comes to that was worked out; t is the customer's tongue.
func agreed(form orderform.Form, e pricing.Estimate, snapshot string, t words.Tongue) *Agreed {
	return &Agreed{
		Form: form, Made: Describe(words.Tongue{}, e.Shield), Said: Describe(t, e.Shield), Costing: e.Costing(), Takes: takings(e), Tasks: e.Tasks, Snapshot: snapshot,
	}
}

// lines are what a quote and its options come to.
func (q Quote) lines(options []PrintedOption) []OrderLine {
	pieces := q.pieces()
	base := q.Net
	if q.Printed.Terms.Regime.GrossPrices && q.Printed.Terms.Regime.Registered {
		base = q.Gross
	}
	all := []OrderLine{{Kind: QuoteLine, Text: q.Title, Quantity: pieces, Amount: base}}
	for _, o := range options {
		all = append(all, OrderLine{OptionLine, o.Key, o.Name, pieces, money.Round(o.Amount, q.Gross.Currency())})
	}
	return all
}

// pieces is how many a quote is for.
func (q Quote) pieces() int { return piecesOf(q.Form) }

func piecesOf(form orderform.Form) int {
	if spec, err := form.Spec(); err == nil {
		return spec.Quantity
	}
	return 1
}

// deposit is the share of a price that books the bench.
func (q Quote) deposit(gross money.Amount) money.Amount {
	return money.Round(gross.Decimal().Mul(q.Printed.DepositShare), gross.Currency())
}

// With is what a quote costs with some of its options, as its customer is told.
func (q Quote) With(keys []string) (tax.Totals, error) {
	if q.State == Draft {
		return tax.Totals{}, fault.New(fault.State, "This quote has not been issued: its options have no price yet.")
	}
	options, err := q.Printed.chosen(keys)
	if err != nil {
		return tax.Totals{}, err
	}
	o := Order{Lines: q.lines(options), Terms: q.Printed.Terms, Deposit: money.Round(decimal.Zero, q.Gross.Currency())}
	return o.Totals(), nil
}
