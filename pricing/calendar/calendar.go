// Package calendar writes the plan of the bench as iCalendar (RFC 5545), for calendars that follow it.
//
// Of every booked order: the stretches that hands work on it, day by day; the ends of waits of an hour and more; and
// the date that was asked for. Times are floating, as on the workshop's wall, so no zone has to be named. An event
// keeps its UID when its order is planned anew, and its SEQUENCE rises. The same plan gives the same bytes. Limits: to
// be read only; no alarms; no money.
package calendar

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	ics "github.com/arran4/golang-ical"

	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

// Feed is what somebody's calendar shows.
type Feed struct {
	Workshop string
	Hours    schedule.Calendar
	Orders   []sales.OnBench // those not booked are left out
	Names    bool            // customers' names may be seen
}

// How long a pause may be inside one stretch of work, and how long a wait is at least that is worth an entry of its
// own; common practice, no source.
const (
	pause     = 45 * time.Minute
	worthWait = time.Hour
)

// Write gives the feed's bytes, lines ended and folded as the standard has it.
func Write(f Feed) []byte {
	c := ics.NewCalendarFor("foamwright")
	c.SetCalscale("GREGORIAN")
	name := plain(f.Workshop) + ": the bench"
	c.SetName(ics.ToText(name))
	c.SetXWRCalName(ics.ToText(name))
	c.SetProductId("-//foamwright//bench//EN")
	c.SetRefreshInterval("PT1H")
	for _, o := range f.Orders {
		if o.Booked {
			f.order(c, o)
		}
	}
	return []byte(c.Serialize(ics.WithNewLineWindows))
}

// order adds what is to come of one order.
func (f Feed) order(c *ics.Calendar, o sales.OnBench) {
	title := plain(o.Order.Title)
	if title == "" {
		title = "Order " + plain(o.Order.Number.String())
	}
	if f.Names && o.Order.Customer != "" {
		title += " for " + plain(o.Order.Customer)
	}
	event := func(kind string, n int, summary string) *ics.VEvent {
		e := c.AddEvent(fmt.Sprintf("%s-%s-%d@foamwright", o.Order.ID, kind, n))
		e.SetDtStampTime(o.Plan.Planned.UTC())
		e.SetSequence(o.Plan.Again)
		e.SetSummary(summary)
		return e
	}
	for n, w := range f.works(o.Plan) {
		e := event("work", n, title)
		e.SetDescription(strings.Join(w.steps, "\n"))
		e.SetProperty(ics.ComponentPropertyDtStart, floating(w.From))
		e.SetProperty(ics.ComponentPropertyDtEnd, floating(w.To))
	}
	for _, s := range o.Plan.Slots {
		if s.Ready.Sub(s.End) >= worthWait {
			e := event("wait", s.Index, title+": "+plain(s.Task.Name)+", the wait is over")
			e.SetProperty(ics.ComponentPropertyDtStart, floating(s.Ready))
			e.SetTimeTransparency(ics.TransparencyTransparent)
		}
	}
	if !o.Promised.IsZero() {
		e := event("promised", 0, title+": asked for by today")
		e.SetAllDayStartAt(o.Promised)
		e.SetAllDayEndAt(o.Promised.AddDate(0, 0, 1)) // the first day that is no more part of it
		e.SetTimeTransparency(ics.TransparencyTransparent)
	}
}

// work is a stretch of one day that hands are at an order, short pauses in it, with its steps.
type work struct {
	schedule.Stretch
	steps []string
}

func (f Feed) works(p schedule.Plan) (all []work) {
	for _, s := range p.Slots {
		for _, shift := range f.Hours.Shifts(s.Start, s.End) {
			last := len(all) - 1
			if last < 0 || shift.From.Sub(all[last].To) > pause || shift.From.YearDay() != all[last].From.YearDay() {
				all = append(all, work{Stretch: shift})
				last++
			}
			all[last].To = shift.To
			if name := plain(s.Task.Name); len(all[last].steps) == 0 || all[last].steps[len(all[last].steps)-1] != name {
				all[last].steps = append(all[last].steps, name)
			}
		}
	}
	return all
}

// floating is a time without a zone: form 1 of the standard's DATE-TIME.
func floating(t time.Time) string { return t.Format("20060102T150405") }

// plain is a text on one line, of whole letters.
func plain(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, s))
}
