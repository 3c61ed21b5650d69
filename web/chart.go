package web

import (
	"time"

	"foamwright/pricing/schedule"
)

// chart is the plan of the bench, drawn: a row an order, a column a day, hands dark and waits light. Lengths are
// tenths of a pixel.
type chart struct {
	Width, Pixels int
	Days          []chartDay
	Rows          []chartRow
	Now           int
}

type chartDay struct {
	X     int
	Label string
	Shut  bool
	Month string // that begins, or is begun with
}

type chartRow struct {
	daysRow
	Bars []chartBar
	By   int // the end of the day asked for; 0 for none in sight
}

type chartBar struct {
	X, Width int
	Hands    bool
}

// dayWide is the width of a day.
const dayWide = 560

// newChart draws rows from the day of a moment on.
func newChart(calendar schedule.Calendar, rows []daysRow, now time.Time) (c *chart, beyond bool) {
	first := now.Truncate(24 * time.Hour)
	last := first.AddDate(0, 0, 6)
	for _, r := range rows {
		last = schedule.Later(last, r.Plan.Ready)
	}
	if most := first.AddDate(0, 0, daysDrawn-1); last.After(most) {
		last, beyond = most, true
	}
	days := int(last.Sub(first)/(24*time.Hour)) + 1
	end := first.AddDate(0, 0, days)
	c = &chart{Width: days * dayWide, Pixels: days * dayWide / 10}
	x := func(t time.Time) int {
		return int(schedule.Later(first, schedule.Earlier(end, t)).Sub(first) * dayWide / (24 * time.Hour))
	}
	c.Now = x(now)
	for i := range days {
		day := first.AddDate(0, 0, i)
		month := ""
		if day.Day() == 1 || i == 0 && first.AddDate(0, 0, 3).Month() == first.Month() {
			month = day.Format("January")
		}
		c.Days = append(c.Days, chartDay{i * dayWide, day.Format("Mon 2"), calendar.Shut(day), month})
	}
	for _, r := range rows {
		row := chartRow{daysRow: r}
		add := func(from, to time.Time, hands bool) {
			a, b := x(from), x(to)
			if n := len(row.Bars) - 1; n >= 0 && row.Bars[n].Hands == hands && a <= row.Bars[n].X+row.Bars[n].Width+1 {
				row.Bars[n].Width = max(row.Bars[n].Width, b-row.Bars[n].X)
			} else if b > a {
				row.Bars = append(row.Bars, chartBar{a, b - a, hands})
			}
		}
		for _, s := range r.Plan.Slots { // waits below, hands above them
			add(s.End, s.Ready, false)
		}
		for _, s := range r.Plan.Slots {
			for _, shift := range calendar.Shifts(s.Start, s.End) {
				add(shift.From, shift.To, true)
			}
		}
		if by := r.Promised.AddDate(0, 0, 1); !r.Promised.IsZero() && by.After(first) && by.Before(end) {
			row.By = x(by)
		}
		c.Rows = append(c.Rows, row)
	}
	return c, beyond
}
