package sales

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"foamwright/materials"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

// Hold is one thing that a plan waits for on the way to its day.
type Hold struct {
	Says  string // in words, as a sentence goes on: no large letter, no full stop
	Lasts time.Duration
}

// Holds are what a plan waits for on the chain that sets its day, first to last: things that dry, others at the
// bench or on the former, and the first day it may begin. title names an order; now is the clock on the wall.
func Holds(p schedule.Plan, title func(order string) string, now time.Time) []Hold {
	chain := p.Decides()
	var holds []Hold
	if p.From.After(now) && len(chain) > 0 {
		holds = append(holds, Hold{Says: "it is begun on " + words.Day(p.From, now) + " at the earliest"})
	}
	for i := len(chain) - 1; i >= 0; i-- {
		s, since := chain[i], p.From
		if s.For >= 0 {
			before := p.Slots[s.For]
			since = before.End
			if slices.Contains(s.Task.After, s.For) && before.Ready.After(before.End) {
				holds, since = append(holds, Hold{waits(before, now), before.Ready.Sub(before.End)}), before.Ready
			}
		}
		if says := taken(s, title, now); says != "" {
			holds = append(holds, Hold{says, s.Start.Sub(since)})
		}
	}
	if len(chain) > 0 && chain[0].Ready.After(chain[0].End) {
		holds = append(holds, Hold{waits(chain[0], now), chain[0].Ready.Sub(chain[0].End)})
	}
	return holds
}

// Decider is the longest of what a plan waits for; empty when hands alone decide.
func Decider(holds []Hold) string {
	var longest Hold
	for _, h := range holds {
		if h.Lasts >= longest.Lasts {
			longest = h
		}
	}
	return longest.Says
}

// Least says how long a plan would take with hands and hours without end, and the longest waits on its critical path:
// what no second pair of hands makes shorter. Empty where nothing has to wait.
func Least(p schedule.Plan) string {
	tasks := make([]schedule.Task, len(p.Slots))
	for i, s := range p.Slots {
		tasks[i] = s.Task
	}
	took, path := schedule.Critical(tasks)
	var rest time.Duration
	for _, t := range path {
		rest += t.Wait
	}
	slices.SortStableFunc(path, func(a, b schedule.Task) int { return cmp.Compare(b.Wait, a.Wait) })
	var longest []string
	for _, t := range path[:min(3, len(path))] {
		if t.Wait >= time.Hour {
			longest = append(longest, fmt.Sprintf("“%s” %s", t.Name, whole(t.Wait)))
		}
	}
	if len(longest) == 0 {
		return ""
	}
	return fmt.Sprintf("Were the bench never shut and hands never short, it would still take %s, of them %s to dry and to set; the longest: %s.", whole(took), whole(rest), strings.Join(longest, ", "))
}

// whole is a time in whole hours.
func whole(d time.Duration) string { return fmt.Sprintf("%d h", d.Round(time.Hour)/time.Hour) }

// waits says until when what a slot made dries, or has to be left alone.
func waits(s schedule.Slot, now time.Time) string {
	until := words.Moment(s.Ready, now)
	switch {
	case s.Task.Place == schedule.DryingPlace && s.Task.Code != "boards": // a coat; what is pressed is glued
		return fmt.Sprintf("%s dries until %s", coat(s.Task.Name), until)
	case s.Task.Sets == materials.ByAir:
		return fmt.Sprintf("“%s” dries until %s", s.Task.Name, until)
	case s.Task.Sets == materials.ByWarmth:
		return fmt.Sprintf("“%s” sets until %s", s.Task.Name, until)
	}
	return fmt.Sprintf("“%s” waits until %s", s.Task.Name, until)
}

// coat is the name of a task as it stands in a sentence: of several coats the last is called so.
func coat(name string) string {
	first, size := utf8.DecodeRuneInString(name)
	if first != utf8.RuneError {
		name = string(unicode.ToLower(first)) + name[size:]
	}
	at := strings.LastIndex(name, ", ")
	var n, of int
	if at < 0 {
		return name
	}
	if read, _ := fmt.Sscanf(name[at:], ", %d of %d", &n, &of); read == 2 && n == of {
		return name[:at] + ", the last of " + fmt.Sprint(of) + ","
	}
	return name + ","
}

// taken says who or what a slot waits for outside its own job.
func taken(s schedule.Slot, title func(order string) string, now time.Time) string {
	other := title(s.Behind)
	until := words.Moment(s.Start, now)
	switch s.Why {
	case schedule.Busy:
		return fmt.Sprintf("everybody is at %s until %s", other, until)
	case schedule.NoPlace:
		return fmt.Sprintf("%s is on the %s until %s", other, s.Task.Place, until)
	}
	return ""
}
