package labour

import (
	"slices"
	"time"

	"github.com/shopspring/decimal"
)

// Times are the minutes of a step that logged jobs move.
type Times struct{ Setup, Unit Spread }

// Times are the step's.
func (s Step) Times() Times { return Times{s.Setup, s.Unit} }

// With is the step with other times.
func (s Step) With(t Times) Step {
	s.Setup, s.Unit = t.Setup, t.Unit
	return s
}

// Equal tells that both are the same figures.
func (t Times) Equal(o Times) bool { return t.Setup.equal(o.Setup) && t.Unit.equal(o.Unit) }

func (s Spread) equal(o Spread) bool {
	return s.Low.Equal(o.Low) && s.Likely.Equal(o.Likely) && s.High.Equal(o.High)
}

// To is how the likely figure has changed: of a unit, or of the set-up where a step has no unit.
func (t Times) To(o Times) decimal.Decimal {
	was, is := t.Unit.Likely, o.Unit.Likely
	if was.IsZero() {
		was, is = t.Setup.Likely, o.Setup.Likely
	}
	if was.IsZero() {
		return none
	}
	return is.DivRound(was, logPlaces)
}

// Taught is a lesson that the maker took over.
type Taught struct {
	Step   string
	Was    Times
	Is     Times
	Jobs   int
	At     time.Time
	ByWhom string
}

// Base is what a step's times were before the jobs taught them: the lessons are followed back from the last as long as
// each begins where the one before ended. Jobs are held against it every time anew, so that the same ones teach once;
// what a maker wrote since is a new base. Lessons come newest first.
func Base(s Step, lessons []Taught) Times {
	base := s.Times()
	for _, t := range lessons {
		if t.Step != s.Code {
			continue
		}
		if !t.Is.Equal(base) {
			break
		}
		base = t.Was
	}
	return base
}

// Apportioned is what the logs of one order say each of its steps took. A log names a step, or a group, which goes
// first where both are called the same: its minutes go to the steps of the group that were planned and not logged
// by themselves, in proportion to what they were planned with. Work that was done again is left out and told apart,
// and so is what cannot be put down to a planned step.
func Apportioned(table []Step, planned map[string]decimal.Decimal, logs []Log) (actual map[string]decimal.Decimal, rework, apart decimal.Decimal) {
	actual = map[string]decimal.Decimal{}
	members := map[string][]string{}
	for code := range planned {
		group := LoggedOn(table, code)
		members[group] = append(members[group], code)
	}
	groups := map[string]decimal.Decimal{}
	known := append(Groups(table), LoggedOn(nil, "")) // and work of the order's own
	for _, l := range Standing(logs) {
		switch {
		case l.Rework != "":
			rework = rework.Add(l.Minutes)
		case slices.Contains(known, l.Step):
			groups[l.Step] = groups[l.Step].Add(l.Minutes)
		case planned[l.Step].IsPositive():
			actual[l.Step] = actual[l.Step].Add(l.Minutes)
		default:
			apart = apart.Add(l.Minutes)
		}
	}
	for group, minutes := range groups {
		open := slices.DeleteFunc(slices.Clone(members[group]), func(code string) bool { return actual[code].IsPositive() })
		if len(open) == 0 {
			open = members[group]
		}
		sum := decimal.Zero
		for _, code := range open {
			sum = sum.Add(planned[code])
		}
		if !sum.IsPositive() {
			apart = apart.Add(minutes)
			continue
		}
		for _, code := range open {
			actual[code] = actual[code].Add(minutes.Mul(planned[code]).DivRound(sum, 4))
		}
	}
	return actual, rework, apart
}
