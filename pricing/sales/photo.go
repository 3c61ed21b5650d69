package sales

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// PhotoOf is what a photo belongs to.
type PhotoOf string

// What photos belong to.
const (
	PhotoOfOrder   PhotoOf = "order"
	PhotoOfRepair  PhotoOf = "repair"
	PhotoOfEnquiry PhotoOf = "enquiry"
)

// Consent is whether the customer lets a photo be shown to others.
type Consent string

// The consents.
const (
	NotAsked Consent = "not asked"
	MayShow  Consent = "yes"
	NotShown Consent = "no"
)

// Consents are all there are.
func Consents() []Consent { return []Consent{NotAsked, MayShow, NotShown} }

// Photo is a picture as it is kept: made anew from what was sent, as JPEG of at most 1600 px without what the camera wrote
// into it.
type Photo struct {
	ID            string
	Of            PhotoOf
	OfID          string
	Width, Height int // px
	Words         string
	Taken         time.Time // a day
	By            string
	At            time.Time // it was sent
	Consent       Consent
	Shared        bool      // on the customer's own page
	SecretUntil   time.Time // a gift: nobody outside the workshop sees it before that day
	Deleted       time.Time
	DeletedBy     string
}

// Secret tells that nobody outside the workshop may see it yet.
func (p Photo) Secret(today time.Time) bool { return p.SecretUntil.After(stock.Day(today)) }

// Outside tells that its customer sees it on their own page today.
func (p Photo) Outside(today time.Time) bool {
	return p.Shared && p.Deleted.IsZero() && !p.Secret(today)
}

// PhotoTx is photos within one transaction; their bytes are read on their own.
type PhotoTx interface {
	Photos(ctx context.Context, of PhotoOf, id string) ([]Photo, error) // newest first, deleted ones too
	Photo(ctx context.Context, id string) (Photo, error)
	PhotoBytes(ctx context.Context, id string, small bool) ([]byte, error) // NotFound once it is deleted
	AddPhoto(ctx context.Context, p Photo, jpeg, small []byte) error
	SavePhoto(ctx context.Context, p Photo) error // its words, consent and secrecy
	DeletePhoto(ctx context.Context, id, by string, at time.Time) error
}

// mostPhotos is how many photos one thing may have; an owner who wants more deletes some.
const mostPhotos = 60

// AddPhoto keeps a picture that was sent, a JPEG or PNG of at most MaxPhoto bytes.
func (s *Service) AddPhoto(ctx context.Context, p Photo, sent []byte, by string) (Photo, error) {
	p.ID, p.By, p.At = newID(), by, s.now()
	if p.Taken.IsZero() {
		p.Taken = stock.Day(p.At)
	}
	p.Consent = cmp.Or(p.Consent, NotAsked)
	if err := p.check(s.now()); err != nil {
		return p, err
	}
	picture, err := shrink(ctx, sent)
	if err != nil {
		return p, err
	}
	p.Width, p.Height = picture.width, picture.height
	return p, s.store.Act(ctx, func(tx Tx) error {
		if err := hasPhotos(ctx, tx, p.Of, p.OfID); err != nil {
			return err
		}
		all, err := tx.Photos(ctx, p.Of, p.OfID)
		if err != nil {
			return err
		}
		if n := len(slices.DeleteFunc(all, func(o Photo) bool { return !o.Deleted.IsZero() })); n >= mostPhotos {
			return fault.New(fault.State, "There are %d photos of it already. Delete some first.", n)
		}
		return tx.AddPhoto(ctx, p, picture.jpeg, picture.small)
	})
}

// hasPhotos refuses photos of what is not there.
func hasPhotos(ctx context.Context, tx Tx, of PhotoOf, id string) (err error) {
	switch of {
	case PhotoOfOrder:
		_, err = tx.Order(ctx, id)
	case PhotoOfRepair:
		_, err = tx.Repair(ctx, id)
	case PhotoOfEnquiry:
		_, err = tx.Enquiry(ctx, id)
	default:
		err = fault.New(fault.NotFound, "There are photos of orders, repairs and enquiries.")
	}
	return err
}

func (p *Photo) check(now time.Time) error {
	var l fault.List
	p.Words = strings.TrimSpace(p.Words)
	oneLine(&l, "words", p.Words)
	long(&l, "words", p.Words, 200)
	if p.Taken.After(stock.Day(now)) {
		l.Add("taken", iso(p.Taken), "That day has not come yet. Write the day it was taken.")
	}
	if !slices.Contains(Consents(), p.Consent) {
		l.Add("consent", string(p.Consent), "Choose yes, no or not asked.")
	}
	if p.SecretUntil.After(now.AddDate(5, 0, 0)) {
		l.Add("secret_until", iso(p.SecretUntil), "That is more than five years ahead. Write an earlier day.")
	}
	return l.Err()
}

// Photos are those of something, newest first; those that were deleted stand there with who did it.
func (s *Service) Photos(ctx context.Context, of PhotoOf, id string) ([]Photo, error) {
	return read(ctx, s, func(tx Tx) ([]Photo, error) { return tx.Photos(ctx, of, id) })
}

// Photo is one photo.
func (s *Service) Photo(ctx context.Context, id string) (Photo, error) {
	return read(ctx, s, func(tx Tx) (Photo, error) { return tx.Photo(ctx, id) })
}

// PhotoBytes are a photo's bytes, JPEG; small ones for lists.
func (s *Service) PhotoBytes(ctx context.Context, id string, small bool) ([]byte, error) {
	return read(ctx, s, func(tx Tx) ([]byte, error) { return tx.PhotoBytes(ctx, id, small) })
}

// SavePhoto changes what is said of a photo: its words, the day, the consent and who may see it.
func (s *Service) SavePhoto(ctx context.Context, p Photo) (Photo, error) {
	if err := p.check(s.now()); err != nil {
		return p, err
	}
	return read(ctx, s, func(tx Tx) (Photo, error) {
		was, err := tx.Photo(ctx, p.ID)
		if err != nil {
			return p, err
		}
		if !was.Deleted.IsZero() {
			return p, fault.New(fault.State, "This photo was deleted.")
		}
		was.Words, was.Taken, was.Consent, was.Shared, was.SecretUntil = p.Words, p.Taken, p.Consent, p.Shared, p.SecretUntil
		return was, tx.SavePhoto(ctx, was)
	})
}

// DeletePhoto deletes a photo for good; who did it and when is noted.
func (s *Service) DeletePhoto(ctx context.Context, id, by string) (Photo, error) {
	return read(ctx, s, func(tx Tx) (Photo, error) {
		if err := tx.DeletePhoto(ctx, id, by, s.now()); err != nil {
			return Photo{}, err
		}
		return tx.Photo(ctx, id)
	})
}
