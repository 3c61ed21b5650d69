package sales

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
)

// FinishedTx is what was measured of finished pieces, within one transaction.
type FinishedTx interface {
	Finished(ctx context.Context, order string) ([]Finished, error) // newest first: that one counts
	KeepFinished(ctx context.Context, f Finished) error             // beside what was measured before
	AddMaterialLesson(ctx context.Context, l MaterialLesson) error
	MaterialLessons(ctx context.Context) ([]MaterialLesson, error) // newest first
}

// Finished is what a piece measured when it was made; what is 0 was not measured.
type Finished struct {
	Order    string
	Stands   shield.Stands   // mm
	Weight   decimal.Decimal // kg, unpacked
	Note, By string
	At       time.Time
}

// Measure keeps what a finished piece measured.
func (s *Service) Measure(ctx context.Context, f Finished) error {
	var l fault.List
	f.Note, f.At = strings.TrimSpace(f.Note), s.now()
	for _, c := range []struct {
		field, unit string
		value       decimal.Decimal
		most        int64
		places      int32
	}{{"width", "mm", f.Stands.Width, 10_000, 1}, {"depth", "mm", f.Stands.Depth, 10_000, 1}, {"weight", "kg", f.Weight, 500, 3}} {
		if c.value.IsNegative() || c.value.GreaterThan(decimal.NewFromInt(c.most)) || !c.value.Equal(c.value.Round(c.places)) {
			l.Add(c.field, c.value.String(), fmt.Sprintf("Write %s up to %d in steps of %s, or leave it empty.", c.unit, c.most, decimal.New(1, -c.places)))
		}
	}
	if l.Empty() && f.Stands.Width.IsZero() && f.Stands.Depth.IsZero() && f.Weight.IsZero() {
		l.Add("width", "", "Write at least one measure.")
	}
	long(&l, "note", f.Note, 400)
	if err := l.Err(); err != nil {
		return err
	}
	return s.store.Act(ctx, func(tx Tx) error {
		o, err := tx.Order(ctx, f.Order)
		if err != nil {
			return err
		}
		if o.State == Cancelled {
			return ended(o)
		}
		return tx.KeepFinished(ctx, f)
	})
}

// Measured is what the piece of an order measured, the newest first, which counts, and what its quote reckoned it would;
// of both what is not known is 0.
func (s *Service) Measured(ctx context.Context, order string) (measured []Finished, reckoned Finished, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		o, err := tx.Order(ctx, order)
		if err != nil {
			return err
		}
		if measured, err = tx.Finished(ctx, order); err != nil {
			return err
		}
		q, err := tx.Quote(ctx, o.QuoteID)
		if err != nil {
			return err
		}
		snap, piece, err := asReckoned(ctx, tx, o.as(q))
		if err != nil && fault.KindOf(err) == fault.Invalid {
			return nil // it was reckoned by rules that no longer are
		}
		if err != nil || !piece.Made() {
			return err
		}
		reckoned = Finished{Order: order, Stands: piece.Stands(), Weight: takeoff.Count(piece, snap.Catalogue, snap.Usage).Mass.Round(3)}
		return nil
	})
	return measured, reckoned, err
}

// asReckoned is a quote's piece as it was worked out when it was issued, with the figures of that day.
func asReckoned(ctx context.Context, tx Tx, q Quote) (snap pricing.Snapshot, piece shield.Shield, err error) {
	body, err := tx.Snapshot(ctx, q.Snapshot)
	if err != nil {
		return snap, piece, err
	}
	if err := json.Unmarshal(body, &snap); err != nil {
		return snap, piece, fmt.Errorf("snapshot of quote %s: %w", q.Number, err)
	}
	spec, err := q.Form.Spec()
	if err != nil {
		return snap, piece, err
	}
	piece, err = shield.Make(spec, snap.Catalogue, snap.Bench)
	return snap, piece, err
}
