package figures

import (
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// OutcomeTx reads how quotes ended.
type OutcomeTx interface {
	// Offered are the quote numbers that were first issued from one moment to before another, oldest first; today is
	// the day's first moment, up to which a quote without an answer may have run out.
	Offered(ctx context.Context, from, before, today time.Time) ([]Offered, error)
}

// Outcomes is how the quotes of some days ended.
type Outcomes struct {
	From, To time.Time // days, both counted
	All      Tally
	Groups   []Grouping
	Reasons  []Reason // of those that were declined, the most frequent first
	quotes   []Offered
}

// Period are the days that are looked at where nothing else is asked: the last twelve months.
func Period(today time.Time) (from, to time.Time) {
	return stock.Day(today).AddDate(-1, 0, 1), stock.Day(today)
}

// Outcomes are those of quotes first issued on some days; zero for the usual ones.
func (s *Service) Outcomes(ctx context.Context, from, to time.Time) (Outcomes, error) {
	now := s.now()
	first, last := Period(now)
	if to.IsZero() {
		to = last
	}
	if from.IsZero() {
		if from = first; to.Before(from) {
			from = to.AddDate(-1, 0, 1)
		}
	}
	if to.Before(from) {
		var l fault.List
		l.Add("to", to.Format(time.DateOnly), "The last day is before the first. Write the same or a later one.")
		return Outcomes{}, l.Err()
	}
	var quotes []Offered
	begin := func(day time.Time) time.Time {
		return time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, now.Location())
	}
	err := s.store.Look(ctx, func(tx Tx) (err error) {
		quotes, err = tx.Offered(ctx, begin(from), begin(to.AddDate(0, 0, 1)), begin(now))
		return err
	})
	if err != nil {
		return Outcomes{}, err
	}
	for i := range quotes {
		q := &quotes[i]
		for _, t := range []*time.Time{&q.Asked, &q.First, &q.Issued, &q.Answered} {
			if !t.IsZero() {
				*t = t.In(now.Location())
			}
		}
	}
	o := Judge(quotes)
	o.From, o.To = from, to
	return o, nil
}

// Judge counts quotes.
func Judge(quotes []Offered) Outcomes {
	o := Outcomes{quotes: quotes, Groups: groupings(quotes), Reasons: reasons(quotes)}
	for _, q := range quotes {
		o.All.count(q.Outcome)
	}
	return o
}

// Wait is the median of the days from the last version to its answer, and of how many; of none it is nought.
func (o Outcomes) Wait() (median decimal.Decimal, of int) {
	var all []int
	for _, q := range o.quotes {
		if !q.Answered.IsZero() {
			all = append(all, days(q.Issued, q.Answered))
		}
	}
	if len(all) == 0 {
		return median, 0
	}
	slices.Sort(all)
	middle := all[len(all)/2] + all[(len(all)-1)/2]
	return decimal.NewFromInt(int64(middle)).DivRound(decimal.NewFromInt(2), 1), len(all)
}

// Row is which quotes are asked for: an outcome, a row of a grouping, a reason; empty for all.
type Row struct{ Outcome, Group, Key string }

// Quotes are those of a row, the newest first, and what the row is called; false where there is no such row.
func (o Outcomes) Quotes(r Row) (list []Offered, name string, found bool) {
	in := func(Offered) bool { return true }
	switch {
	case r.Group == reasonsKey:
		in = func(q Offered) bool { return q.Outcome == Lost && wording(q.Reason) == r.Key }
		for _, reason := range o.Reasons {
			if reason.Key == r.Key {
				name, found = "Declined: "+reason.Name(), true
			}
		}
	case r.Group != "":
		for _, g := range o.Groups {
			for _, row := range g.Rows {
				if g.Key == r.Group && row.Key == r.Key {
					in, name, found = func(q Offered) bool { return g.of(q) == r.Key }, g.Name+": "+row.Name, true
				}
			}
		}
	default:
		found = true
	}
	if !found || r.Outcome != "" && !slices.Contains(Endings(), Outcome(r.Outcome)) {
		return nil, "", false
	}
	for _, q := range slices.Backward(o.quotes) {
		if in(q) && (r.Outcome == "" || q.Outcome == Outcome(r.Outcome)) {
			list = append(list, q)
		}
	}
	return list, name, true
}
