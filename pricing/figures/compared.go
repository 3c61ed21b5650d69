package figures

import (
	"context"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Compared is a design at today's figures, beside what was asked for it and what jobs of it took.
type Compared struct {
	Weighed
	Quoted Quoted // of all its versions
	Done   Done
}

// NetEach is the net price of a piece at today's figures.
func (c Compared) NetEach() money.Amount { return per(c.Net, decimal.NewFromInt(int64(c.Quantity))) }

// Alike are the quotes of as many pieces as the design is for: one of many costs less, and says nothing of its price.
func (c Compared) Alike() Quoted { return c.Quoted.Sizes[c.Quantity] }

// Drift is how far today's price of a piece is from what was asked in quotes of as many: "+3.8 %"; empty where nothing
// was asked.
func (c Compared) Drift() string { return drift(c.Alike().Each().Decimal(), c.NetEach().Decimal()) }

// Comparison are designs side by side over a span.
type Comparison struct {
	Span
	Designs []Compared
	Skipped []Unpriced // that cannot be priced as they are written
	Loose   Done       // jobs whose quote names no design
}

// weighAll weighs designs at some figures.
func (s *Service) weighAll(ctx context.Context, designs []sales.Design, snap pricing.Snapshot) (all []Weighed, skipped []Unpriced, err error) {
	b, err := based(snap)
	if err != nil {
		return nil, nil, err
	}
	made, why := make([]Weighed, len(designs)), make([]string, len(designs))
	err = parallel(ctx, len(designs), func(ctx context.Context, i int) error {
		d := designs[i]
		e, err := s.estimateAt(ctx, d.Form, b)
		if fault.KindOf(err) == fault.Invalid {
			why[i] = err.Error()
			return nil
		}
		made[i] = Weigh(d.ID, d.Name, e)
		made[i].Version = d.Version
		return err
	})
	for i, d := range designs {
		if why[i] != "" {
			skipped = append(skipped, Unpriced{ADesign, d.ID, d.Name, why[i]})
		} else {
			all = append(all, made[i])
		}
	}
	return all, skipped, err
}

// Compare weighs every design at today's figures beside its quotes and jobs of a span.
func (s *Service) Compare(ctx context.Context, in Span) (c Comparison, err error) {
	designs, err := s.sales.Designs(ctx)
	if err != nil {
		return c, err
	}
	return s.compare(ctx, in, designs)
}

func (s *Service) compare(ctx context.Context, in Span, designs []sales.Design) (c Comparison, err error) {
	snap, err := s.sales.Figures(ctx, "")
	if err != nil {
		return c, err
	}
	c.Span = in
	c.Currency = snap.Rates.Currency
	weighed, skipped, err := s.weighAll(ctx, designs, snap)
	if err != nil {
		return c, err
	}
	c.Skipped = skipped
	var done map[sales.MadeFrom]Done
	var quoted map[sales.MadeFrom]Quoted
	err = s.store.Look(ctx, func(tx Tx) error {
		if done, err = tx.Done(ctx, c.Span); err != nil {
			return err
		}
		quoted, err = tx.Quoted(ctx, c.Span)
		return err
	})
	of, asked := map[string]Done{}, map[string]Quoted{}
	for from, d := range done {
		of[from.ID] = of[from.ID].Of(d)
	}
	for from, q := range quoted {
		asked[from.ID] = asked[from.ID].Of(q)
	}
	for _, w := range weighed {
		c.Designs = append(c.Designs, Compared{w, asked[w.ID], of[w.ID]})
	}
	c.Loose = of[""]
	return c, err
}

// MostBeside is how many designs stand side by side at most.
const MostBeside = 8

// Beside is Compare of some designs, in the order they were asked for, each once.
func (s *Service) Beside(ctx context.Context, in Span, ids []string) (c Comparison, err error) {
	all, err := s.sales.Designs(ctx)
	if err != nil {
		return c, err
	}
	var chosen []sales.Design
	for _, id := range ids {
		i := slices.IndexFunc(all, func(d sales.Design) bool { return d.ID == id })
		if i >= 0 && !slices.ContainsFunc(chosen, func(d sales.Design) bool { return d.ID == id }) {
			chosen = append(chosen, all[i])
		}
	}
	if len(chosen) > MostBeside {
		var l fault.List
		l.Add("design", strconv.Itoa(len(chosen)), "At most "+strconv.Itoa(MostBeside)+" designs stand side by side. Tick fewer.")
		return c, l.Err()
	}
	return s.compare(ctx, in, chosen)
}
