package figures

import (
	"context"

	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// MostJobs is how many jobs a page lists, and MostQuotes how many quotes; sums are over all.
const (
	MostJobs   = 100
	MostQuotes = 50
)

// DesignFigures is a design with its versions, quotes and jobs of a span.
type DesignFigures struct {
	Span
	Design   sales.Design
	Today    *Compared // nil where it cannot be priced as it is written
	Why      string    // then
	Versions []VersionFigures
	Quoted   Quoted
	Quotes   []QuoteMade // the newest
	Done     Done
	Jobs     []Job // of one page
}

// Pages are how many the jobs fill.
func (d DesignFigures) Pages() int { return max(1, (d.Done.Jobs+MostJobs-1)/MostJobs) }

// VersionFigures is a version of a design with what differs from the one before, and its quotes and jobs.
type VersionFigures struct {
	DesignVersion
	Changes []sales.MovedEntry
	Quoted  Quoted
	Done    Done
}

// Design is one design with its versions, quotes and jobs of a span. Pages are counted from 1.
func (s *Service) Design(ctx context.Context, in Span, id string, page int) (d DesignFigures, err error) {
	if d.Design, err = s.sales.Design(ctx, id); err != nil {
		return d, err
	}
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return d, err
	}
	snap, err := s.sales.Figures(ctx, "")
	if err != nil {
		return d, err
	}
	d.Span = in
	d.Currency, d.Span.Design = snap.Rates.Currency, id
	weighed, skipped, err := s.weighAll(ctx, []sales.Design{d.Design}, snap)
	if err != nil {
		return d, err
	}
	for _, o := range skipped {
		d.Why = o.Why
	}
	err = s.store.Look(ctx, func(tx Tx) error {
		done, err := tx.Done(ctx, d.Span)
		if err != nil {
			return err
		}
		quoted, err := tx.Quoted(ctx, d.Span)
		if err != nil {
			return err
		}
		versions, err := tx.DesignVersions(ctx, id)
		if err != nil {
			return err
		}
		for i, v := range versions {
			from := sales.MadeFrom{ID: id, Version: v.Version}
			f := VersionFigures{DesignVersion: v, Quoted: quoted[from], Done: done[from]}
			if i+1 < len(versions) {
				f.Changes = sales.Differences(words.Tongue{}, w.Figures.Catalogue, versions[i+1].Form, v.Form)
			}
			d.Versions, d.Done, d.Quoted = append(d.Versions, f), d.Done.Of(f.Done), d.Quoted.Of(f.Quoted)
		}
		if d.Quotes, err = tx.QuotesMade(ctx, d.Span, MostQuotes); err != nil {
			return err
		}
		d.Jobs, err = tx.Jobs(ctx, d.Span, max(0, page-1)*MostJobs, MostJobs)
		return err
	})
	for _, w := range weighed {
		d.Today = &Compared{w, d.Quoted, d.Done}
	}
	return d, err
}

// QuotesMade are all quotes of a span that were made from a design, the newest first.
func (s *Service) QuotesMade(ctx context.Context, in Span, id string) ([]QuoteMade, error) {
	return listOf(ctx, s, in, id, func(tx Tx, in Span) ([]QuoteMade, error) { return tx.QuotesMade(ctx, in, 0) })
}

// JobsOf are all jobs of a design that were done in a span, the newest first.
func (s *Service) JobsOf(ctx context.Context, in Span, id string) ([]Job, error) {
	return listOf(ctx, s, in, id, func(tx Tx, in Span) ([]Job, error) { return tx.Jobs(ctx, in, 0, 0) })
}

// listOf reads what there is of a design, which has to be there.
func listOf[T any](ctx context.Context, s *Service, in Span, id string, read func(Tx, Span) ([]T, error)) (all []T, err error) {
	w, err := s.sales.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	if _, err := s.sales.Design(ctx, id); err != nil {
		return nil, err
	}
	in.Currency, in.Design = w.Figures.Rates.Currency, id
	err = s.store.Look(ctx, func(tx Tx) error {
		all, err = read(tx, in)
		return err
	})
	return all, err
}
