package schedule_test

import (
	"fmt"
	"testing"
	"time"

	"pgregory.net/rapid"

	"foamwright/pricing/schedule"
)

var monday = time.Date(2026, 3, 2, 9, 0, 0, 0, time.UTC)

func anyJob(t *rapid.T, id string) schedule.Job {
	j := schedule.Job{ID: id, From: monday.Add(time.Duration(rapid.IntRange(0, 20*24*4).Draw(t, "from")) * 15 * time.Minute)}
	for i := range rapid.IntRange(1, 12).Draw(t, "tasks") {
		task := schedule.Task{
			Name: fmt.Sprint(i), Work: time.Duration(rapid.IntRange(0, 600).Draw(t, "minutes")) * time.Minute, Wait: time.Duration(rapid.IntRange(0, 30).Draw(t, "hours")) * time.Hour,
			People: rapid.IntRange(1, 2).Draw(t, "people"), Place: rapid.SampledFrom([]string{"", "", "former", "drying"}).Draw(t, "place"),
		}
		for a := range i {
			if rapid.Bool().Draw(t, "after") {
				task.After = append(task.After, a)
			}
		}
		j.Tasks = append(j.Tasks, task)
	}
	return j
}

func anyBench(t *rapid.T) schedule.Bench {
	c := weekdays("2026-03-10", "2026-03-11")
	c.Hours[time.Saturday] = time.Duration(rapid.IntRange(0, 4).Draw(t, "saturday")) * time.Hour
	return schedule.Bench{Calendar: c, People: rapid.IntRange(1, 3).Draw(t, "people"), Places: map[string]int{"former": rapid.IntRange(1, 2).Draw(t, "formers"), "drying": rapid.IntRange(1, 3).Draw(t, "drying")}}
}

func anyBooked(t *rapid.T, b schedule.Bench) []schedule.Plan {
	var jobs []schedule.Job
	for i := range rapid.IntRange(0, 4).Draw(t, "booked") {
		jobs = append(jobs, anyJob(t, fmt.Sprint("booked ", i)))
	}
	return b.Lay(jobs, nil)
}

// Nobody is at two jobs at once, no former carries two shields, nothing begins before what it waits for, hands rest
// when the bench is shut, and all the work is done.
func TestLayKeepsTheBench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBench(t)
		plans := anyBooked(t, b)
		plans = append(plans, b.Lay([]schedule.Job{anyJob(t, "new")}, plans)...)
		var all []schedule.Slot
		for _, p := range plans {
			for _, s := range p.Slots {
				all = append(all, s)
				for _, a := range s.Task.After {
					if p.Slots[a].Ready.After(s.Start) {
						t.Fatalf("%s %s begins %s, %s is ready %s", p.Job, s.Task.Name, s.Start, p.Slots[a].Task.Name, p.Slots[a].Ready)
					}
				}
				if s.Ready.Sub(s.End) != s.Task.Wait {
					t.Fatalf("waits %s of %s", s.Ready.Sub(s.End), s.Task.Wait)
				}
				want := s.Task.Work
				if s.Task.People > s.People {
					want = want * time.Duration(s.Task.People) / time.Duration(s.People)
				}
				if got := open(b.Calendar, s.Start, s.End); got != want {
					t.Fatalf("%s of work in %s open from %s to %s", want, got, s.Start, s.End)
				}
			}
		}
		for _, at := range all {
			people, places, there := 0, map[string]int{}, map[string]bool{}
			for _, s := range all {
				if !s.Start.After(at.Start) && s.End.After(at.Start) {
					people += s.People
				}
				// Two coats of one shield dry on one place.
				if key := s.Task.Place + s.Job; !s.Start.After(at.Start) && s.Ready.After(at.Start) && !there[key] {
					there[key] = true
					places[s.Task.Place]++
				}
			}
			if people > b.People || places["former"] > b.Places["former"] || places["drying"] > b.Places["drying"] {
				t.Fatalf("at %s %d people of %d, %v of %v", at.Start, people, b.People, places, b.Places)
			}
		}
	})
}

