package sales

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// ChangeState is where a change note stands.
type ChangeState string

// The states of a change note: it is offered, and answered or withdrawn once.
const (
	Offered   ChangeState = "offered"
	Consented ChangeState = "accepted"
	Refused   ChangeState = "declined"
	Withdrawn ChangeState = "withdrawn"
)

// ChangeNote is a change of an order, offered at a price: the difference of two full estimates from the figures the
// order was quoted with, so that what does not change costs what it did.
type ChangeNote struct {
	Order    string
	No       int
	State    ChangeState
	Label    string       // what changes, in the maker's words
	Moved    []MovedEntry // of the spec
	Agreed   Agreed       // what is made once it is accepted
	Amount   money.Amount // as the order's lines: net, or with tax where prices are made with tax inside
	Document string       // hash
	Offered  time.Time
	By       string
	Answered time.Time
	Name     string // of who answered
	Online   bool
	Reason   string
}

// Change is what a changed spec does to an order, before it is offered.
type Change struct {
	Order         Order
	Estimate      pricing.Estimate // of the changed spec, whole
	Figures       pricing.Snapshot // it is priced with: those of the order
	Moved         []MovedEntry     // none where nothing is changed yet
	Amount        money.Amount
	Before, After tax.Totals
	agreed        *Agreed
	latex         bool     // comes with it
	said          []string // what moved, in the customer's language
}

// PriceChange works out what a changed spec does to an order that is still to be made. Nothing is stored.
func (s *Service) PriceChange(ctx context.Context, id string, form orderform.Form) (Change, error) {
	return read(ctx, s, func(tx Tx) (Change, error) {
		o, err := tx.Order(ctx, id)
		if err != nil {
			return Change{}, err
		}
		return s.priceChange(ctx, tx, o, form)
	})
}

func (s *Service) priceChange(ctx context.Context, tx Tx, o Order, form orderform.Form) (c Change, err error) {
	if !o.Open() {
		return c, ended(o)
	}
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return c, err
	}
	q = o.as(q)
	body, err := tx.Snapshot(ctx, q.Snapshot)
	if err != nil {
		return c, err
	}
	var snap pricing.Snapshot
	if err := json.Unmarshal(body, &snap); err != nil {
		return c, fmt.Errorf("snapshot of quote %s: %w", q.ID, err)
	}
	c = Change{Order: o, Figures: snap, Moved: Differences(words.Tongue{}, snap.Catalogue, q.Form, form)}
	if c.Estimate, err = worked(ctx, form, snap); err != nil {
		return c, err
	}
	was, err := worked(ctx, q.Form, snap)
	if err != nil {
		return c, err
	}
	c.Amount = c.Estimate.Price.Net.Sub(was.Price.Net)
	if r := o.Terms.Regime; r.Registered && r.GrossPrices {
		c.Amount = c.Estimate.Price.Gross.Sub(was.Price.Gross)
	}
	c.Before = o.Totals()
	o.Lines = append(o.Lines[:len(o.Lines):len(o.Lines)], OrderLine{Kind: ChangeLine, Amount: c.Amount})
	c.After = o.Totals()
	if err := enough(ctx, tx, o, form); err != nil {
		return c, err
	}
	if c.After.Gross.Sign() < 0 {
		return c, fault.New(fault.Invalid, "The order would come to less than nothing. Cancel it instead.")
	}
	customer, err := tx.Customer(ctx, o.CustomerID)
	c.latex = bringsLatex(q.Form, form)
	c.agreed = agreed(form, c.Estimate, q.Snapshot, customer.tongue())
	for _, m := range Differences(customer.tongue(), snap.Catalogue, q.Form, form) {
		c.said = append(c.said, m.In(customer.tongue()))
	}
	return c, err
}

