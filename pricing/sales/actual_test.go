package sales_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/stock"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

func d(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func minutes(n int) time.Duration { return time.Duration(n) * time.Minute }

func planned() sales.Taken {
	return sales.Taken{
		Order: sales.Order{State: sales.Booked},
		Quote: sales.Quote{Printed: sales.Printed{
			Tasks: []schedule.Task{
				{Code: "cut", Name: "Cut out", Work: minutes(30), People: 1},
				{Code: "spread", Name: "Spread contact adhesive", Work: minutes(20), People: 2},
				{Code: "smooth", Name: "Round and smooth the edge", Work: minutes(50), People: 1},
				{Code: "fill", Name: "Fill gaps and seams", Work: minutes(10), People: 1},
				{Code: "latex-more", Name: "Latex, further coats, 1 of 2", Work: minutes(6), People: 1},
				{Code: "latex-more", Name: "Latex, further coats, 2 of 2", Work: minutes(6), People: 1},
			},
			Takes: []sales.Taking{{Item: "latex", Name: "Latex", Quantity: d("0.4"), Unit: "l", Cost: d("5.80")}, {Item: "talc", Name: "Talc", Quantity: d("0")}},
		}},
		Moves: []stock.Movement{{Item: "latex", Quantity: d("-0.5")}, {Item: "latex", Quantity: d("0.05")}, {Item: "glue", Quantity: d("-0.2")}},
	}
}

func steps(t *testing.T) []labour.Step {
	t.Helper()
	s, err := labour.Seed()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func logOf(id, step, min, rework, note, corrects string) labour.Log {
	return labour.Log{ID: id, Step: step, Minutes: d(min), Rework: rework, Note: note, Corrects: corrects}
}

// Planned minutes count both people of a step; a log by step and one by group come together; a corrected log counts as
// corrected, and what was done again stands apart and says why.
func TestPlannedAgainstActual(t *testing.T) {
	logs := []labour.Log{
		logOf("1", "cut", "90", "", "", ""), logOf("2", "cut", "35", "", "", "1"), // 90 was 35
		logOf("3", "smooth", "55", "", "", ""), logOf("4", "edge", "45", "lifted at the point", "", ""),
		logOf("5", "glue", "30", "", "", ""), logOf("6", "banner", "25", "", "a banner as well", ""),
	}
	a := sales.Compare(planned(), steps(t), logs)
	got := ""
	for _, g := range a.Groups {
		got += fmt.Sprintf("%s %s %s %s\n", g.Group, g.Planned, g.Worked, g.Rework)
	}
	want := "cut 30 35 0\nglue 40 30 0\nedge 60 55 45\ncoat 12 0 0\nown 0 25 0\n"
	if got != want || !a.Planned.Equal(d("142")) || !a.Worked.Equal(d("145")) || !a.Rework.Equal(d("45")) {
		t.Errorf("%s planned %s, worked %s, again %s", got, a.Planned, a.Worked, a.Rework)
	}
	if s := a.Groups[3].Steps; len(s) != 1 || s[0].Name != "Latex, further coats" || !s[0].Planned.Equal(d("12")) {
		t.Errorf("%+v", s)
	}
	if s := a.Groups[2].Steps[0]; !s.Worked.Equal(d("55")) {
		t.Errorf("%+v", s)
	}
	// Of the edge ten minutes are still to be done: what was done again comes on top of them.
	if over := a.Over(); !over.Equal(d("75")) {
		t.Errorf("%s min over", over)
	}
	reasons := strings.Join(a.Reasons, "\n")
	if reasons != "Edges, bonds and gaps took 45 min longer than planned: lifted at the point, done again.\nWork of its own took 25 min and was not planned: a banner as well.\nMarking and cutting took 5 min longer than planned." {
		t.Errorf("%s", reasons)
	}
	if len(a.Materials) != 2 || !a.Materials[0].Taken.Equal(d("0.45")) || a.Materials[1].Item != "glue" || !a.Materials[0].Taking.Cost.Equal(d("5.8")) {
		t.Errorf("%+v", a.Materials)
	}
}

// While an order is at the bench, what is quicker so far is no reason; afterwards it is, but not what nobody logged.
func TestReasonsOfAnOrderThatEnded(t *testing.T) {
	p := planned()
	logs := []labour.Log{logOf("5", "glue", "30", "", "helped by Bram", "")}
	if a := sales.Compare(p, steps(t), logs); len(a.Reasons) != 0 {
		t.Errorf("%v", a.Reasons)
	}
	p.Order.State = sales.Done
	if a := sales.Compare(p, steps(t), logs); len(a.Reasons) != 1 || a.Reasons[0] != "Glueing and laying up took 10 min less than planned: helped by Bram." {
		t.Errorf("%v", a.Reasons)
	}
}
