package figures

import (
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/money"
)

// Counted is the sum of some documents and how many they are.
type Counted struct {
	Amount money.Amount
	N      int
}

func (c Counted) add(o Counted) Counted { return Counted{c.Amount.Add(o.Amount), c.N + o.N} }

// Sums are what the documents of a stretch of time sum to. Everything is as known now: an order counts in the month it
// was accepted in with what it comes to now, a log on the day that was worked, as it was corrected last.
type Sums struct {
	// Quoted are numbers of quotes, each once: in the month its first version was issued, at the net of its newest.
	Quoted Counted
	// Ordered is the net of orders by when they were accepted, with their options and changes, less what was cancelled.
	Ordered Counted
	// Cancelled is what cancellations took off the net, by when they were made.
	Cancelled Counted
	// Invoiced is the net of invoices less that of credit notes, by their day.
	Invoiced Counted
	// Paid is what came less what went back, with tax, by its day.
	Paid Counted
	// Owed is, order by order, what was invoiced with tax and had not come by the end.
	Owed money.Amount
	// Stock is what lay on the shelf at the end, as the ledger values it.
	Stock money.Amount
	// Bought came onto the shelf, Taken left it for orders less what they brought back, Lost left it without one: waste,
	// differences found by counting, revaluations, and what was taken for no order.
	Bought, Taken, Lost money.Amount
	// Sold are planned hours of orders by when they were accepted, without cancelled ones.
	Sold decimal.Decimal
	// Minutes were worked at the bench, rework too.
	Minutes decimal.Decimal
	Ended   Ended
}

// Ended are jobs by when they were done or cancelled.
type Ended struct {
	Done, Dropped int
	// Planned and Took are the costings of jobs that were done, as reckoned and as they went, summed.
	Planned, Took pricing.Costing
	// Kept is the net that is charged for cancelled ones; Wasted their material as it left the shelf.
	Kept, Wasted money.Amount
	// Minutes were worked on all of them until now.
	Minutes decimal.Decimal
}

// Month is one month's sums beside what it had to give: hours and fixed costs as they were set then.
type Month struct {
	First, Next time.Time // its first moment and that of the month after it, by the clock of the workshop
	Sums
	There decimal.Decimal // hours that the bench is open, times its people
	Fixed money.Amount
}

// Key is the month as addresses have it, "2026-11".
func (m Month) Key() string { return m.First.Format(monthForm) }

// Last is its last day.
func (m Month) Last() time.Time { return m.Next.AddDate(0, 0, -1) }

// Over tells that the month is over at a moment.
func (m Month) Over(now time.Time) bool { return !now.Before(m.Next) }

// Worked are the hours at the bench.
func (s Sums) Worked() decimal.Decimal { return hoursOf(s.Minutes) }

func hoursOf(minutes decimal.Decimal) decimal.Decimal { return minutes.DivRound(sixty, 2) }

// Earnings is what jobs left after everything: real, because each part is what happened and not what was reckoned,
// except the payment fee and what was bought in, which nobody notes otherwise.
//
// Definition: income and hours are those of the jobs that were done or cancelled in the month, whole, whenever they were
// begun; so every net, every gramme and every minute counts once, in the month its job ended. Off go their material as
// it left the shelf, what the shelf lost in the month, and the month's fixed costs. What is left, by the hours logged
// on those jobs, is what an hour at the bench really earned. The share for handling that prices reckon with is no
// cost of its own here: what it is meant for is in what the shelf lost and in the fixed costs.
type Earnings struct {
	Net, Fee, BoughtIn, Material, Lost, Fixed money.Amount
	Minutes                                   decimal.Decimal
}

// Earnings is what the jobs that ended left.
func (m Month) Earnings() Earnings {
	e := m.Ended
	return Earnings{
		Net: e.Took.Net.Add(e.Kept), Fee: e.Took.Fee, BoughtIn: e.Took.BoughtIn, Material: e.Took.Material.Add(e.Wasted),
		Lost: m.Lost, Fixed: m.Fixed, Minutes: e.Minutes,
	}
}

// Left is what was earned.
func (e Earnings) Left() money.Amount {
	return e.Net.Sub(e.Fee).Sub(e.BoughtIn).Sub(e.Material).Sub(e.Lost).Sub(e.Fixed)
}

// Hours were worked for it.
func (e Earnings) Hours() decimal.Decimal { return hoursOf(e.Minutes) }

// Known tells that there were hours to earn in.
func (e Earnings) Known() bool { return e.Minutes.IsPositive() }

// PerHour is what an hour at the bench earned, to the cent; zero where none was worked.
func (e Earnings) PerHour() money.Amount {
	return money.Round(ratio(e.Left().Decimal().Mul(sixty), e.Minutes), e.Net.Currency())
}

// Reckoned is what the jobs that were done were to earn an hour by the same definition, had they gone as planned and had
// the shelf lost nothing.
func (m Month) Reckoned() money.Amount {
	p := m.Ended.Planned
	return per(p.Net.Sub(p.Fee).Sub(p.Material).Sub(p.BoughtIn).Sub(m.Fixed), p.Hours)
}

// Overhead spreads the fixed costs over the hours that were there.
func (m Month) Overhead() Overhead { return Overhead{m.Fixed, m.There} }

// Shelf is how the material flowed; what was lost went out too.
func (s Sums) Shelf() Flow {
	out := s.Taken.Add(s.Lost)
	return Flow{s.Stock.Sub(s.Bought).Add(out), s.Bought, out}
}

// Total sums months that follow each other, oldest first; what is owed and what lies on the shelf is that of the last.
func Total(all []Month) (t Month) {
	for i, m := range all {
		if i == 0 {
			t = m
			continue
		}
		t.Next, t.Owed, t.Stock = m.Next, m.Owed, m.Stock
		t.There, t.Fixed = t.There.Add(m.There), t.Fixed.Add(m.Fixed)
		t.Quoted, t.Ordered, t.Cancelled = t.Quoted.add(m.Quoted), t.Ordered.add(m.Ordered), t.Cancelled.add(m.Cancelled)
		t.Invoiced, t.Paid = t.Invoiced.add(m.Invoiced), t.Paid.add(m.Paid)
		t.Bought, t.Taken, t.Lost = t.Bought.Add(m.Bought), t.Taken.Add(m.Taken), t.Lost.Add(m.Lost)
		t.Sold, t.Minutes = t.Sold.Add(m.Sold), t.Minutes.Add(m.Minutes)
		t.Ended = t.Ended.add(m.Ended)
	}
	return t
}

func (e Ended) add(o Ended) Ended {
	return Ended{
		e.Done + o.Done, e.Dropped + o.Dropped, e.Planned.Add(o.Planned), e.Took.Add(o.Took),
		e.Kept.Add(o.Kept), e.Wasted.Add(o.Wasted), e.Minutes.Add(o.Minutes),
	}
}

const monthForm = "2006-01"

// ParseMonth reads a month of an entry, "2026-11", as its first moment by a clock.
func ParseMonth(field, text string, clock *time.Location) (time.Time, error) {
	first, err := time.ParseInLocation(monthForm, text, clock)
	if err != nil || first.Year() < 2000 || first.Year() > 2200 {
		return first, wrong(field, text, "Write a month as year and number, for example 2026-11.")
	}
	return first, nil
}

// begins is the first moment of the month that a moment is in.
func begins(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), 1, 0, 0, 0, 0, t.Location())
}

// Words is the month in words, "November 2026".
func (m Month) Words() string { return fmt.Sprint(m.First.Month(), " ", m.First.Year()) }
