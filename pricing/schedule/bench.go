package schedule

import (
	"cmp"
	"math"
	"slices"
	"time"

	"foamwright/materials"
)

// Bench is who and what there is to work with. Places are what only so many pieces can be on at a time: a former, a
// drying place; a place that is not listed is never short.
type Bench struct {
	Calendar Calendar
	People   int
	Places   map[string]int
}

// Task is one stretch of work of a job and the wait after it. Work is the time of each of its people, allowance in
// it; a bench with fewer people takes the longer.
type Task struct {
	Code, Name string
	Work, Wait time.Duration
	Sets       materials.Setting // what the wait goes by
	People     int
	Place      string // taken from the beginning of the work to the end of the wait; empty for the bench alone
	After      []int  // tasks of the same job, all of lower index
}

// Job is what is to be made: its tasks in the order of making, none begun before From. One pair of hands, or one
// crew, makes it from task to task; waits go on by themselves, overnight too.
type Job struct {
	ID    string
	From  time.Time
	Tasks []Task
}

// Reason is why a task begins no earlier.
type Reason string

// The reasons.
const (
	AtOnce    Reason = ""         // nothing holds it
	HasToWait Reason = "wait"     // for the wait of a task before it
	Hands     Reason = "hands"    // for the task that is worked on
	Busy      Reason = "people"   // everybody is at another job
	NoPlace   Reason = "place"    // the former or drying place is taken by another job
	Shut      Reason = "calendar" // the bench is closed
)

// Slot is a task with its time.
type Slot struct {
	Job    string
	Task   Task
	Index  int
	Start  time.Time
	End    time.Time // of the work
	Ready  time.Time // and its wait
	People int
	Why    Reason
	For    int    // the task of this job that it waits for; -1 for none
	Behind string // the other job it waits for
}

// Plan is a job on the bench.
type Plan struct {
	Job     string
	From    time.Time // of the job
	Slots   []Slot
	Ready   time.Time
	Again   int       // how often a booked plan was made anew
	Planned time.Time // when a booked plan was made
}

// Lay puts jobs on the bench one after the other, in their order: each goes into what the ones before leave free, as
// early as it can, and those stay where they are. So a job that is begun later is never ready earlier, and with more
// people or places none is ready later, as long as the jobs before it stay where they are. booked stays too.
func (b Bench) Lay(jobs []Job, booked []Plan) []Plan {
	t := newTaken(b)
	for _, p := range booked {
		t.book(p)
	}
	plans := make([]Plan, len(jobs))
	for i, j := range jobs {
		plans[i] = t.lay(j)
	}
	return plans
}

// lay places one job: task by task, and tasks that stay on one place together, so that nobody comes in between.
func (t *taken) lay(j Job) Plan {
	p := Plan{Job: j.ID, From: j.From, Slots: make([]Slot, 0, len(j.Tasks)), Ready: j.From}
	for i := 0; i < len(j.Tasks); {
		end := i + 1
		for place := j.Tasks[i].Place; place != "" && end < len(j.Tasks) && j.Tasks[end].Place == place; {
			end++
		}
		for from, behind := j.From, ""; ; {
			for k := i; k < end; k++ {
				p.Slots = append(p.Slots, t.slot(j, p.Slots, from, behind))
			}
			free, by, blocked := t.stays(p.Slots[i:])
			if !blocked {
				break
			}
			p.Slots, from, behind = p.Slots[:i], free, by
		}
		i = end
	}
	for _, s := range p.Slots {
		p.Ready = Later(p.Ready, s.Ready)
	}
	t.book(p)
	return p
}

// slot places the next task of a job, not before a time until which another job is on its place.
func (t *taken) slot(j Job, before []Slot, from time.Time, behind string) Slot {
	i := len(before)
	s := Slot{Job: j.ID, Task: j.Tasks[i], Index: i, Start: Later(j.From, from), For: -1, People: max(1, min(j.Tasks[i].People, t.bench.People))}
	if from.After(j.From) {
		s.Why, s.Behind = NoPlace, behind
	}
	for k := i - 1; k >= 0; k-- {
		if before[k].Task.Work > 0 {
			if before[k].End.After(s.Start) {
				s.Start, s.Why, s.For, s.Behind = before[k].End, Hands, k, ""
			}
			break
		}
	}
	for _, a := range j.Tasks[i].After {
		if before[a].Ready.After(s.Start) {
			s.Start, s.Why, s.For, s.Behind = before[a].Ready, HasToWait, a, ""
		}
	}
	t.place(&s)
	return s
}

