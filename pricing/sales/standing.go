package sales

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// Standing is where a quote is to be found in lists: its state, but for one that was issued whether it still stands.
type Standing string

// The standings.
const (
	NotSent Standing = "draft"
	Open    Standing = "open"
	Expired Standing = "expired" // its last day is over and nobody answered
)

// Standings are all there are, in the order a quote goes through them.
func Standings() []Standing {
	return []Standing{NotSent, Open, Expired, Standing(Won), Standing(Declined), Standing(Replaced)}
}

// Standing is where a quote stands at a moment.
func (q Quote) Standing(now time.Time) Standing {
	switch {
	case q.State == Issued && q.Stands(now):
		return Open
	case q.State == Issued:
		return Expired
	}
	return Standing(q.State)
}

// Standing is where a quote stands now.
func (s *Service) Standing(q Quote) Standing { return q.Standing(s.now()) }

// at checks a standing that a list is narrowed by and sets the day it is meant at: midnight by the clock of now.
func (f Found) at(now time.Time) (Found, error) {
	if f.Standing != "" && !slices.Contains(Standings(), f.Standing) {
		var all []string
		for _, s := range Standings() {
			all = append(all, string(s))
		}
		return f, problem("standing", string(f.Standing), fmt.Sprintf("Choose one of: %s.", strings.Join(all, ", ")))
	}
	f.Today = time.Date(now.Year(), now.Month(), now.Day(), 0, 0, 0, 0, now.Location())
	return f, nil
}

// Asked is the day that was asked for; zero where none was.
func (q Quote) Asked() time.Time {
	day, err := dayOf(q.Form.Delivery.By.String())
	if err != nil {
		return time.Time{}
	}
	return day
}