// What takes no hands may begin before the task on the same former that stands before it in the order of making: the
// former is taken from then on all the same.
func TestAFormerIsTakenFromTheFirst(t *testing.T) {
	b := schedule.Bench{Calendar: weekdays(), People: 1, Places: map[string]int{"former": 1}}
	first := schedule.Job{ID: "first", From: monday, Tasks: []schedule.Task{
		{Wait: time.Hour}, {Place: "former", After: []int{0}}, {Place: "former", Wait: time.Hour},
	}}
	plans := b.Lay([]schedule.Job{first, {ID: "second", From: monday, Tasks: []schedule.Task{{Place: "former", Wait: time.Hour}}}}, nil)
	if at := plans[1].Slots[0].Start; at.Before(plans[0].Ready) {
		t.Errorf("the second job is on the former at %s, the first until %s", at, plans[0].Ready)
	}
}

// open is how long the bench is open between two times, counted by the minute in another way than the calendar does.
func open(c schedule.Calendar, from, to time.Time) time.Duration {
	minutes := 0
	for at := from; at.Before(to); at = at.Add(time.Minute) {
		midnight := time.Date(at.Year(), at.Month(), at.Day(), 0, 0, 0, 0, time.UTC)
		shut := false
		for _, a := range c.Away {
			shut = shut || midnight.Equal(a.From)
		}
		if since := at.Sub(midnight) - c.Opens; !shut && since >= 0 && since < c.Hours[at.Weekday()] {
			minutes++
		}
	}
	return time.Duration(minutes) * time.Minute
}

// Begun later it is never ready earlier; with one more of anything, never later.
func TestLayIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyBench(t)
		booked := anyBooked(t, b)
		j := anyJob(t, "new")
		ready := b.Lay([]schedule.Job{j}, booked)[0].Ready
		later := j
		later.From = j.From.Add(time.Duration(rapid.IntRange(1, 2000).Draw(t, "later")) * 15 * time.Minute)
		if got := b.Lay([]schedule.Job{later}, booked)[0].Ready; got.Before(ready) {
			t.Fatalf("from %s it is ready %s, from %s already %s", j.From, ready, later.From, got)
		}
		more := b
		more.Places = map[string]int{"former": b.Places["former"], "drying": b.Places["drying"]}
		switch rapid.IntRange(0, 2).Draw(t, "more") {
		case 0:
			more.People++
		case 1:
			more.Places["former"]++
		case 2:
			more.Places["drying"]++
		}
		if got := more.Lay([]schedule.Job{j}, booked)[0].Ready; got.After(ready) {
			t.Fatalf("ready %s, with more only %s", ready, got)
		}
	})
}

// BenchmarkLay is 200 open orders of 60 tasks over a year, and one more after a change.
func BenchmarkLay(b *testing.B) {
	bench := schedule.Bench{Calendar: weekdays(), People: 2, Places: map[string]int{"former": 2, "drying": 4}}
	var jobs []schedule.Job
	for i := range 200 {
		j := schedule.Job{ID: fmt.Sprint(i), From: monday.AddDate(0, 0, i)}
		for k := range 60 {
			task := schedule.Task{Work: time.Duration(5+k*7%20) * time.Minute, People: 1 + k%9/8}
			if k > 0 {
				task.After = []int{k - 1}
			}
			if k%8 == 7 {
				task.Wait, task.Place = time.Duration(k%5)*3*time.Hour, []string{"former", "drying"}[k%2]
			}
			j.Tasks = append(j.Tasks, task)
		}
		jobs = append(jobs, j)
	}
	var plans []schedule.Plan
	b.Run("200 orders", func(b *testing.B) {
		for b.Loop() {
			plans = bench.Lay(jobs, nil)
		}
	})
	b.Run("one more", func(b *testing.B) {
		for b.Loop() {
			bench.Lay(jobs[:1], plans)
		}
	})
}
