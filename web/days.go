package web

import (
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

// How far ahead the plan of the bench is drawn, how many days with work are listed, and how many of those unfolded;
// common practice, no source.
const (
	daysDrawn  = 42
	daysListed = 7
	daysOpen   = 2
)

// daysPage is the bench as a plan.
type daysPage struct {
	Chart  *chart // nil with nothing to make
	Rows   []daysRow
	Days   []benchDay
	Beyond bool // there is more than is drawn
}

// daysRow is an order with its days in words.
type daysRow struct {
	sales.OnBench
	Begins, Ready string
}

// benchDay is what is done on one day.
type benchDay struct {
	Day   time.Time
	Name  string
	Works []benchWork
	Open  bool // unfolded
}

// benchWork is a stretch at one order, or the end of a wait of an hour and more.
type benchWork struct {
	Order       sales.Order
	Time, Steps string
	Wait        bool
	from        time.Time
}

func (p *Pages) daysPage(c *fiber.Ctx) error {
	ctx := c.UserContext()
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	all, err := p.sales.Days(ctx)
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "days", "Days", "orders", plannedDays(w.Figures.Calendar, all, wallClock()))
}

func plannedDays(calendar schedule.Calendar, all []sales.OnBench, now time.Time) daysPage {
	var d daysPage
	for _, o := range all {
		if len(o.Plan.Slots) == 0 {
			continue
		}
		d.Rows = append(d.Rows, daysRow{o, words.Moment(o.Plan.Slots[0].Start, now), words.Moment(o.Plan.Ready, now)})
	}
	if len(d.Rows) > 0 {
		d.Chart, d.Beyond = newChart(calendar, d.Rows, now)
		d.Days = dayByDay(calendar, d.Rows, now)
	}
	return d
}

// dayByDay lists what is done on each of the next days on which anything is.
func dayByDay(calendar schedule.Calendar, rows []daysRow, now time.Time) (days []benchDay) {
	today := now.Truncate(24 * time.Hour)
	for n := 0; n < daysDrawn && len(days) < daysListed; n++ {
		day := today.AddDate(0, 0, n)
		var works []benchWork
		for _, r := range rows {
			works = append(works, worksOn(calendar, r, day)...)
		}
		if len(works) > 0 {
			slices.SortStableFunc(works, func(a, b benchWork) int { return a.from.Compare(b.from) })
			name := day.Format("Monday 2 January")
			if n == 0 {
				name = "Today, " + name
			}
			days = append(days, benchDay{day, name, works, len(days) < daysOpen})
		}
	}
	return days
}

// worksOn are the stretches at an order on a day, one after the other without a pause taken together, and the waits
// that end on it.
func worksOn(calendar schedule.Calendar, r daysRow, day time.Time) (works []benchWork) {
	const clock = "15:04"
	next := day.AddDate(0, 0, 1)
	var steps []string
	var until time.Time
	for _, s := range r.Plan.Slots {
		if s.Ready.Sub(s.End) >= time.Hour && !s.Ready.Before(day) && s.Ready.Before(next) {
			works = append(works, benchWork{r.Order, s.Ready.Format(clock), s.Task.Name, true, s.Ready})
		}
		for _, shift := range calendar.Shifts(schedule.Later(s.Start, day), schedule.Earlier(s.End, next)) {
			last := len(works) - 1
			for last >= 0 && works[last].Wait {
				last--
			}
			if last >= 0 && shift.From.Equal(until) {
				if !slices.Contains(steps, s.Task.Name) {
					steps = append(steps, s.Task.Name)
				}
			} else {
				steps = []string{s.Task.Name}
				works = append(works, benchWork{Order: r.Order, from: shift.From})
				last = len(works) - 1
			}
			until = shift.To
			works[last].Time = works[last].from.Format(clock) + " to " + until.Format(clock)
			works[last].Steps = strings.Join(steps, "; ")
		}
	}
	return works
}
