package labour

import (
	"slices"

	"github.com/shopspring/decimal"
)

// Job is how long a step took on one order: minutes logged, and the minutes it was planned with, both with rest; or how
// much of something it took.
type Job struct {
	Order           string
	Planned, Actual decimal.Decimal
}

// Lesson is what logged jobs say about a step.
type Lesson struct {
	Step     string
	Jobs     int
	Ratio    decimal.Decimal // new time by old, to four places; 1 for no change
	Scatter  decimal.Decimal // of the logarithm of a job's ratio; 0.20 is about ± 20 %
	Old, New Spread          // minutes a unit
	OldSetup Spread
	NewSetup Spread
	Wild     []string // orders that lie far off; they count, but no further than the bound
}

// What the seed is worth, and how far one job may pull.
var (
	seedJobs    = decimal.NewFromInt(4) // the seed counts like so many jobs
	seedScatter = decimal.New(35, -2)   // how far a job usually lies from its plan before anything is known
	bound       = decimal.New(25, -1)   // a job counts up to so many scatters off
	none        = decimal.NewFromInt(1)
)

// logPlaces are the places logarithms are taken to; far finer than any log of time.
const logPlaces = 10

// Learn holds a step against the jobs that were logged. The times move towards the jobs by how many there are and how
// far they scatter: the seed counts like four jobs, so that with 5, 20 and 50 jobs 44, 17 and 7 % of its own error are
// left. A job that lies more than two and a half scatters off is named, and pulls no further than that. Jobs without
// minutes, planned or logged, say nothing; without any the lesson is no change.
//
// The estimate is the mean of the logarithms of actual by planned, shrunk towards 0 (no change); low and high keep their
// distance in proportion to the scatter that was seen, between half and twice what they were.
func Learn(s Step, jobs []Job) (Lesson, error) {
	l := Lesson{Step: s.Code, Old: s.Unit, New: s.Unit, OldSetup: s.Setup, NewSetup: s.Setup}
	drift, err := Drifted(jobs)
	l.Jobs, l.Ratio, l.Scatter, l.Wild = drift.Jobs, drift.Ratio, drift.Scatter, drift.Wild
	if err != nil || l.Jobs == 0 {
		return l, err
	}
	wide := decimal.Max(decimal.New(5, -1), decimal.Min(decimal.NewFromInt(2), l.Scatter.DivRound(seedScatter, 4)))
	l.New, l.NewSetup = s.Unit.moved(l.Ratio, wide), s.Setup.moved(l.Ratio, wide)
	return l, nil
}

// Drift is how far jobs lie from what they were planned with.
type Drift struct {
	Jobs    int             // that say something
	Ratio   decimal.Decimal // new figure by old, to four places; 1 for no change
	Scatter decimal.Decimal // of the logarithm of a job's ratio
	Wild    []string        // orders that lie far off
}

// Drifted is what Learn says of the time of a step, of any figure: a spread rate, the springback.
func Drifted(jobs []Job) (Drift, error) {
	l := Drift{Ratio: none, Scatter: seedScatter}
	var logs []decimal.Decimal
	var orders []string
	for _, j := range jobs {
		if !j.Planned.IsPositive() || !j.Actual.IsPositive() {
			continue
		}
		y, err := j.Actual.DivRound(j.Planned, logPlaces).Ln(logPlaces)
		if err != nil {
			return l, err
		}
		logs, orders = append(logs, y), append(orders, j.Order)
	}
	if l.Jobs = len(logs); l.Jobs == 0 {
		return l, nil
	}
	l.Scatter = scatter(logs)
	middle, limit := median(logs), l.Scatter.Mul(bound)
	sum := decimal.Zero
	for i, y := range logs {
		// Before there are enough jobs to know their middle, what is far off is far off from the plan.
		from := middle
		if l.Jobs < 4 {
			from = decimal.Zero
		}
		held := decimal.Max(from.Sub(limit), decimal.Min(from.Add(limit), y))
		if !held.Equal(y) {
			l.Wild = append(l.Wild, orders[i])
		}
		sum = sum.Add(held)
	}
	shrunk := sum.DivRound(decimal.NewFromInt(int64(l.Jobs)).Add(seedJobs), logPlaces)
	ratio, err := shrunk.ExpTaylor(logPlaces)
	if err != nil {
		return l, err
	}
	l.Ratio = ratio.Round(4)
	return l, nil
}

// scatter is how far jobs lie from their middle: 1.4826 times the median distance, which a wild one does not move, held
// towards the usual scatter as if four more jobs had that.
func scatter(logs []decimal.Decimal) decimal.Decimal {
	middle := median(logs)
	off := make([]decimal.Decimal, len(logs))
	for i, y := range logs {
		off[i] = y.Sub(middle).Abs()
	}
	n := decimal.NewFromInt(int64(len(logs)))
	seen := median(off).Mul(decimal.New(14826, -4))
	return seen.Mul(n).Add(seedScatter.Mul(seedJobs)).DivRound(n.Add(seedJobs), 4)
}

func median(list []decimal.Decimal) decimal.Decimal {
	sorted := slices.SortedFunc(slices.Values(list), decimal.Decimal.Cmp)
	n := len(sorted)
	if n%2 == 1 {
		return sorted[n/2]
	}
	return sorted[n/2-1].Add(sorted[n/2]).DivRound(decimal.NewFromInt(2), logPlaces)
}

// moved is a spread whose likely figure goes by a ratio and whose low and high keep their distance times wide; to two
// places, and still in order.
func (s Spread) moved(ratio, wide decimal.Decimal) Spread {
	likely := s.Likely.Mul(ratio)
	low := likely.Sub(s.Likely.Sub(s.Low).Mul(ratio).Mul(wide))
	high := likely.Add(s.High.Sub(s.Likely).Mul(ratio).Mul(wide))
	return Spread{decimal.Max(decimal.Zero, low).Round(2), likely.Round(2), high.Round(2)}
}
