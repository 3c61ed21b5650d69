package web

import (
	"context"
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

// days says on a board when what is on it can be ready, and leaves out what the estimate said of one pair of hands: the
// workshop knows its people.
func (p *Pages) days(ctx context.Context, b *board) (err error) {
	if b.Days, err = p.sales.Fit(ctx, *b.Estimate); err == nil {
		late := b.Estimate.Late()
		b.Estimate.Warnings = slices.DeleteFunc(slices.Clone(b.Estimate.Warnings), func(w string) bool { return w == late })
	}
	return err
}

// orderDays is one order's place on the bench.
type orderDays struct {
	Booked         bool
	Ready, Decides string
	Least          string // that nothing makes shorter
	Holds          []string
	Promised       time.Time // asked for; zero for no date
	Missed         bool
	Damp           []string
	Slots          []slotRow
}

// slotRow is a step with its time; Day stands at the first of a day only.
type slotRow struct {
	Day, SameDay, Time, Name, Place, Wait string
	People                                int
}

// orderDays plans an order for its page; nil where it is over.
func (p *Pages) orderDays(ctx context.Context, order string) (*orderDays, error) {
	all, err := p.sales.Days(ctx)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(all, func(o sales.OnBench) bool { return o.Order.ID == order })
	if i < 0 {
		return nil, nil
	}
	o, now := all[i], wallClock()
	d := &orderDays{Booked: o.Booked, Ready: words.Moment(o.Plan.Ready, now), Promised: o.Promised, Missed: o.Missed(), Decides: o.Decides, Least: sales.Least(o.Plan), Damp: o.Damp}
	holds := sales.Holds(o.Plan, sales.Titles(all), now)
	for _, h := range holds {
		d.Holds = append(d.Holds, sales.Sentence(h.Says)+".")
	}
	for _, s := range o.Plan.Slots {
		d.Slots = append(d.Slots, row(s, now))
		if n := len(d.Slots); n > 1 && d.Slots[n-2].SameDay == d.Slots[n-1].SameDay {
			d.Slots[n-1].Day = ""
		}
	}
	return d, nil
}

func row(s schedule.Slot, now time.Time) slotRow {
	r := slotRow{Day: words.Day(s.Start, now), Time: s.Start.Format("15:04"), Name: s.Task.Name, Place: s.Task.Place, People: s.People}
	r.SameDay = r.Day
	switch {
	case s.End.YearDay() != s.Start.YearDay():
		r.Time += " to " + words.Moment(s.End, now)
	case s.End.After(s.Start):
		r.Time += " to " + s.End.Format("15:04")
	}
	switch {
	case s.Ready.After(s.End) && s.Ready.YearDay() == s.Start.YearDay():
		r.Wait = s.Ready.Format("15:04")
	case s.Ready.After(s.End):
		r.Wait = words.Moment(s.Ready, now)
	}
	return r
}

// wallClock is the time on the workshop's wall, as days and slots are written.
func wallClock() time.Time { return sales.Wall(time.Now()) }

// replan puts an order on the bench anew.
func (p *Pages) replan(c *fiber.Ctx) error {
	err := p.sales.Replan(c.UserContext(), c.Params("id"))
	if err == nil {
		return c.Redirect("/orders/"+c.Params("id")+"#days", fiber.StatusSeeOther)
	}
	if fault.KindOf(err) == fault.NotFound {
		return err
	}
	return p.orderAct(c, "replan", func(*typing, string) error { return err })
}
