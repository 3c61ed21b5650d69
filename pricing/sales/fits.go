package sales

import (
	"context"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
	"foamwright/pricing/workshop"
)

// Fit is when a spec can honestly be ready, and how that stands to the date that was asked for.
type Fit struct {
	Booked, Empty schedule.Plan // as the bench is booked now, and on an empty one, begun now
	Ready         string        // when, as the bench is booked, in words
	Decides       string        // the wait or the others at the bench that decide it; empty for hands alone
	Late          string        // why the date asked for cannot be met and what would do; empty where it can
	Impossible    bool          // it cannot be met on an empty bench either
	Full          string        // that no new order is begun before a day; empty where they are
	Season        string        // what the air of the month makes of the waits; empty for what the table of steps says
	Damp          []string      // what the air is for latex in the month it would be coated in
}

// variant is a spec made simpler, to be ready sooner.
type variant struct {
	says string
	spec shield.Spec
	last bool // only where no other will do
}

// Coats that a simpler variant has (common practice, no source).
const (
	fewestLatex = 3
	primerCoats = 2
)

// Fit lays what was estimated on the bench as it is booked now. Only a date that cannot be met costs estimates of
// simpler variants. Nothing is stored.
func (s *Service) Fit(ctx context.Context, e pricing.Estimate) (fit Fit, err error) {
	var w workshop.Workshop
	var others []OnBench
	err = s.store.Act(ctx, func(tx Tx) error {
		if w, err = tx.Workshop(ctx, s.now()); err != nil {
			return err
		}
		others, _, err = onBench(ctx, tx)
		return err
	})
	if err != nil {
		return fit, err
	}
	return FitOn(w, others, e, s.now())
}

// emptied is when an estimate is ready on an empty bench of a workshop, begun as soon as a new order can be.
func emptied(w workshop.Workshop, e pricing.Estimate, at time.Time) time.Time {
	from := w.Begin(Wall(at))
	return w.Bench().Lay([]schedule.Job{{From: from, Tasks: schedule.Dried(e.Tasks, w.AirOn(from))}}, nil)[0].Ready
}

// FitOn is Fit in a workshop, behind the orders that are booked.
func FitOn(w workshop.Workshop, others []OnBench, e pricing.Estimate, at time.Time) (Fit, error) {
	now := Wall(at)
	from := w.Begin(now)
	lay := func(tasks []schedule.Task) (onBooked, onEmpty schedule.Plan) {
		jobs := []schedule.Job{{From: from, Tasks: schedule.Dried(tasks, w.AirOn(from))}}
		return w.Bench().Lay(jobs, plans(others))[0], w.Bench().Lay(jobs, nil)[0]
	}
	f := Fit{Full: w.FullIn(words.Tongue{}, now)}
	f.Booked, f.Empty = lay(e.Tasks)
	f.Decides = Decider(Holds(f.Booked, Titles(others), now))
	f.Ready = words.Moment(f.Booked.Ready, now)
	f.Season, f.Damp = season(w, from), damp(w, f.Booked, now)
	spec := e.Shield.Spec
	if spec.Delivery.By.IsZero() || inTime(f.Booked, spec) {
		return f, nil
	}
	var would []string
	soonest, how := f.Booked.Ready, ""
	for _, v := range simpler(spec) {
		if v.last && len(would) > 0 {
			break
		}
		tasks, err := pricing.Tasks(v.spec, w.Snapshot(at))
		if err != nil {
			return f, err
		}
		plan, _ := lay(tasks)
		if inTime(plan, spec) {
			would = append(would, fmt.Sprintf("%s it can be ready %s", v.says, words.Moment(plan.Ready, now)))
		}
		if plan.Ready.Before(soonest) {
			soonest, how = plan.Ready, v.says
		}
	}
	f.Impossible = !inTime(f.Empty, spec)
	f.Late = f.reason(spec, now)
	switch {
	case len(would) > 0 && f.Impossible:
		f.Late += ": " + strings.Join(would[:min(2, len(would))], "; ") + "."
	case len(would) > 0:
		f.Late += ". " + Sentence(strings.Join(would[:min(2, len(would))], "; ")) + "."
	case how != "":
		f.Late += fmt.Sprintf(". Even %s it is not ready before %s.", how, words.Moment(soonest, now))
	default:
		f.Late += "."
	}
	return f, nil
}

