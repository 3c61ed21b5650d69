package schedule_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"foamwright/pricing/schedule"
)

func finishStart(from, to []int) []schedule.Hold {
	holds := make([]schedule.Hold, len(from))
	for i := range from {
		holds[i] = schedule.Hold{Before: from[i] - 1, After: to[i] - 1, Link: schedule.FinishStart}
	}
	return holds
}

// Projects 1 and 2 of Integrated Project Management and Control (Springer 2014), pages 6 and 9, as the R package
// criticalpath 0.2.1 (MIT) has them in its tests; figures only.
func TestCriticalPath(t *testing.T) {
	second := finishStart([]int{1, 2, 3, 3, 4, 5, 6, 7, 8, 8, 8, 8, 8, 9, 10, 11, 12, 13, 13, 14, 14, 15, 15},
		[]int{2, 3, 4, 6, 5, 8, 7, 8, 9, 10, 11, 12, 13, 14, 14, 14, 14, 14, 15, 16, 17, 16, 17})
	for _, c := range []struct {
		name      string
		durations []int
		holds     []schedule.Hold
		total     int
		critical  []int
		starts    []int // earliest, where published
		latest    []int
	}{
		{"project 1", []int{1, 2, 2, 4, 3, 3, 3, 2, 1, 1, 2, 1, 1, 1, 1, 2, 1},
			finishStart([]int{1, 1, 2, 2, 2, 3, 3, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11, 11, 12, 12, 13, 13, 14, 14, 15, 15},
				[]int{2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 11, 11, 12, 13, 14, 15, 16, 17, 16, 17, 16, 17, 16, 17, 16, 17}),
			11, []int{1, 2, 4, 11, 16}, nil, nil},
		{"project 2", []int{1, 1, 3, 2, 2, 2, 2, 1, 4, 5, 3, 3, 4, 5, 1, 5, 2}, second, 25, []int{1, 2, 3, 4, 5, 6, 7, 8, 10, 14, 16},
			[]int{0, 1, 2, 5, 7, 5, 7, 9, 10, 10, 10, 10, 10, 15, 14, 20, 20}, []int{0, 1, 2, 5, 7, 5, 7, 9, 11, 10, 12, 12, 11, 15, 19, 20, 23}},
		{"project 2, what if", []int{1, 2, 5, 4, 3, 2, 1, 5, 3, 5, 5, 3, 4, 2, 1, 2, 4}, second, 31, []int{1, 2, 3, 4, 5, 8, 10, 11, 14, 17},
			[]int{0, 1, 3, 8, 12, 8, 10, 15, 20, 20, 20, 20, 20, 25, 24, 27, 27}, []int{0, 1, 3, 8, 12, 12, 14, 15, 22, 20, 20, 22, 21, 25, 26, 29, 27}},
	} {
		floats, total, ok := schedule.CriticalPath(c.durations, c.holds)
		var critical, starts, latest []int
		for i, f := range floats {
			if f.Critical() {
				critical = append(critical, i+1)
			}
			starts, latest = append(starts, f.EarliestStart), append(latest, f.LatestStart)
		}
		if !ok || total != c.total || !cmp.Equal(critical, c.critical) {
			t.Errorf("%s: %d, %v; published %d, %v", c.name, total, critical, c.total, c.critical)
		}
		if c.starts != nil && (!cmp.Equal(starts, c.starts) || !cmp.Equal(latest, c.latest)) {
			t.Errorf("%s: starts %v, latest %v", c.name, starts, latest)
		}
	}
	if _, _, ok := schedule.CriticalPath([]int{1, 1}, finishStart([]int{1, 2}, []int{2, 1})); ok {
		t.Error("a ring is let through")
	}
}

// The kinds of link, from the tests of the same package: begin (1), A (3), B (3), end (1).
func TestLinks(t *testing.T) {
	for _, c := range []struct {
		link       schedule.Link
		lag, total int
		start, end int
	}{
		{schedule.FinishStart, 0, 8, 4, 7}, {schedule.FinishStart, 2, 10, 6, 9}, {schedule.FinishStart, -2, 6, 2, 5},
		{schedule.StartStart, 0, 5, 1, 4}, {schedule.StartStart, 2, 7, 3, 6}, {schedule.FinishFinish, 2, 7, 3, 6},
	} {
		floats, total, _ := schedule.CriticalPath([]int{1, 3, 3, 1}, []schedule.Hold{
			{Before: 0, After: 1, Link: schedule.FinishStart}, {Before: 1, After: 2, Link: c.link, Lag: c.lag}, {Before: 2, After: 3, Link: schedule.FinishStart},
			{Before: 1, After: 3, Link: schedule.FinishStart},
		})
		if b := floats[2]; total != c.total || b.EarliestStart != c.start || b.EarliestFinish != c.end {
			t.Errorf("%s %+d: %d, B from %d to %d", c.link, c.lag, total, b.EarliestStart, b.EarliestFinish)
		}
	}
}

func day(s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil {
		panic(err)
	}
	return t
}

func weekdays(away ...string) schedule.Calendar {
	full := 8 * time.Hour
	c := schedule.Calendar{Opens: 9 * time.Hour, Hours: [7]time.Duration{time.Monday: full, time.Tuesday: full, time.Wednesday: full, time.Thursday: full, time.Friday: full}}
	for _, a := range away {
		c.Away = append(c.Away, schedule.Span{From: day(a), To: day(a)})
	}
	return c
}

// Examples of spreadsheet manuals for their functions of working days (from memory; the figures were reproduced with
// a second library).
func TestWorkingDays(t *testing.T) {
	for _, c := range []struct {
		away []string
		days int
	}{{nil, 110}, {[]string{"2012-11-22"}, 109}, {[]string{"2012-11-22", "2012-12-04", "2013-01-21"}, 107}} {
		if got := weekdays(c.away...).WorkingDays(day("2012-10-01"), day("2013-03-01")); got != c.days {
			t.Errorf("without %v: %d, want %d", c.away, got, c.days)
		}
	}
	for _, c := range []struct {
		away []string
		end  string
	}{{nil, "2009-04-30"}, {[]string{"2008-11-26", "2008-12-04", "2009-01-21"}, "2009-05-05"}} {
		if got := weekdays(c.away...).AfterWorkingDays(day("2008-10-01"), 151); !got.Equal(day(c.end)) {
			t.Errorf("without %v: %s, want %s", c.away, got, c.end)
		}
	}
}

// Ten activities of slides on PERT (a published exercise, figures only), by their expected times: the path C, F, H, J
// takes 17; the others have the slack given there.
func TestSlack(t *testing.T) {
	const a, b, c, d, e, f, g, h, i, j = 0, 1, 2, 3, 4, 5, 6, 7, 8, 9
	var holds []schedule.Hold
	for _, k := range [][2]int{{a, d}, {b, e}, {c, f}, {c, g}, {e, h}, {f, h}, {d, i}, {h, j}, {g, j}} {
		holds = append(holds, schedule.Hold{Before: k[0], After: k[1], Link: schedule.FinishStart})
	}
	floats, total, ok := schedule.CriticalPath([]int{6, 3, 4, 2, 3, 5, 3, 5, 5, 3}, holds)
	if !ok || total != 17 {
		t.Fatalf("%d", total)
	}
	for at, slack := range map[int]int{a: 4, b: 3, c: 0, d: 4, e: 3, f: 0, g: 7, h: 0, i: 4, j: 0} {
		if got := floats[at].LatestStart - floats[at].EarliestStart; got != slack {
			t.Errorf("activity %c: slack %d, published %d", 'A'+at, got, slack)
		}
	}
}