// OfferChange puts a change to the customer: it is priced, printed and kept. edit is the order's as it was seen; gross
// is the order's new total that was shown.
func (s *Service) OfferChange(ctx context.Context, id string, edit int, gross, label string, form orderform.Form, by string) (ChangeNote, error) {
	var n ChangeNote
	_, err := s.order(ctx, id, func(tx Tx, o *Order) error {
		var l fault.List
		if label = strings.TrimSpace(label); label == "" {
			l.Add("label", "", "Say in a few words what changes: it stands on the change note.")
		}
		long(&l, "label", label, 400)
		if err := l.Err(); err != nil {
			return err
		}
		if o.Edit != edit {
			return fault.New(fault.Conflict, "Order %s has changed since this page was opened. Look at it again, then offer the change.", o.Number)
		}
		notes, err := tx.ChangeNotes(ctx, id)
		if err != nil {
			return err
		}
		if k := len(notes); k > 0 && notes[k-1].State == Offered {
			return fault.New(fault.State, "Change %d waits for its answer. Note the answer or withdraw it first: the next change is priced from what it makes of the order.", notes[k-1].No)
		}
		c, err := s.priceChange(ctx, tx, *o, form)
		if err != nil {
			return err
		}
		if len(c.Moved) == 0 {
			return fault.New(fault.Invalid, "Nothing is changed yet. Change an entry of the spec, or add a step of work under Other steps.")
		}
		if got := c.After.Gross.String(); got != gross {
			return fault.New(fault.Conflict, "You saw the order at %s with this change; it comes to %s. Look at it again, then offer it.", fault.Shorten(gross), words.Price(c.After.Gross))
		}
		n = ChangeNote{
			Order: id, No: len(notes) + 1, State: Offered, Label: label, Moved: c.Moved, Agreed: *c.agreed, Amount: c.Amount, Offered: s.now(), By: by,
		}
		return s.keepChange(ctx, tx, *o, c, &n)
	})
	return n, err
}

// keepChange prints a change note and keeps it.
func (s *Service) keepChange(ctx context.Context, tx Tx, o Order, c Change, n *ChangeNote) error {
	l, err := s.head(ctx, tx, o)
	if err != nil {
		return err
	}
	doc, err := s.print(ctx, tx, changeLetter(l, o, c, *n))
	if err != nil {
		return err
	}
	n.Document = doc.Hash
	if err := tx.AddChangeNote(ctx, *n); err != nil {
		return err
	}
	return tx.AddPaper(ctx, OrderPaper{Order: o.ID, Kind: ChangePaper, No: n.No, Document: doc.Hash, At: n.Offered, By: n.By})
}

// AnswerChange notes what the customer said to a change. An accepted one is what is made from then on: its price is a
// line of the order, its material is set aside, what was invoiced above the new price is credited, and the bench is
// planned anew.
func (s *Service) AnswerChange(ctx context.Context, id string, no int, yes bool, c Choice, by string) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error { return s.answerChange(ctx, tx, o, no, yes, c, by) })
}

func (s *Service) answerChange(ctx context.Context, tx Tx, o *Order, no int, yes bool, c Choice, by string) error {
	n, err := openChange(ctx, tx, *o, no)
	if err != nil {
		return err
	}
	if c.Document != "" && c.Document != n.Document {
		return fault.New(fault.Conflict, "This is not the change you saw. Open it again and look at it first.")
	}
	var l fault.List
	long(&l, "name", c.Name, 200)
	long(&l, "reason", c.Note, 2000)
	if err := l.Err(); err != nil {
		return err
	}
	n.State, n.Answered, n.Name, n.Online, n.Reason = Refused, s.now(), oneName(c.Name), c.Online, strings.TrimSpace(c.Note)
	n.Name = cmp.Or(n.Name, by)
	if !yes {
		return tx.AnswerChangeNote(ctx, n)
	}
	n.State = Consented
	if err := tx.AnswerChangeNote(ctx, n); err != nil {
		return err
	}
	if err := s.overtake(ctx, tx, o.ID, by); err != nil {
		return err
	}
	return s.apply(ctx, tx, o, n, by)
}

// WithdrawChange takes back an offered change.
func (s *Service) WithdrawChange(ctx context.Context, id string, no int, by string) (Taken, error) {
	return s.order(ctx, id, func(tx Tx, o *Order) error {
		n, err := openChange(ctx, tx, *o, no)
		if err != nil {
			return err
		}
		n.State, n.Answered, n.Name = Withdrawn, s.now(), by
		return tx.AnswerChangeNote(ctx, n)
	})
}

// withdraw takes back the change that waits, if one does.
func withdraw(ctx context.Context, tx Tx, now time.Time, order, by string) error {
	notes, err := tx.ChangeNotes(ctx, order)
	if err != nil {
		return err
	}
	for _, n := range notes {
		if n.State == Offered {
			n.State, n.Answered, n.Name = Withdrawn, now, by
			return tx.AnswerChangeNote(ctx, n)
		}
	}
	return nil
}

