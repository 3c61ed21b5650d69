package sales

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/labour"
	"foamwright/pricing/money"
)

// Actual is what an order took, beside what was planned.
type Actual struct {
	Groups                  []GroupTime // in the order of making
	Planned, Worked, Rework decimal.Decimal
	Materials               []MaterialUse
	Cost                    money.Amount // of the material taken, less what came back
	Reasons                 []string     // the three largest, in words
	Logs                    []labour.Log // corrected ones too
}

// GroupTime is a group of steps. Minutes are those of all people together, planned ones with rest and delay.
type GroupTime struct {
	Group, Name             string
	Planned, Worked, Rework decimal.Decimal // worked the first time; done again
	Steps                   []StepTime
	Why                     []string // it was done again, or noted, each once
	Open                    bool     // it is still at the bench: what was not logged yet is not quicker
}

// StepTime is one step of a group. Worked is what was logged on the step itself; most is logged by group.
type StepTime struct {
	Name            string
	Planned, Worked decimal.Decimal
}

// Over is how much longer it took than planned, rework in it; negative when it was quicker. While it is at the bench
// rework comes on top of what is still to be done.
func (g GroupTime) Over() decimal.Decimal {
	over := g.Worked.Sub(g.Planned)
	if g.Open {
		over = decimal.Max(decimal.Zero, over)
	}
	return over.Add(g.Rework)
}

// Over is how much longer all groups took.
func (a Actual) Over() (over decimal.Decimal) {
	for _, g := range a.Groups {
		over = over.Add(g.Over())
	}
	return over
}

// MaterialUse is a material as the quote reckoned it and as it was taken, and what that cost.
type MaterialUse struct {
	Taking
	Taken decimal.Decimal
	Cost  money.Amount
}

// Actual holds an order against its quote.
func (s *Service) Actual(ctx context.Context, id string) (Actual, error) {
	return read(ctx, s, func(tx Tx) (Actual, error) {
		t, err := s.taken(ctx, tx, id)
		if err != nil {
			return Actual{}, err
		}
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return Actual{}, err
		}
		logs, err := tx.Logs(ctx, id)
		a := Compare(t, w.Figures.Steps, logs)
		for i, m := range a.Materials { // what was not reckoned has a name on the shelf alone
			c := w.Figures.Catalogue
			if l, ok := c.LiquidOf(m.Item); ok && m.Name == m.Item {
				a.Materials[i].Name = l.Name
			} else if g, ok := c.GoodOf(m.Item); ok && m.Name == m.Item {
				a.Materials[i].Name = g.Name
			} else if f, ok := c.Foam(m.Item); ok && m.Name == m.Item {
				a.Materials[i].Name = f.Name
			}
		}
		return a, err
	})
}

// Compare holds what was logged and taken against the quote. Steps tell which group a step belongs to.
func Compare(t Taken, steps []labour.Step, logs []labour.Log) Actual {
	a := Actual{Logs: logs, Cost: t.Cost(), Materials: materialsOf(t)}
	group := func(name string) *GroupTime {
		i := slices.IndexFunc(a.Groups, func(g GroupTime) bool { return g.Group == name })
		if i < 0 {
			i = len(a.Groups)
			a.Groups = append(a.Groups, GroupTime{Group: name, Name: labour.GroupName(name), Open: t.Order.Open()})
		}
		return &a.Groups[i]
	}
	codes := map[string][2]string{} // of a step: its group and its name
	for _, task := range t.Quote.Printed.Tasks {
		g := group(labour.LoggedOn(steps, task.Code))
		name := task.Name
		if at := strings.LastIndex(name, ", "); at > 0 && strings.Contains(name[at:], " of ") { // one coat of several
			name = name[:at]
		}
		if codes[task.Code] == ([2]string{}) {
			codes[task.Code] = [2]string{g.Group, name}
			g.Steps = append(g.Steps, StepTime{Name: name})
		}
		minutes := decimal.NewFromInt(int64(task.Work)).Mul(decimal.NewFromInt(int64(max(1, task.People)))).DivRound(decimal.NewFromInt(int64(time.Minute)), 2)
		step := slices.IndexFunc(g.Steps, func(s StepTime) bool { return s.Name == codes[task.Code][1] })
		g.Steps[step].Planned = g.Steps[step].Planned.Add(minutes)
		g.Planned, a.Planned = g.Planned.Add(minutes), a.Planned.Add(minutes)
	}
	for _, l := range labour.Standing(logs) {
		g := group(labour.LoggedOn(steps, l.Step))
		why := l.Rework
		if l.Rework != "" {
			g.Rework, a.Rework = g.Rework.Add(l.Minutes), a.Rework.Add(l.Minutes)
			why += ", done again"
		} else {
			g.Worked, a.Worked, why = g.Worked.Add(l.Minutes), a.Worked.Add(l.Minutes), l.Note
			if i := slices.IndexFunc(g.Steps, func(s StepTime) bool { return l.Step != g.Group && s.Name == codes[l.Step][1] }); i >= 0 {
				g.Steps[i].Worked = g.Steps[i].Worked.Add(l.Minutes)
			}
		}
		if why != "" && !slices.Contains(g.Why, why) {
			g.Why = append(g.Why, why)
		}
	}
	a.Reasons = reasons(a.Groups, !t.Order.Open())
	return a
}