// reason says why the date cannot be met, without its full stop.
func (f Fit) reason(spec shield.Spec, now time.Time) string {
	by := spec.Delivery.By
	if f.Impossible && f.Full != "" {
		return fmt.Sprintf("%s On an empty bench it could then be ready %s; %s was asked for", f.Full, words.Moment(f.Empty.Ready, now), words.Day(by, now))
	}
	if f.Impossible {
		what, need, left := skin(spec), "need", int(by.Sub(stock.Day(now)).Hours()/24)
		if spec.Coat.Coats+spec.ClearCoats == 1 {
			need = "needs"
		}
		is := "is in " + strings.TrimSuffix(many(left, "day"), " days")
		switch {
		case left <= 0:
			is = "is today"
		case left == 1:
			is = "is tomorrow"
		}
		return fmt.Sprintf("%s %s %s; %s %s", Sentence(what), need, many(int(stock.Day(f.Empty.Ready).Sub(stock.Day(now)).Hours()/24), "day"), words.Day(by, now), is)
	}
	said := fmt.Sprintf("%s was asked for. On an empty bench it could be ready %s; as the bench is booked it is ready %s", words.Day(by, now), words.Moment(f.Empty.Ready, now), f.Ready)
	if f.Decides != "" {
		said += ": " + f.Decides
	}
	return said
}

// inTime tells whether a plan is ready by the end of the day asked for.
func inTime(p schedule.Plan, spec shield.Spec) bool {
	return !p.Ready.After(spec.Delivery.By.AddDate(0, 0, 1))
}

// simpler are the variants of a spec that need less time to dry, each further from what was asked for.
func simpler(spec shield.Spec) (all []variant) {
	add := func(says string, change func(*shield.Spec)) {
		v := spec
		change(&v)
		all = append(all, variant{says: says, spec: v})
	}
	clear, latex := spec.ClearCoats > 0, spec.Coat.System == "latex"
	bare := func(v *shield.Spec) { v.ClearCoats = 0 }
	fewer := func(v *shield.Spec) { v.Coat.Coats = fewestLatex }
	primed := func(v *shield.Spec) { v.Coat = shield.Coat{System: "primer", Coats: min(primerCoats, v.Coat.Coats)} }
	if clear {
		add("without a clear coat", bare)
	}
	if latex && spec.Coat.Coats > fewestLatex {
		add("with "+many(fewestLatex, "coat")+" of latex", fewer)
	}
	if latex && spec.Coat.Coats > 0 {
		add("without latex, with a flexible primer,", primed)
	}
	if latex && spec.Coat.Coats > 0 && clear {
		add("without latex and without a clear coat", func(v *shield.Spec) { primed(v); bare(v) })
		all[len(all)-1].last = true
	}
	return all
}

// skin names what of a spec has to dry, or its work where nothing has.
func skin(spec shield.Spec) string {
	var parts []string
	switch n := spec.Coat.Coats; {
	case n > 0 && spec.Coat.System == "latex":
		parts = append(parts, many(n, "coat")+" of latex")
	case n > 0 && spec.Coat.System == "primer":
		parts = append(parts, many(n, "coat")+" of primer")
	}
	if spec.ClearCoats > 0 {
		parts = append(parts, many(spec.ClearCoats, "clear coat"))
	}
	if len(parts) == 0 {
		return "the work and what has to set"
	}
	return strings.Join(parts, " and ")
}

// Titles names the orders that a plan may stand behind.
func Titles(others []OnBench) func(order string) string {
	return func(order string) string {
		for _, o := range others {
			if o.Order.ID == order && o.Order.Title != "" {
				return o.Order.Title
			}
		}
		return "another order"
	}
}

var numbers = [...]string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// many counts a thing in words as far as they are read easily: "three days", "14 days".
func many(n int, what string) string {
	count := fmt.Sprint(n)
	if n >= 0 && n < len(numbers) {
		count = numbers[n]
	}
	if n != 1 {
		what += "s"
	}
	return count + " " + what
}

// Sentence begins a sentence: its first letter is large.
func Sentence(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if first == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}
