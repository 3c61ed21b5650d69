package schedule

import "time"

// Stretch is a time from one moment to another.
type Stretch struct{ From, To time.Time }

// Shifts are the stretches between two moments in which the bench is open, first to last.
func (c Calendar) Shifts(from, to time.Time) (all []Stretch) {
	if !c.Usable() {
		return nil
	}
	for at := c.open(from); at.Before(to); at = c.open(at) {
		closes := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, at.Location()).Add(c.Opens + c.on(at))
		if closes.After(to) {
			closes = to
		}
		all = append(all, Stretch{at, closes})
		at = closes
	}
	return all
}

// Shut tells that nobody works on a day.
func (c Calendar) Shut(day time.Time) bool { return c.on(day) == 0 }