func materialsOf(t Taken) (all []MaterialUse) {
	used := t.Used()
	row := func(code string) *MaterialUse {
		i := slices.IndexFunc(all, func(m MaterialUse) bool { return m.Item == code })
		if i < 0 {
			i = len(all)
			all = append(all, MaterialUse{Taking: Taking{Item: code, Name: code}, Taken: used[code]})
		}
		return &all[i]
	}
	for _, k := range t.Quote.Printed.Takes {
		if k.Quantity.IsPositive() {
			row(k.Item).Taking = k
		}
	}
	for _, m := range t.Moves {
		r := row(m.Item)
		r.Cost = r.Cost.Sub(m.Cost)
	}
	return all
}

// worth is how many minutes are worth a word.
const worth = 5

// reasons are the three groups that went furthest from the plan, in words. While an order is at the bench only what
// took longer can be said; what was not logged yet is not quicker.
func reasons(groups []GroupTime, ended bool) (said []string) {
	far := slices.DeleteFunc(slices.Clone(groups), func(g GroupTime) bool {
		least := g.Over()
		if ended && g.Worked.Add(g.Rework).IsPositive() {
			least = least.Abs()
		}
		return least.LessThan(decimal.NewFromInt(worth))
	})
	slices.SortStableFunc(far, func(a, b GroupTime) int { return b.Over().Abs().Cmp(a.Over().Abs()) })
	for _, g := range far[:min(3, len(far))] {
		how, because := "longer", ""
		if g.Over().IsNegative() {
			how = "less"
		}
		if len(g.Why) > 0 {
			because = ": " + strings.Join(g.Why[:min(3, len(g.Why))], "; ")
		}
		took := fmt.Sprintf("%s took %s min %s than planned%s", g.Name, g.Over().Abs().Round(0), how, because)
		if g.Planned.IsZero() {
			took = fmt.Sprintf("%s took %s min and was not planned%s", g.Name, g.Over().Round(0), because)
		}
		said = append(said, took+".")
	}
	return said
}

// AtBench are the orders that are still to be made: what is on the bench now first, then by the day they begin.
func (s *Service) AtBench(ctx context.Context) ([]Order, error) {
	return read(ctx, s, func(tx Tx) ([]Order, error) {
		orders, err := tx.Orders(ctx, Found{Open: true})
		if err != nil {
			return nil, err
		}
		booked, err := tx.Booked(ctx)
		if err != nil {
			return nil, err
		}
		now, first := Wall(s.now()), map[string]time.Time{}
		for _, o := range orders {
			first[o.ID] = o.Starts
			if slots := booked[o.ID].Slots; len(slots) > 0 {
				first[o.ID] = slots[0].Start
			}
		}
		place := func(o Order) int { // begun, booked, or waiting for its deposit
			switch {
			case o.State == Booked && !first[o.ID].After(now):
				return 0
			case o.State == Booked:
				return 1
			}
			return 2
		}
		slices.SortStableFunc(orders, func(a, b Order) int { return cmp.Or(place(a)-place(b), first[a.ID].Compare(first[b.ID])) })
		return orders, nil
	})
}
