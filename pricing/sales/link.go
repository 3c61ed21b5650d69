package sales

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"time"

	"foamwright/materials/fault"
)

// Link opens the customer's own page of a quote's number, whichever of its versions stands, without an account.
type Link struct {
	ID    string
	Quote Number
	Made  time.Time
	By    string
	Seen  time.Time // somebody from outside the workshop opened it last; zero until then
	Ended time.Time // zero while it opens the page
}

// Digest is the SHA-256 of a link's secret, the only form it is kept in. The secret has 128 random bits, so there is
// nothing to guess and a fast hash is enough.
type Digest [sha256.Size]byte

// LinkTx is the customers' links within one transaction.
type LinkTx interface {
	AddLink(ctx context.Context, l Link, d Digest) error
	LinkBy(ctx context.Context, d Digest) (Link, error)  // NotFound for an ended one too
	Links(ctx context.Context, n Number) ([]Link, error) // newest first
	SeeLink(ctx context.Context, id string, at time.Time) error
	EndLink(ctx context.Context, n Number, id string, at time.Time) error // NotFound where the number has none such
	// Standing is the latest version of a number that was issued.
	Standing(ctx context.Context, n Number) (Quote, error)
}

// Link makes a link to a quote's page for its customer and gives its secret, which is kept nowhere.
func (s *Service) Link(ctx context.Context, quoteID, by string) (string, error) {
	return read(ctx, s, func(tx Tx) (string, error) {
		q, err := tx.Quote(ctx, quoteID)
		if err != nil {
			return "", err
		}
		return s.link(ctx, tx, q, by)
	})
}

// link is Link within an act. Letters and digits only: a dash at the end of an address is lost by many mail programs.
func (s *Service) link(ctx context.Context, tx Tx, q Quote, by string) (string, error) {
	if q.State == Draft {
		return "", fault.New(fault.State, "This quote has not been issued yet, so there is nothing to show. Issue it first.")
	}
	secret := rand.Text()
	return secret, tx.AddLink(ctx, Link{ID: newID(), Quote: q.Number, Made: s.now(), By: by}, digestOf(secret))
}

// Links are the links to a quote's page, the newest first, with when they were used last.
func (s *Service) Links(ctx context.Context, quoteID string) ([]Link, error) {
	return read(ctx, s, func(tx Tx) ([]Link, error) {
		q, err := tx.Quote(ctx, quoteID)
		if err != nil || q.Number.No == 0 {
			return nil, err
		}
		return tx.Links(ctx, q.Number)
	})
}

// EndLink ends a link of a quote: from now on it opens nothing. Ended twice it is ended once.
func (s *Service) EndLink(ctx context.Context, quoteID, id string) error {
	return s.store.Act(ctx, func(tx Tx) error {
		q, err := tx.Quote(ctx, quoteID)
		if err != nil {
			return err
		}
		return tx.EndLink(ctx, q.Number, id, s.now())
	})
}

// digestOf is the form a secret is kept in.
func digestOf(secret string) Digest { return sha256.Sum256([]byte(secret)) }
