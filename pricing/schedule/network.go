package schedule

import "slices"

// Link is how one activity holds another.
type Link string

// The kinds of link: the next begins after the one before is finished, begins after it begun, is finished after it is
// finished; each by a lag, which may be negative.
const (
	FinishStart  Link = "FS"
	StartStart   Link = "SS"
	FinishFinish Link = "FF"
)

// Hold is a link between two activities, by index.
type Hold struct {
	Before, After int
	Link          Link
	Lag           int
}

// Float is the earliest and latest times of an activity in a network without limits of people or places.
type Float struct{ EarliestStart, EarliestFinish, LatestStart, LatestFinish int }

// Critical tells that the activity cannot be late without everything being late.
func (f Float) Critical() bool { return f.EarliestStart == f.LatestStart }

// CriticalPath is the method of that name (forward and backward pass) over activities of whole durations, and the
// time it all takes. A start that a lag would put before 0 is put to 0. Holds in a ring give false.
func CriticalPath(durations []int, holds []Hold) (floats []Float, total int, ok bool) {
	order, ok := sorted(len(durations), holds)
	if !ok {
		return nil, 0, false
	}
	floats = make([]Float, len(durations))
	for _, i := range order {
		start := 0
		for _, h := range holds {
			if h.After != i {
				continue
			}
			b := floats[h.Before]
			switch h.Link {
			case FinishStart:
				start = max(start, b.EarliestFinish+h.Lag)
			case StartStart:
				start = max(start, b.EarliestStart+h.Lag)
			case FinishFinish:
				start = max(start, b.EarliestFinish+h.Lag-durations[i])
			}
		}
		floats[i].EarliestStart, floats[i].EarliestFinish = start, start+durations[i]
		total = max(total, start+durations[i])
	}
	for _, i := range slices.Backward(order) {
		finish := total
		for _, h := range holds {
			if h.Before != i {
				continue
			}
			a := floats[h.After]
			switch h.Link {
			case FinishStart:
				finish = min(finish, a.LatestStart-h.Lag)
			case StartStart:
				finish = min(finish, a.LatestStart-h.Lag+durations[i])
			case FinishFinish:
				finish = min(finish, a.LatestFinish-h.Lag)
			}
		}
		floats[i].LatestStart, floats[i].LatestFinish = finish-durations[i], finish
	}
	return floats, total, true
}

// sorted puts every activity behind those that hold it; false when they hold each other.
func sorted(n int, holds []Hold) ([]int, bool) {
	open := make([]int, n)
	for _, h := range holds {
		open[h.After]++
	}
	var order []int
	for i, o := range open {
		if o == 0 {
			order = append(order, i)
		}
	}
	for k := 0; k < len(order); k++ {
		for _, h := range holds {
			if h.Before == order[k] {
				if open[h.After]--; open[h.After] == 0 {
					order = append(order, h.After)
				}
			}
		}
	}
	return order, len(order) == n
}
