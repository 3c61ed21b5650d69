package figures

import (
	"context"
	"slices"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Compared is a design at today's figures, beside what was asked for it and what jobs of it took.
type Compared struct {
	Weighed
	Asked money.Amount // mean net price a piece of its quotes; in no currency where none was issued
	Done               // of all its versions
}

// NetEach is the net price of a piece at today's figures.
func (c Compared) NetEach() money.Amount { return Done{Planned: c.Weighed.Costing}.Each(c.Weighed.Net) }

// Drifted is how far today's price of a piece is from what was asked, in words; empty where nothing was.
func (c Compared) Drifted() string {
	if c.Asked.Currency() == "" || c.Asked.Sign() == 0 {
		return ""
	}
	return signedPercent(Off(c.Asked.Decimal(), c.NetEach().Decimal()))
}

// Compare weighs every design at today's figures, for a customer like any other, beside its quotes and jobs of a span.
func (s *Service) Compare(ctx context.Context, in Span) (all []Compared, skipped []Skipped, err error) {
	weighed, skipped, err := s.Designs(ctx)
	if err != nil {
		return nil, nil, err
	}
	var done map[sales.MadeFrom]Done
	var asked map[string]money.Amount
	err = s.store.Look(ctx, func(tx Tx) error {
		if done, err = tx.Done(ctx, in); err != nil {
			return err
		}
		asked, err = tx.Asked(ctx, in)
		return err
	})
	of := map[string]Done{}
	for from, d := range done {
		of[from.ID] = of[from.ID].add(d)
	}
	for _, w := range weighed {
		all = append(all, Compared{w, asked[w.ID], of[w.ID]})
	}
	return all, skipped, err
}

// mostSide is how many designs stand side by side at most.
const mostSide = 8

// SideBySide is Compare of some designs, in the order they were asked for.
func (s *Service) SideBySide(ctx context.Context, in Span, ids []string) ([]Compared, error) {
	if len(ids) > mostSide {
		var l fault.List
		l.Add("design", ids[mostSide], "At most 8 designs can be held side by side. Tick fewer.")
		return nil, l.Err()
	}
	all, _, err := s.Compare(ctx, in)
	var chosen []Compared
	for _, id := range ids {
		if i := slices.IndexFunc(all, func(c Compared) bool { return c.ID == id }); i >= 0 {
			chosen = append(chosen, all[i])
		}
	}
	return chosen, err
}

// mostJobs is how many jobs a design's page lists; its sums are over all.
const mostJobs = 200

// DesignFigures is all there is to say about one design.
type DesignFigures struct {
	Design   sales.Design
	Today    *Compared // nil where it cannot be priced as it is written
	Why      string    // then
	Versions []VersionFigures
	Jobs     []Job
	Other    int // jobs that are not listed
}

// VersionFigures is a version of a design with the jobs of it.
type VersionFigures struct {
	DesignVersion
	Done
}

// Design is one design with its versions and jobs of a span.
func (s *Service) Design(ctx context.Context, in Span, id string) (d DesignFigures, err error) {
	if d.Design, err = s.sales.Design(ctx, id); err != nil {
		return d, err
	}
	all, skipped, err := s.Compare(ctx, in)
	if err != nil {
		return d, err
	}
	for _, c := range all {
		if c.ID == id {
			d.Today = &c
		}
	}
	for _, o := range skipped {
		if o.ID == id {
			d.Why = o.Why
		}
	}
	return d, s.store.Look(ctx, func(tx Tx) error {
		done, err := tx.Done(ctx, in)
		if err != nil {
			return err
		}
		versions, err := tx.Versions(ctx, id)
		if err != nil {
			return err
		}
		count := 0
		for _, v := range versions {
			of := done[sales.MadeFrom{ID: id, Version: v.Version}]
			d.Versions, count = append(d.Versions, VersionFigures{v, of}), count+of.Jobs
		}
		d.Jobs, err = tx.Jobs(ctx, in, id, mostJobs)
		d.Other = count - len(d.Jobs)
		return err
	})
}
