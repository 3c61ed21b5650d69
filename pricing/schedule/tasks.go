package schedule

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/pricing/labour"
)

// The places that a table of steps speaks of; every other resource is the bench, which is never short but of people.
const (
	Former      = "former"
	DryingPlace = "drying place"
)

// Tasks are the steps of a job in the order of making, as the bench takes them: coats one by one with the wait of
// each in the air of reference, steps that the job does not have left out and what comes after them tied to what came
// before. What is braced on a former is laid up on it.
func Tasks(steps []labour.Step, work labour.Work) []Task {
	lines := byStep(work)
	var tasks []Task
	ends := map[string][]int{} // tasks that are over when a step is
	for _, s := range steps {
		var after []int
		for _, code := range s.After {
			after = append(after, ends[code]...)
		}
		slices.Sort(after)
		after = slices.Compact(after)
		line, ok := lines[s.Code]
		if !ok {
			ends[s.Code] = after
			continue
		}
		if s.Resource == Former {
			for _, a := range after {
				tasks[a].Place = Former
			}
		}
		for n := range line.Repeats {
			t := Task{Code: s.Code, Name: s.Name, Work: share(line.Minutes, work.Allowance, line.Repeats), Wait: hours(line.Wait), Sets: line.Sets, People: 1, After: after}
			if line.Repeats > 1 {
				t.Name = fmt.Sprintf("%s, %d of %d", s.Name, n+1, line.Repeats)
			}
			if p := line.People; p > 1 {
				t.People, t.Work = p, t.Work/time.Duration(p)
			}
			if s.Resource == Former || s.Resource == DryingPlace {
				t.Place = s.Resource
			}
			tasks = append(tasks, t)
			after = []int{len(tasks) - 1}
		}
		ends[s.Code] = after
	}
	return tasks
}

// byStep are the lines of some work by the codes of their steps.
func byStep(work labour.Work) map[string]*labour.Line {
	lines := make(map[string]*labour.Line, len(work.Lines))
	for i, l := range work.Lines {
		lines[l.Step.Code] = &work.Lines[i]
	}
	return lines
}

// Dried are tasks in other air than that of reference: what is borne by water waits by the air's factor, what sets by
// that of its warmth.
func Dried(tasks []Task, air Climate) []Task {
	factors := map[materials.Setting]decimal.Decimal{materials.ByAir: air.Factor(), materials.ByWarmth: air.Warmth()}
	dried := slices.Clone(tasks)
	for i, t := range dried {
		if factor, ok := factors[t.Sets]; ok {
			dried[i].Wait = time.Duration(factor.Mul(decimal.NewFromInt(int64(t.Wait))).IntPart())
		}
	}
	return dried
}

// UnmarshalJSON reads a task as it is kept, and as earlier programs kept it, which knew only whether a wait goes by the
// air.
func (t *Task) UnmarshalJSON(data []byte) error {
	type plain Task
	kept := struct {
		*plain
		Dries bool
	}{plain: (*plain)(t)}
	err := json.Unmarshal(data, &kept)
	if t.Sets == "" && kept.Dries {
		t.Sets = materials.ByAir
	}
	return err
}

// Spells are how long each task's work and wait are together, for a network without limits.
func Spells(tasks []Task) (minutes []int, holds []Hold) {
	for i, t := range tasks {
		minutes = append(minutes, int((t.Work+t.Wait)/time.Minute))
		for _, a := range t.After {
			holds = append(holds, Hold{Before: a, After: i, Link: FinishStart})
		}
	}
	return minutes, holds
}

// Critical is how long tasks take with hands and hours without end, and those that none of it can wait for, in the order
// of making: the critical path of their network.
func Critical(tasks []Task) (took time.Duration, path []Task) {
	floats, minutes, ok := CriticalPath(Spells(tasks))
	for i, t := range tasks {
		if ok && floats[i].Critical() {
			path = append(path, t)
		}
	}
	return time.Duration(minutes) * time.Minute, path
}

// Decides is the chain of slots that sets the day a plan is ready, last first: each waits for the next.
func (p Plan) Decides() []Slot {
	last := -1
	for i, s := range p.Slots {
		if last < 0 || s.Ready.After(p.Slots[last].Ready) {
			last = i
		}
	}
	var chain []Slot
	for i := last; i >= 0; i = p.Slots[i].For {
		chain = append(chain, p.Slots[i])
	}
	return chain
}