func openChange(ctx context.Context, tx Tx, o Order, no int) (ChangeNote, error) {
	notes, err := tx.ChangeNotes(ctx, o.ID)
	if err != nil {
		return ChangeNote{}, err
	}
	if no < 1 || no > len(notes) {
		return ChangeNote{}, fault.New(fault.NotFound, "Order %s has no change %d.", o.Number, no)
	}
	n := notes[no-1]
	if n.State != Offered {
		return n, fault.New(fault.State, "Change %d was %s already.", no, n.State)
	}
	if !o.Open() {
		return n, ended(o)
	}
	return n, nil
}

// apply makes an accepted change what the order is made to.
func (s *Service) apply(ctx context.Context, tx Tx, o *Order, n ChangeNote, by string) error {
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return err
	}
	was := o.as(q).Printed
	if err := enough(ctx, tx, *o, n.Agreed.Form); err != nil {
		return err
	}
	line := OrderLine{ChangeLine, strconv.Itoa(n.No), n.Label, piecesOf(n.Agreed.Form), n.Amount}
	if err := tx.AddLines(ctx, o.ID, len(o.Lines), []OrderLine{line}); err != nil {
		return err
	}
	o.Lines, o.Agreed = append(o.Lines, line), &n.Agreed
	if o.State == Accepted { // nobody pays a deposit above the price
		o.Deposit = least(o.Deposit, o.Totals().Gross)
	}
	needs, err := stillNeeded(ctx, tx, *o, was.Takes)
	if err != nil {
		return err
	}
	over := time.Date(o.DepositDue.Year(), o.DepositDue.Month(), o.DepositDue.Day()+1, 0, 0, 0, 0, s.now().Location())
	if err := stock.Reneed(ctx, tx, o.ID, needs, o.State == Booked, over, s.now()); err != nil {
		return err
	}
	if _, err := s.settle(ctx, tx, o.ID, oneName(n.Label), by); err != nil { // numbers before the bench, as every act locks
		return err
	}
	if o.State != Booked || reflect.DeepEqual(was.Tasks, n.Agreed.Tasks) { // its days stay where no work is otherwise
		return nil
	}
	return s.book(ctx, tx, *o)
}

// stillNeeded is what an order needs of each item from now on, where it took was before it changed: what it still
// waited for and the difference, but no more than the new sum less what is off the shelf already. What was cut counts
// as taken, also where it came to less than was reckoned.
func stillNeeded(ctx context.Context, tx Tx, o Order, was []Taking) ([]stock.Need, error) {
	moves, err := tx.MovementsOf(ctx, o.ID)
	if err != nil {
		return nil, err
	}
	promises, err := tx.PromisesOf(ctx, o.ID)
	if err != nil {
		return nil, err
	}
	used, waited := Taken{Moves: moves}.Used(), map[string]decimal.Decimal{}
	for _, p := range promises {
		waited[p.Item] = p.Needed
	}
	for _, t := range was {
		waited[t.Item] = waited[t.Item].Sub(t.Quantity)
	}
	var needs []stock.Need
	for _, t := range o.Agreed.Takes {
		if left := decimal.Min(waited[t.Item].Add(t.Quantity), t.Quantity.Sub(used[t.Item])); left.IsPositive() {
			needs = append(needs, stock.Need{Item: t.Item, Quantity: left, Due: o.Starts})
		}
	}
	return needs, nil
}

// enough refuses a change to fewer pieces than were handed over.
func enough(ctx context.Context, tx Tx, o Order, form orderform.Form) error {
	handed, err := tx.Deliveries(ctx, o.ID)
	if gone := handedOver(handed); err == nil && gone > piecesOf(form) {
		err = fault.New(fault.State, "%d pieces of order %s were handed over already, more than are left with this change.", gone, o.Number)
	}
	return err
}

// bringsLatex tells that a change coats with natural rubber latex what was to be free of it.
func bringsLatex(was, now orderform.Form) bool {
	latex := func(f orderform.Form) bool {
		spec, err := f.Spec()
		return err == nil && spec.Coat.System == "latex"
	}
	return latex(now) && !latex(was)
}
