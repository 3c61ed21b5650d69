package figures

import (
	"cmp"
	"context"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

// Scarce is what there may be too little of: hours at the bench, or days on a place.
type Scarce string

// What can be scarce.
const (
	BenchHours Scarce = "bench"
	FormerDays Scarce = "former"
	DryingDays Scarce = "drying"
)

// Scarces are all of them, the bench first.
func Scarces() []Scarce { return []Scarce{BenchHours, FormerDays, DryingDays} }

// Capacity is how much there is of one scarce thing in a stretch of days, in hours at the bench or days on a place:
// what is booked of it, and what those who are awaited will need. What is left may be below nothing.
type Capacity struct {
	Of            Scarce
	There, Booked decimal.Decimal
	Awaited       decimal.Decimal // of orders whose deposit is awaited, as they are planned behind those booked
	Wanted        decimal.Decimal // by all quotes on offer
}

// Left is what is left for new orders.
func (c Capacity) Left() decimal.Decimal { return c.There.Sub(c.Booked).Sub(c.Awaited) }

// Full tells that more is on offer than is left.
func (c Capacity) Full() bool { return c.Wanted.GreaterThan(decimal.Max(c.Left(), decimal.Zero)) }

// Pressure is how much of what is left is wanted; everything where nothing is left.
func (c Capacity) Pressure() decimal.Decimal {
	if !c.Left().IsPositive() {
		return decimal.NewFromInt(1_000_000).Mul(c.Wanted)
	}
	return c.Wanted.DivRound(c.Left(), places)
}

// Candidate is a quote or a design that could be taken, at the price it was issued at, else at today's.
type Candidate struct {
	Shifted
	Enquiry string          // that the quote answers; empty for none
	Takes   decimal.Decimal // of the scarce thing
	Rate    money.Amount    // what one hour or day of it brings
	Fits    int             // how many of it: 1 or 0 for a quote; of a design, how many what is left at last would hold
}

// Taking is what to take when there is not enough of something: a stretch of days, what there is in it, and what is on
// offer by what it brings for the scarce thing, filled in that order.
type Taking struct {
	From, To  time.Time // To is the first day after
	Opens     time.Time // new orders begin on this day; zero for at once
	Scarce    Scarce
	Tightest  Scarce // what most is wanted of, by what is left
	Capacity  map[Scarce]Capacity
	Quotes    []Candidate // what brings most first
	Designs   []Candidate
	LeftAfter decimal.Decimal // of the scarce thing, when all that fits is taken
	Skipped   []Unpriced
}

// Take says what to take in a month, by its first day. Days that are over, and those before new orders are begun, are
// not there. A booked order counts with the hours of its slots that fall into the month, waits not with them.
func (s *Service) Take(ctx context.Context, month time.Time, scarce Scarce) (t Taking, err error) {
	o, err := s.sales.OnOffer(ctx)
	if err != nil {
		return t, err
	}
	days, err := s.sales.Days(ctx)
	if err != nil {
		return t, err
	}
	all, err := s.offers(o)
	if err != nil {
		return t, err
	}
	leave, err := s.takeTurn(ctx)
	if err != nil {
		return t, err
	}
	defer leave()
	weighed, skipped, err := eachOf(ctx, all, func(int, int) {}, func(w offering) (Candidate, error) {
		_, shifted, err := s.today(ctx, w)
		return Candidate{Shifted: shifted, Enquiry: o.Asking[w.Quote.ID]}, err
	})
	if err != nil {
		return t, err
	}
	t = Taking{Scarce: scarce, Skipped: skipped}
	t.stretch(o.Workshop, month, sales.Wall(o.At))
	t.Capacity = capacities(o.Workshop, days, t.From, t.To)
	t.fill(weighed)
	return t, nil
}

// stretch is what of a month is still there for new orders.
func (t *Taking) stretch(w workshop.Workshop, month, now time.Time) {
	t.From, t.To = month, month.AddDate(0, 1, 0)
	if now.After(t.From) {
		t.From = now
	}
	if begin := w.Begin(now); begin.After(t.From) {
		t.From, t.Opens = begin, begin
	}
	if t.From.After(t.To) {
		t.From = t.To
	}
}

// capacities are what there is, what is booked and what is awaited between two moments.
func capacities(w workshop.Workshop, days []sales.OnBench, from, to time.Time) map[Scarce]Capacity {
	calendar := w.Figures.Calendar
	onPlace := func(d time.Duration) decimal.Decimal {
		return decimal.NewFromInt(int64(d)).DivRound(decimal.NewFromInt(int64(24*time.Hour)), 2)
	}
	named := map[string]Scarce{schedule.Former: FormerDays, schedule.DryingPlace: DryingDays}
	all := map[Scarce]Capacity{BenchHours: {Of: BenchHours, There: There(calendar, w.People, from, to)}}
	for place, scarce := range named {
		all[scarce] = Capacity{Of: scarce, There: onPlace(to.Sub(from) * time.Duration(max(1, w.Places[place])))}
	}
	for _, o := range days {
		for _, slot := range o.Plan.Slots {
			begin, end, ready := schedule.Later(slot.Start, from), schedule.Earlier(slot.End, to), schedule.Earlier(slot.Ready, to)
			note := func(scarce Scarce, amount decimal.Decimal) {
				c := all[scarce]
				if o.Booked {
					c.Booked = c.Booked.Add(amount)
				} else {
					c.Awaited = c.Awaited.Add(amount)
				}
				all[scarce] = c
			}
			if end.After(begin) {
				note(BenchHours, There(calendar, slot.People, begin, end))
			}
			if scarce, ok := named[slot.Task.Place]; ok && ready.After(begin) {
				note(scarce, onPlace(ready.Sub(begin)))
			}
		}
	}
	return all
}

// fill gives what is left to what brings most for it.
func (t *Taking) fill(all []Candidate) {
	for i := range all {
		o := &all[i]
		for _, scarce := range Scarces() {
			if o.Kind != ADesign {
				c := t.Capacity[scarce]
				c.Wanted = c.Wanted.Add(o.takes(scarce))
				t.Capacity[scarce] = c
			}
		}
		o.Takes = o.takes(t.Scarce)
		o.Rate = per(o.Was.Contribution(), o.Takes)
	}
	t.Tightest = slices.MaxFunc(Scarces(), func(a, b Scarce) int {
		return cmp.Or(t.Capacity[a].Pressure().Cmp(t.Capacity[b].Pressure()), slices.Index(Scarces(), b)-slices.Index(Scarces(), a))
	})
	fill := func(left decimal.Decimal, wanted int, some []Candidate) ([]Candidate, decimal.Decimal) {
		wishes := make([]Wish, len(some))
		for i, o := range some {
			wishes[i] = Wish{Name: o.Was.ID, Wanted: wanted, Contribution: o.Was.Contribution().Decimal(), Takes: o.Takes}
		}
		filled, left := Fill(left, wishes)
		at := map[string]Candidate{}
		for _, o := range some {
			at[o.Was.ID] = o
		}
		ordered := make([]Candidate, len(filled))
		for i, f := range filled {
			ordered[i] = at[f.Name]
			ordered[i].Fits = f.Makes
		}
		return ordered, left
	}
	var quotes, designs []Candidate
	for _, o := range all {
		if o.Kind == ADesign {
			designs = append(designs, o)
		} else {
			quotes = append(quotes, o)
		}
	}
	t.Quotes, t.LeftAfter = fill(decimal.Max(t.Capacity[t.Scarce].Left(), decimal.Zero), 1, quotes)
	t.Designs, _ = fill(decimal.Zero, 0, designs)
	for i, d := range t.Designs {
		if d.Takes.IsPositive() && d.Was.Contribution().Sign() > 0 {
			t.Designs[i].Fits = int(decimal.Max(t.LeftAfter, decimal.Zero).Div(d.Takes).IntPart())
		}
	}
}

// takes is how much of a scarce thing an order takes.
func (o Candidate) takes(scarce Scarce) decimal.Decimal {
	switch scarce {
	case FormerDays:
		return o.Was.Former
	case DryingDays:
		return o.Was.Drying
	}
	return o.Was.Hours
}

// Taken is how many quotes fit and what they bring.
func (t Taking) Taken(currency money.Currency) (n int, contribution money.Amount) {
	contribution = money.Sum(currency)
	for _, q := range t.Quotes {
		if q.Fits > 0 {
			n, contribution = n+1, contribution.Add(q.Was.Contribution())
		}
	}
	return n, contribution
}
