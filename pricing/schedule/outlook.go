// Package schedule says on which days a job can be worked and when it can be ready.
//
// Hands work only in the calendar's hours; what has to dry goes on overnight. Units: hands in minutes with the
// allowance on top, waits in hours. Look knows one pair of hands with nothing else to do; Bench knows people, places
// and other jobs. Limits: a job keeps the air of the month it begins in, and one crew makes it from step to step.
package schedule

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/labour"
)

// Calendar is how long the bench is worked on each weekday, from the hour it opens, but for the days away.
type Calendar struct {
	Opens time.Duration    // after midnight
	Hours [7]time.Duration // by time.Weekday, Sunday first
	Away  []Span           // holidays, weeks off
}

// Span is days on which the bench is shut, the first and the last with it.
type Span struct {
	From, To time.Time
	Why      string
}

// on is how long the bench is worked on a day.
func (c Calendar) on(day time.Time) time.Duration {
	for _, a := range c.Away {
		if d := date(day); d >= date(a.From) && d <= date(a.To) {
			return 0
		}
	}
	return c.Hours[day.Weekday()]
}

// Ordinary is the calendar without holidays and weeks off.
func (c Calendar) Ordinary() Calendar {
	c.Away = nil
	return c
}

// Usable tells whether there is any working day in the week.
func (c Calendar) Usable() bool { return slices.Max(c.Hours[:]) >= time.Hour }

// Outlook is what the calendar makes of a job.
type Outlook struct {
	WorkingDays int       // days on which hands work on it
	Start       time.Time // when the first step begins
	Ready       time.Time // when the last step and its wait are over
	LastWait    string    // name of the step whose wait ends last before the finish; empty if hands decide
}

// Look walks the steps in the order of making and puts each as early as its predecessors, their waits and one
// pair of hands allow. An empty job, or a calendar without working hours, gives an outlook of no days.
func Look(steps []labour.Step, work labour.Work, cal Calendar, from time.Time) Outlook {
	lines := byStep(work)
	if len(lines) == 0 || !cal.Usable() {
		return Outlook{}
	}
	out := Outlook{Start: cal.open(from)}
	ready := map[string]time.Time{} // when a step and its wait are over
	days := map[string]bool{}
	hands := out.Start
	for _, s := range steps {
		begin := out.Start
		var waitedFor string
		for _, code := range s.After {
			if ready[code].After(begin) {
				begin, waitedFor = ready[code], code
			}
		}
		line, ok := lines[s.Code]
		if !ok {
			ready[s.Code] = begin
			continue
		}
		if begin.After(hands) {
			hands, out.LastWait = begin, ""
			if waited, ok := lines[waitedFor]; ok {
				out.LastWait = waited.Step.Name
			}
		}
		for range line.Repeats {
			hands = cal.work(hands, share(line.Minutes, work.Allowance, line.Repeats), days)
			ready[s.Code] = hands.Add(hours(line.Wait))
			if line.Repeats > 1 {
				hands = ready[s.Code]
			}
		}
		out.Ready = Later(out.Ready, ready[s.Code])
	}
	out.WorkingDays = len(days)
	return out
}

// open is the first moment at or after t at which the bench is worked.
func (c Calendar) open(t time.Time) time.Time {
	for {
		day := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location())
		opens, length := day.Add(c.Opens), c.on(day)
		switch {
		case length > 0 && t.Before(opens):
			return opens
		case length > 0 && t.Before(opens.Add(length)):
			return t
		}
		t = day.AddDate(0, 0, 1)
	}
}

// WorkingDay is the first day from day on that is worked; day itself with a calendar without working hours.
func (c Calendar) WorkingDay(day time.Time) time.Time {
	for c.Usable() && c.on(day) == 0 {
		day = day.AddDate(0, 0, 1)
	}
	return day
}

// date is a calendar day as a number that can be compared, 20260302.
func date(t time.Time) int {
	y, m, d := t.Date()
	return (y*100+int(m))*100 + d
}

// WorkingDays counts the days that are worked from one to another, both with it.
func (c Calendar) WorkingDays(from, to time.Time) int {
	n := 0
	for day := from; !day.After(to); day = day.AddDate(0, 0, 1) {
		if c.on(day) > 0 {
			n++
		}
	}
	return n
}

// AfterWorkingDays is the day that so many worked days lie after one; the day itself with none, or with a calendar
// without working hours.
func (c Calendar) AfterWorkingDays(day time.Time, n int) time.Time {
	for ; n > 0 && c.Usable(); n-- {
		day = c.WorkingDay(day.AddDate(0, 0, 1))
	}
	return day
}

// work is when a stretch of work begun at t is over, noting the days it touches.
func (c Calendar) work(t time.Time, d time.Duration, days map[string]bool) time.Time {
	for d > 0 {
		t = c.open(t)
		day := time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, t.Location())
		if days != nil {
			days[day.Format(time.DateOnly)] = true
		}
		left := day.Add(c.Opens + c.on(day)).Sub(t)
		if d <= left {
			return t.Add(d)
		}
		d -= left
		t = t.Add(left)
	}
	return t
}

// share is one repeat's part of a step's minutes, with the allowance.
func share(minutes, allowance decimal.Decimal, repeats int) time.Duration {
	m := minutes.Mul(allowance.Add(decimal.NewFromInt(1))).Div(decimal.NewFromInt(int64(repeats)))
	return time.Duration(m.Mul(decimal.NewFromInt(int64(time.Minute))).IntPart())
}

func hours(h decimal.Decimal) time.Duration {
	return time.Duration(h.Mul(decimal.NewFromInt(int64(time.Hour))).IntPart())
}

// Later is the later of two times.
func Later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}

// Earlier is the earlier of two times.
func Earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}