// stays tells whether somebody else comes onto the place of slots that stay on it, between the first and the last.
func (t *taken) stays(group []Slot) (free time.Time, behind string, blocked bool) {
	l := t.places[group[0].Task.Place]
	if l == nil {
		return free, "", false
	}
	return l.full(begin(group), end(group), 1, max(1, t.bench.Places[group[0].Task.Place]))
}

// begin is when the first of some slots begins, which need not be the first in their order: what takes no hands waits for
// none.
func begin(slots []Slot) time.Time {
	return slices.MinFunc(slots, func(a, b Slot) int { return a.Start.Compare(b.Start) }).Start
}

// end is when the last of some slots is ready.
func end(slots []Slot) time.Time {
	var last time.Time
	for _, s := range slots {
		last = Later(last, s.Ready)
	}
	return last
}

// book takes what a plan needs: people by the task, a place for as long as the job stays on it.
func (t *taken) book(p Plan) {
	for i, s := range p.Slots {
		t.people.add(s.Start, s.End, s.People, p.Job)
		if l := t.places[s.Task.Place]; l != nil && (i == 0 || p.Slots[i-1].Task.Place != s.Task.Place) {
			last := i + 1
			for last < len(p.Slots) && p.Slots[last].Task.Place == s.Task.Place {
				last++
			}
			l.add(begin(p.Slots[i:last]), end(p.Slots[i:last]), 1, p.Job)
		}
	}
}

// place moves a slot to the first time that its people and its place are free.
func (t *taken) place(s *Slot) {
	work := s.Task.Work
	if s.Task.People > s.People {
		work = work * time.Duration(s.Task.People) / time.Duration(s.People)
	}
	for {
		if open := t.bench.Calendar.open(s.Start); open.After(s.Start) && work > 0 {
			s.Start, s.Why = open, orElse(s.Why, Shut)
		}
		s.End = t.bench.Calendar.work(s.Start, work, nil)
		s.Ready = s.End.Add(s.Task.Wait)
		if free, behind, ok := t.people.full(s.Start, s.End, s.People, t.bench.People); ok {
			s.Start, s.Why, s.Behind = free, Busy, behind
			continue
		}
		if room, short := t.bench.Places[s.Task.Place]; short {
			if free, behind, ok := t.places[s.Task.Place].full(s.Start, s.Ready, 1, max(1, room)); ok {
				s.Start, s.Why, s.Behind = free, NoPlace, behind
				continue
			}
		}
		return
	}
}

func orElse(why, other Reason) Reason {
	if why == AtOnce || why == Hands {
		return other
	}
	return why
}

// taken is what is booked, by people and by place.
type taken struct {
	bench  Bench
	people *line
	places map[string]*line
}

func newTaken(b Bench) *taken {
	t := &taken{bench: b, people: &line{}, places: map[string]*line{}}
	for place := range b.Places {
		t.places[place] = &line{}
	}
	return t
}

// stretch is so many of something taken for a time by a job. Times are nanoseconds of the epoch: there are many.
type stretch struct {
	from, to int64
	many     int
	job      string
}

// line is stretches in the order of their beginnings, with the longest, so that a look back knows where to end.
type line struct {
	all     []stretch
	longest int64
	in      []stretch // of the last look, to be used again
}

func (l *line) add(from, to time.Time, many int, job string) {
	s := stretch{from.UnixNano(), to.UnixNano(), many, job}
	if s.to <= s.from {
		return
	}
	i, _ := slices.BinarySearchFunc(l.all, s.from, func(a stretch, t int64) int { return cmp.Compare(a.from, t) })
	l.all = slices.Insert(l.all, i, s)
	l.longest = max(l.longest, s.to-s.from)
}

// full tells whether many more cannot be had of room all the time from a to b; then when to look again, which is
// when the first of those in the way is over, and whose it is.
func (l *line) full(from, to time.Time, many, room int) (free time.Time, job string, full bool) {
	a, b := from.UnixNano(), to.UnixNano()
	first, _ := slices.BinarySearchFunc(l.all, a-l.longest, func(s stretch, t int64) int { return cmp.Compare(s.from, t) })
	l.in = l.in[:0]
	for _, s := range l.all[first:] {
		if s.from >= b {
			break
		}
		if s.to > a {
			l.in = append(l.in, s)
		}
	}
	for _, at := range l.in {
		sum, moment := 0, max(at.from, a)
		until := int64(math.MaxInt64)
		for _, s := range l.in {
			if s.from <= moment && s.to > moment {
				sum += s.many
				if s.to < until {
					until, job = s.to, s.job
				}
			}
		}
		if sum+many > room {
			return time.Unix(0, until).In(from.Location()), job, true
		}
	}
	return time.Time{}, "", false
}
