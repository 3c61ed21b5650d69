package labour

import (
	"cmp"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/takeoff"
)

// Line is the time one step takes for the whole order.
type Line struct {
	Step    *Step           // of the table it was planned by; it is only read
	Formula measure.Formula // likely minutes, explained
	Minutes decimal.Decimal // likely, two places
	Low     decimal.Decimal
	High    decimal.Decimal
	Wait    decimal.Decimal   // likely hours that have to pass afterwards
	Sets    materials.Setting // what they go by
	Repeats int
	People  int // at once; 1 for most
}

// Spread is the line's low, likely and high minutes.
func (l Line) Spread() Spread { return Spread{l.Low, l.Minutes, l.High} }

// Work is the time of an order.
type Work struct {
	Lines     []Line
	Minutes   decimal.Decimal // sum of the printed lines, before the allowance
	Allowance decimal.Decimal // share for rest and delay
	Hours     decimal.Decimal // with the allowance, two places: the hours that are charged
	Low, High decimal.Decimal // hours, from every step's low and high
	Grades    []Graded        // in the order they come up; their hours add up to Hours
}

// Learning is how unit work gets quicker from piece to piece.
type Learning struct {
	Curve decimal.Decimal // time ratio at each doubling, 0.92; 1 for none
	Floor decimal.Decimal // never below this share of the first piece
}

// Plan gives every step its time for a number of equal items. Steps without any of their driver get no line.
// The allowance is a share, 0.15 for 15 %.
func Plan(steps []Step, drivers takeoff.Drivers, items int, allowance decimal.Decimal, learning Learning) Work {
	w := Work{Allowance: allowance}
	mean := learning.mean(items)
	low, high := decimal.Zero, decimal.Zero
	for i := range steps {
		line, ok := steps[i].line(drivers, items, mean)
		if !ok {
			continue
		}
		w.Lines = append(w.Lines, line)
		w.Minutes = w.Minutes.Add(line.Minutes)
		low, high = low.Add(line.Low), high.Add(line.High)
	}
	w.grade()
	w.Low, w.High = w.hours(low), w.hours(high)
	return w
}

// hours adds the allowance and turns minutes into hours with two places.
func (w Work) hours(minutes decimal.Decimal) decimal.Decimal {
	return minutes.Mul(w.Allowance.Add(decimal.NewFromInt(1))).DivRound(decimal.NewFromInt(60), measure.Hour.Places())
}

func (s *Step) line(drivers takeoff.Drivers, items int, mean decimal.Decimal) (Line, bool) {
	units := drivers.Value(s.Driver)
	if s.Hidden || units.IsZero() {
		return Line{}, false
	}
	formula := func(setup, unit decimal.Decimal) measure.Formula {
		f := measure.Formula{Unit: measure.Minute}
		f.Add(measure.F(setup, "set-up"), measure.N(s.times(items), "times"))
		work := []measure.Factor{measure.F(units, string(s.Driver)), measure.F(unit, "min")}
		if ofOrder(s.Driver) {
			work = append(work, measure.N(s.times(items), "times"))
		} else {
			work = append(work, measure.N(items, "items"), measure.F(mean, "learning"))
		}
		for _, name := range s.Factors {
			if ratio := drivers.Value(name); !ratio.IsZero() {
				work = append(work, measure.F(ratio, string(name)))
			}
		}
		f.Add(work...)
		if people := s.people(drivers); people.IsPositive() {
			f.By(measure.F(people, "people"))
		}
		return f
	}
	likely := formula(s.Setup.Likely, s.Unit.Likely)
	wait := s.Wait.Likely
	if hours := drivers.Value(s.WaitOf); hours.IsPositive() {
		wait = hours
	}
	return Line{
		Step: s, Formula: likely, Wait: wait, Sets: cmp.Or(drivers.Sets(s.WaitOf), s.Sets), Minutes: likely.Quantity().Value,
		Low:     formula(s.Setup.Low, s.Unit.Low).Quantity().Value,
		High:    formula(s.Setup.High, s.Unit.High).Quantity().Value,
		Repeats: max(1, int(drivers.Value(s.Repeats).IntPart())),
		People:  max(1, int(s.people(drivers).IntPart())),
	}, true
}

// people are how many work on it at once; 0 where nothing is said of it, which is one.
func (s Step) people(drivers takeoff.Drivers) decimal.Decimal {
	if s.Crew > 0 {
		return decimal.NewFromInt(int64(s.Crew))
	}
	return drivers.Value(s.People)
}

// ofOrder tells what is counted once whatever the number of pieces: a drawing, a template, a pot of colour serve all of
// them, or those of a batch, as the step is set up; the days at the bench are those of the whole order.
func ofOrder(d takeoff.Driver) bool {
	switch d {
	case takeoff.Job, takeoff.ComplexityPoint, takeoff.TemplateM, takeoff.Former, takeoff.FormerStands, takeoff.FirstTime, takeoff.ColourCount, takeoff.WorkingDay:
		return true
	}
	return false
}

// times is how often the step is set up for a number of items.
func (s Step) times(items int) int {
	switch s.Scope {
	case PerJob:
		return 1
	case PerBatch:
		return (items + takeoff.BatchOf - 1) / takeoff.BatchOf
	}
	return items
}

// mean is the average share of the first piece's time over a number of pieces: the unit model n^(log2 curve), in which
// the curve is the time of the 2nd, 4th, 8th piece by that of the 1st, 2nd, 4th (not their averages), held at the floor.
// A curve that is no ratio between 0 and 1 teaches nothing.
func (l Learning) mean(items int) decimal.Decimal {
	one := decimal.NewFromInt(1)
	slope, ok := l.slope()
	if items <= 1 || !ok {
		return one
	}
	sum := decimal.Zero
	for n := 1; n <= items; n++ {
		share, ok := l.unit(n, slope)
		if !ok {
			return one
		}
		sum = sum.Add(share)
	}
	return sum.DivRound(decimal.NewFromInt(int64(items)), 4)
}

// curvePlaces are far finer than any logged time.
const curvePlaces = 12

// slope is log2 of the curve; false where it teaches nothing.
func (l Learning) slope() (decimal.Decimal, bool) {
	if !l.Curve.IsPositive() || l.Curve.GreaterThanOrEqual(decimal.NewFromInt(1)) {
		return decimal.Zero, false
	}
	lnCurve, err := l.Curve.Ln(curvePlaces)
	if err != nil {
		return decimal.Zero, false
	}
	ln2, err := decimal.NewFromInt(2).Ln(curvePlaces)
	return lnCurve.DivRound(ln2, curvePlaces), err == nil
}

// unit is the time of the nth piece as a share of the first one's.
func (l Learning) unit(n int, slope decimal.Decimal) (decimal.Decimal, bool) {
	if n == 1 {
		return decimal.NewFromInt(1), true
	}
	share, err := decimal.NewFromInt(int64(n)).PowWithPrecision(slope, curvePlaces)
	return decimal.Max(l.Floor, share), err == nil
}
