package workshop

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/pricing/schedule"
)

// How much of each there may be.
const (
	mostAway    = 100
	mostFormers = 30
	mostPlaces  = 200
)

// checkBench adds what is wrong with the hours, the people and the places.
func (w Workshop) checkBench(l *fault.List) {
	if w.People < 1 || w.People > 50 {
		l.Add("people", strconv.Itoa(w.People), "Write how many work at the bench, 1 to 50.")
	}
	for _, place := range []string{schedule.Former, schedule.DryingPlace} {
		if n := w.Places[place]; n < 1 || n > mostPlaces {
			l.Add("places."+strings.Fields(place)[0], strconv.Itoa(n), fmt.Sprintf("Write how many there are, 1 to %d.", mostPlaces))
		}
	}
	w.checkCalendar(l)
	if len(w.Figures.Bench.Formers) > mostFormers {
		l.Add("formers", strconv.Itoa(len(w.Figures.Bench.Formers)), fmt.Sprintf("These are too many formers. Keep at most %d.", mostFormers))
	}
	named := map[string]bool{}
	for i, f := range w.Figures.Bench.Formers {
		field := fmt.Sprintf("formers.%d.", i)
		if n := utf8.RuneCountInString(f.Name); n == 0 || n > 60 || named[f.Name] {
			l.Add(field+"name", f.Name, "Give the former a name of its own, in up to 60 letters.")
		}
		named[f.Name] = true
		if f.Radius < 50*measure.Millimetre || f.Radius > 10_000*measure.Millimetre {
			l.Add(field+"radius", fmt.Sprintf("%.4g", f.Radius.MM()), "Write its radius in mm, 50 to 10000.")
		}
	}
	for i, air := range w.Air {
		if air.Celsius.LessThan(decimal.NewFromInt(-10)) || air.Celsius.GreaterThan(decimal.NewFromInt(50)) {
			l.Add(fmt.Sprintf("air.%d.celsius", i+1), air.Celsius.String(), "Write the temperature of the workshop in °C, -10 to 50.")
		}
		if air.Humidity.IsNegative() || air.Humidity.GreaterThan(decimal.NewFromInt(100)) {
			l.Add(fmt.Sprintf("air.%d.humidity", i+1), air.Humidity.String(), "Write the humidity of the air in %, 0 to 100.")
		}
	}
}

// checkCalendar adds what is wrong with the days. A day is worked within itself.
func (w Workshop) checkCalendar(l *fault.List) {
	c := w.Figures.Calendar
	if !c.Usable() {
		l.Add("calendar", "", "Work at least an hour on one day of the week: else nothing is ever ready.")
	}
	if c.Opens < 0 || c.Opens >= 24*time.Hour {
		l.Add("calendar.opens", c.Opens.String(), "Write the hour the bench opens, for example 09:00.")
	}
	for day, hours := range c.Hours {
		if hours < 0 || c.Opens+hours > 24*time.Hour {
			l.Add(fmt.Sprintf("calendar.hours.%d", day), hours.String(), "Write hours that end before midnight, 0 where the bench is shut.")
		}
	}
	if len(c.Away) > mostAway {
		l.Add("calendar.away", strconv.Itoa(len(c.Away)), fmt.Sprintf("These are too many. Keep at most %d, and take out what is over.", mostAway))
	}
	for i, a := range c.Away {
		field := fmt.Sprintf("calendar.away.%d.", i)
		switch {
		case a.From.IsZero():
			l.Add(field+"from", "", "Write the first day, for example 2027-12-24.")
		case a.To.Before(a.From):
			l.Add(field+"to", a.To.Format(time.DateOnly), "The last day is before the first. Write the same or a later one.")
		case a.To.Sub(a.From) > 366*24*time.Hour:
			l.Add(field+"to", a.To.Format(time.DateOnly), "This is more than a year. Write a nearer day.")
		}
		if utf8.RuneCountInString(a.Why) > 80 {
			l.Add(field+"why", a.Why, "This is too long. Shorten it.")
		}
	}
}

// SortAway puts the days away into their order.
func (w *Workshop) SortAway() {
	w.Figures.Calendar.Away = slices.SortedStableFunc(slices.Values(w.Figures.Calendar.Away), func(a, b schedule.Span) int { return a.From.Compare(b.From) })
}
