package figures

import (
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// Span is from a moment to before another; zero ends are open. Of figures in other currencies nothing is read.
type Span struct {
	From, To    time.Time
	First, Last time.Time      // the same as days, both counted; zero where it is open
	Currency    money.Currency // set where it is read: the workshop's own
	Design      string         // only this one's; empty for all
}

// SpanOf are whole days by the workshop's clock, both counted. Days that are left out are those of Period, or open where
// all is asked for.
func (s *Service) SpanOf(first, last time.Time, all bool) (in Span, err error) {
	clock := s.now().Location()
	if all && first.IsZero() && last.IsZero() {
		return in, nil
	}
	usual, today := Period(s.now())
	if last.IsZero() && !all {
		last = today
	}
	if first.IsZero() && !all {
		if first = usual; last.Before(first) {
			first = last.AddDate(-1, 0, 1)
		}
	}
	if !first.IsZero() && !last.IsZero() && last.Before(first) {
		var l fault.List
		if last.Equal(today) {
			l.Add("from", first.Format(time.DateOnly), "This day has not come yet. Write one until today.")
			return in, l.Err()
		}
		l.Add("to", last.Format(time.DateOnly), "The last day is before the first. Write the same or a later one.")
		return in, l.Err()
	}
	in.First, in.Last = first, last
	if !first.IsZero() {
		in.From = moment(first, clock)
	}
	if !last.IsZero() {
		in.To = moment(last.AddDate(0, 0, 1), clock)
	}
	return in, nil
}
