package sales

import (
	"cmp"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/workshop"
)

// Shown is the estimate that an issuer saw: its digest and its price.
type Shown struct{ Digest, Gross string }

// Issue gives a draft its number and freezes it: price, snapshot and document. When a price, a rate or the draft
// itself moved since it was shown, nothing is issued and the fault names both prices. by is who issues. Issuing
// what is already issued gives it back unchanged.
func (s *Service) Issue(ctx context.Context, id string, shown Shown, by string) (Quote, error) {
	return read(ctx, s, func(tx Tx) (Quote, error) {
		q, err := tx.LockQuote(ctx, id)
		if err != nil || q.State != Draft {
			return q, err
		}
		sheet, body, err := s.prepare(ctx, tx, q)
		if err != nil {
			return q, err
		}
		if digest := sheet.Estimate.Digest(); digest == "" || shown.Digest != digest {
			gross := sheet.Estimate.Price.Gross
			return q, fault.New(fault.Conflict, "Something this price depends on has changed since you saw it: you saw %s, it is now %s %s. Look at it again, then issue.",
				fault.Shorten(shown.Gross), gross, gross.Currency())
		}
		if err := s.promises(ctx, tx, &sheet); err != nil {
			return q, err
		}
		if sheet.Options, err = printOptions(ctx, q, sheet); err != nil {
			return q, err
		}
		if sheet.Moved, err = movedSince(ctx, tx, q, sheet); err != nil {
			return q, err
		}
		if q, err = s.replace(ctx, tx, q, sheet); err != nil {
			return q, err
		}
		sheet.Number = q.Number
		doc, err := s.document(ctx, sheet)
		if err != nil {
			return q, err
		}
		price := sheet.Estimate.Price
		q.State, q.IssuedAt, q.IssuedBy, q.ValidUntil, q.Changed = Issued, sheet.Date, by, sheet.ValidUntil, sheet.Date
		q.Net, q.Gross, q.Snapshot, q.Document, q.Edit = price.Net, price.Gross, hash(body), doc.Hash, q.Edit+1
		q.Printed = s.printed(sheet)
		if err := tx.KeepSnapshot(ctx, q.Snapshot, body); err != nil {
			return q, err
		}
		if err := tx.KeepDocument(ctx, doc); err != nil {
			return q, err
		}
		return q, tx.SaveQuote(ctx, q)
	})
}

// prepare estimates a draft with today's figures, thoroughly, and gives the snapshot's bytes.
func (s *Service) prepare(ctx context.Context, tx Tx, q Quote) (Sheet, []byte, error) {
	now := s.now()
	w, err := tx.Workshop(ctx, now)
	if err != nil {
		return Sheet{}, nil, err
	}
	customer, err := tx.Customer(ctx, q.CustomerID)
	if err != nil {
		return Sheet{}, nil, err
	}
	spec, err := q.Form.Spec()
	if err != nil {
		return Sheet{}, nil, err
	}
	snap := priced(w, customer, now)
	e, err := pricing.Make(ctx, spec, snap, pricing.Issue)
	if err != nil {
		return Sheet{}, nil, err
	}
	body, err := json.Marshal(snap)
	if err != nil {
		return Sheet{}, nil, fmt.Errorf("snapshot of quote %s: %w", q.ID, err)
	}
	title := cmp.Or(q.Title, spec.Name)
	stands, err := standsFor(ctx, tx, w, e, now)
	if err != nil {
		return Sheet{}, nil, err
	}
	return Sheet{
		Workshop: w, Customer: customer, Version: q.Version, Title: title, Date: now,
		ValidUntil: now.AddDate(0, 0, stands.Days), Until: stands.Why, Estimate: e, Made: Describe(customer.tongue(), e.Shield), Cautions: Cautions(customer.tongue(), e),
	}, body, nil
}

// priced are the figures of a moment that a customer's prices are made from: tax is charged as it is to them, and
// who pays first pays all of it as the deposit.
func priced(w workshop.Workshop, c Customer, now time.Time) pricing.Snapshot {
	snap := w.Snapshot(now)
	snap.Treatment = c.Treatment
	if c.PayFirst {
		snap.Rates.Deposit, snap.Rates.DepositHeavy = decimal.NewFromInt(1), decimal.NewFromInt(1)
	}
	return snap
}

// figures are those that the sheet's price was made from.
func (s Sheet) figures() pricing.Snapshot { return priced(s.Workshop, s.Customer, s.Date) }

// promises refuses a date that cannot be met even on an empty bench: nobody is sent a promise that cannot be kept. The
// days on an empty bench that are printed are those of this workshop: its people, its places, the air of the season.
func (s *Service) promises(ctx context.Context, tx Tx, sheet *Sheet) error {
	others, _, err := onBench(ctx, tx)
	if err != nil {
		return err
	}
	fit, err := FitOn(sheet.Workshop, others, sheet.Estimate, sheet.Date)
	if err != nil {
		return err
	}
	if fit.Impossible {
		by := sheet.Estimate.Shield.Spec.Delivery.By
		return problem("delivery.by", by.Format(time.DateOnly), "Not sent: this date cannot be met even on an empty bench. "+fit.Late)
	}
	if slots := fit.Empty.Slots; len(slots) > 0 {
		sheet.Estimate.Outlook.Start, sheet.Estimate.Outlook.Ready = slots[0].Start, fit.Empty.Ready
	}
	return nil
}

// replace gives a first version its number, the last lock of the act; of a later version it retires the one
// before.
func (s *Service) replace(ctx context.Context, tx Tx, q Quote, sheet Sheet) (Quote, error) {
	if q.Number.No == 0 {
		year := sheet.Date.Year()
		no, err := tx.NextNumber(ctx, sheet.Workshop.Series, year)
		q.Number = Number{sheet.Workshop.Series, year, no}
		return q, err
	}
	versions, err := tx.Versions(ctx, q.Number)
	if err != nil {
		return q, err
	}
	if err := open(ctx, tx, versions); err != nil {
		return q, err
	}
	if err := tx.SettleMessages(ctx, q.Number, Wish, sheet.Date); err != nil { // the new version is the word on it
		return q, err
	}
	for _, v := range versions {
		if v.State == Issued || v.State == Declined {
			if err := tx.SetQuoteState(ctx, v.ID, Replaced); err != nil {
				return q, err
			}
		}
	}
	return q, nil
}

func (s *Service) document(ctx context.Context, sheet Sheet) (Document, error) {
	data, err := s.render.Quote(ctx, sheet)
	if err != nil {
		return Document{}, fmt.Errorf("document of quote %s: %w", sheet.Number, err)
	}
	name := fmt.Sprintf("quote-%d-%d-v%d.pdf", sheet.Number.Year, sheet.Number.No, sheet.Version)
	return Document{Hash: hash(data), Name: name, Bytes: data}, nil
}

func hash(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
