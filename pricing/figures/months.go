package figures

import (
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// Within is a stretch of time and the currency that is looked at; documents in others are left out.
type Within struct {
	Currency money.Currency
	From, To time.Time // moments, the second one no longer within; days of documents go by their date
}

// MonthsTx sums documents where they lie.
type MonthsTx interface {
	// Sums are one for each stretch between two moments that follow each other; cuts are in order.
	Sums(ctx context.Context, c money.Currency, cuts []time.Time) ([]Sums, error)
	Bench(ctx context.Context, s Within) (BenchFlow, error)
	Taxes(ctx context.Context, s Within) ([]TaxRow, error)
	// Documents are rows of a figure, oldest first, how many there are and their sum; most is 0 for all of them.
	Documents(ctx context.Context, k Kind, s Within, by map[string]string, skip, most int) ([]DocumentRow, int, decimal.Decimal, error)
	// Standings are what was set until months of changes, oldest first.
	Standings(ctx context.Context) ([]workshop.Standing, error)
	// Elsewhere is how many invoices and payments are in another currency.
	Elsewhere(ctx context.Context, c money.Currency) (int, error)
}

// BenchFlow is the work at the bench at cost: material as it left the shelf and hours at the planned cost of an hour.
type BenchFlow struct {
	Begin, Material, Labour, Finished money.Amount
}

// Flow is the same as what was put in and what was finished.
func (b BenchFlow) Flow() Flow { return Flow{b.Begin, b.Material.Add(b.Labour), b.Finished} }

// mostMonths is how many are looked at together.
const mostMonths = 120

// Months are those from one to another, oldest first; zero for the last twelve.
func (s *Service) Months(ctx context.Context, from, to time.Time) (all []Month, err error) {
	from, to, err = s.within(from, to)
	if err != nil {
		return nil, err
	}
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	err = s.store.Look(ctx, func(tx Tx) error {
		all, err = months(ctx, tx, w, from, to)
		return err
	})
	return all, err
}

// within checks the first and the last month and sets them where they are missing.
func (s *Service) within(from, to time.Time) (time.Time, time.Time, error) {
	switch now := s.now(); {
	case from.IsZero() && to.IsZero():
		to = begins(now)
		from = to.AddDate(0, -11, 0)
	case to.IsZero():
		if to = begins(now); to.Before(from) {
			to = from
		}
	case from.IsZero():
		from = begins(to).AddDate(0, -11, 0)
	}
	from, to = begins(from), begins(to)
	if to.Before(from) {
		return from, to, wrong("to", to.Format(monthForm), "The last month is before the first. Write the same or a later one.")
	}
	if to.After(from.AddDate(0, mostMonths-1, 0)) {
		return from, to, wrong("from", from.Format(monthForm), "These are more than ten years. Write a later month.")
	}
	return from, to, nil
}

// months reads the sums of months, oldest first.
func months(ctx context.Context, tx Tx, w workshop.Workshop, from, to time.Time) ([]Month, error) {
	var cuts []time.Time
	for at := from; !at.After(to.AddDate(0, 1, 0)); at = at.AddDate(0, 1, 0) {
		cuts = append(cuts, at)
	}
	c := w.Figures.Rates.Currency
	sums, err := tx.Sums(ctx, c, cuts)
	if err != nil {
		return nil, err
	}
	was, err := tx.Standings(ctx)
	if err != nil {
		return nil, err
	}
	all := make([]Month, len(sums))
	for i := range all {
		set := asSet(was, w.Standing(), cuts[i])
		set.Calendar.Away = w.Figures.Calendar.Away
		all[i] = Month{cuts[i], cuts[i+1], sums[i], There(set.Calendar, set.People, cuts[i], cuts[i+1]), money.Round(set.FixedCosts, c)}
	}
	return all, nil
}

// asSet is what was set in a month: what the first change after it replaced, else what is set now. Fixed costs that were
// not told yet are those that were told first.
func asSet(was []workshop.Standing, now workshop.Standing, month time.Time) workshop.Standing {
	set := now
	for _, w := range slices.Backward(was) {
		if w.Until.Format(monthForm) <= month.Format(monthForm) {
			break
		}
		if w.FixedCosts.IsZero() {
			w.FixedCosts = set.FixedCosts
		}
		set = w
	}
	return set
}

// There are the hours that a bench is open between two moments, times the people at it.
func There(c schedule.Calendar, people int, from, to time.Time) decimal.Decimal {
	var open time.Duration
	for _, s := range c.Shifts(from, to) {
		open += s.To.Sub(s.From)
	}
	return decimal.NewFromInt(int64(open)*int64(people)).DivRound(decimal.NewFromInt(int64(time.Hour)), 2)
}

// MonthPage is one month with all that its page shows.
type MonthPage struct {
	Month
	Bench     BenchFlow
	Taxes     []Taxes // of the month, its quarter and its year
	Even      BreakEven
	Year      []Month      // the twelve months that end with it
	EvenFrom  Month        // the same in one: their jobs tell what an hour brings
	Profit    money.Amount // that is wanted
	Elsewhere int          // invoices and payments in other currencies, which are left out
	Now       time.Time
}

// Month is one month; profit is what is wanted of it besides the fixed costs.
func (s *Service) Month(ctx context.Context, first time.Time, profit decimal.Decimal) (p MonthPage, err error) {
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return p, err
	}
	c := w.Figures.Rates.Currency
	p.Now, p.Profit = s.now(), money.Round(profit, c)
	err = s.store.Look(ctx, func(tx Tx) error {
		year, err := months(ctx, tx, w, first.AddDate(0, -11, 0), first)
		if err != nil {
			return err
		}
		p.Year, p.Month, p.EvenFrom = year, year[len(year)-1], Total(year)
		took := p.EvenFrom.Ended.Took
		p.Even = BreakEven{p.Fixed, took.Hours, took.Net, took.Contribution()}
		if p.Bench, err = tx.Bench(ctx, Within{c, p.First, p.Next}); err != nil {
			return err
		}
		if p.Taxes, err = taxes(ctx, tx, c, first); err != nil {
			return err
		}
		p.Elsewhere, err = tx.Elsewhere(ctx, c)
		return err
	})
	return p, err
}

// Taxes are those of a month, its quarter and its year.
func (s *Service) Taxes(ctx context.Context, first time.Time) (all []Taxes, err error) {
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	err = s.store.Look(ctx, func(tx Tx) error {
		all, err = taxes(ctx, tx, w.Figures.Rates.Currency, first)
		return err
	})
	return all, err
}

func taxes(ctx context.Context, tx Tx, c money.Currency, first time.Time) (all []Taxes, err error) {
	for _, period := range TaxPeriods() {
		from, to, name := period.around(first)
		rows, err := tx.Taxes(ctx, Within{c, from, to})
		if err != nil {
			return nil, err
		}
		all = append(all, taxesOf(c, name, from, to, rows))
	}
	return all, nil
}

// Now is the time by the clock of the workshop.
func (s *Service) Now() time.Time { return s.now() }
