package words

import "time"

// Moment is a time of a day as it is said now: "Friday 15:08" within six days, else "Friday 4 December 15:08", with
// the year where it is another one.
func Moment(t, now time.Time) string { return Day(t, now) + " " + t.Format("15:04") }

// Day is a day as it is said now: "Friday" within six days, else "Friday 4 December", with the year where it is
// another one.
func Day(t, now time.Time) string {
	y, m, d := now.Date()
	today := time.Date(y, m, d, 0, 0, 0, 0, t.Location())
	switch days := t.Sub(today); {
	case days >= 0 && days < 6*24*time.Hour:
		return t.Format("Monday")
	case t.Year() == y:
		return t.Format("Monday 2 January")
	}
	return t.Format("Monday 2 January 2006")
}
