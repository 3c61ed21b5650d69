package stock

import (
	"context"
	"time"

	"github.com/google/uuid"

	"foamwright/materials/fault"
)

// List is a whole catalogue: items in their places, who sells them and at what price. Offers name items by code
// and suppliers by ID.
type List struct {
	Items     []Item
	Suppliers []Supplier
	Offers    []Offer
}

// CatalogueTx is the catalogue within one transaction. What is not there gives a NotFound fault. What is kept with
// an edit count of 0 is new; with another it changes what has that count, and gives a Conflict fault when somebody
// else saved meanwhile.
type CatalogueTx interface {
	// Items are all, retired ones too, in their places.
	Items(ctx context.Context) ([]Item, error)
	Item(ctx context.Context, code string) (Item, error)
	KeepItem(ctx context.Context, i Item) error
	KeepItems(ctx context.Context, items []Item) error
	// Suppliers by name.
	Suppliers(ctx context.Context) ([]Supplier, error)
	Supplier(ctx context.Context, id string) (Supplier, error)
	KeepSupplier(ctx context.Context, s Supplier) error
	// Offers of an item with their prices, the usual pack first, then by supplier and size; all offers when no item
	// is named.
	Offers(ctx context.Context, item string) ([]Offer, error)
	// InForce are the items, and the packs that are sold with the one price each that is in force on a day. It is
	// shared with other readers: nobody writes into it.
	InForce(ctx context.Context, day time.Time) (List, error)
	// KeepOffer takes the usual mark off the item's other packs when this one carries it.
	KeepOffer(ctx context.Context, o Offer) error
	// NotePrice adds to the history of a pack's price. Nothing is written over: of one day the last word counts.
	NotePrice(ctx context.Context, offer string, p Price) error
}

// CatalogueStore runs an act on the catalogue as one transaction, as sales.Store does.
type CatalogueStore interface {
	ActOnCatalogue(ctx context.Context, act func(CatalogueTx) error) error
}

// Catalogue is what the faces call to read and change what the workshop buys.
type Catalogue struct {
	store CatalogueStore
	now   func() time.Time
}

// NewCatalogue joins a store and a clock.
func NewCatalogue(store CatalogueStore, now func() time.Time) *Catalogue {
	return &Catalogue{store, now}
}

// Line is an item with the packs it is sold in.
type Line struct {
	Item   Item
	Offers []Offer
}

// List is everything.
func (c *Catalogue) List(ctx context.Context) (List, error) {
	return given(ctx, c.store.ActOnCatalogue, func(tx CatalogueTx) (List, error) { return all(ctx, tx) })
}

// given is what an act on a store gives; it may run more than once.
func given[Tx, T any](ctx context.Context, run func(context.Context, func(Tx) error) error, act func(Tx) (T, error)) (T, error) {
	var got T
	err := run(ctx, func(tx Tx) (err error) {
		got, err = act(tx)
		return err
	})
	return got, err
}

func all(ctx context.Context, tx CatalogueTx) (list List, err error) {
	if list.Items, err = tx.Items(ctx); err != nil {
		return list, err
	}
	if list.Suppliers, err = tx.Suppliers(ctx); err != nil {
		return list, err
	}
	list.Offers, err = tx.Offers(ctx, "")
	return list, err
}

// InForce are the items with what their packs cost on a day, read quickly; nobody writes into it.
func (c *Catalogue) InForce(ctx context.Context, day time.Time) (List, error) {
	return given(ctx, c.store.ActOnCatalogue, func(tx CatalogueTx) (List, error) { return tx.InForce(ctx, day) })
}

// Line is one item with its packs.
func (c *Catalogue) Line(ctx context.Context, code string) (Line, error) {
	return given(ctx, c.store.ActOnCatalogue, func(tx CatalogueTx) (line Line, err error) {
		if line.Item, err = tx.Item(ctx, code); err != nil {
			return line, err
		}
		line.Offers, err = tx.Offers(ctx, code)
		return line, err
	})
}

// KeepItem adds an item, or changes the one that has its code and edit count.
func (c *Catalogue) KeepItem(ctx context.Context, i Item) (Item, error) {
	i = i.tidy()
	if err := i.Check(); err != nil {
		return i, err
	}
	return given(ctx, c.store.ActOnCatalogue, func(tx CatalogueTx) (Item, error) {
		if err := tx.KeepItem(ctx, i); err != nil {
			return i, err
		}
		return tx.Item(ctx, i.Code)
	})
}

// Suppliers lists them by name.
func (c *Catalogue) Suppliers(ctx context.Context) ([]Supplier, error) {
	return given(ctx, c.store.ActOnCatalogue, func(tx CatalogueTx) ([]Supplier, error) { return tx.Suppliers(ctx) })
}

// Supplier is one of them with all packs they sell.
func (c *Catalogue) Supplier(ctx context.Context, id string) (Supplier, []Offer, error) {
	var s Supplier
	var sold []Offer
	err := c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) (err error) {
		if s, err = tx.Supplier(ctx, id); err != nil {
			return err
		}
		offers, err := tx.Offers(ctx, "")
		sold = nil
		for _, o := range offers {
			if o.Supplier == s.ID {
				sold = append(sold, o)
			}
		}
		return err
	})
	return s, sold, err
}

// KeepSupplier adds a supplier, or changes the one with its ID.
func (c *Catalogue) KeepSupplier(ctx context.Context, s Supplier) (Supplier, error) {
	s = s.tidy()
	if err := s.Check(); err != nil {
		return s, err
	}
	if s.ID == "" {
		s.ID = newID()
	}
	err := c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) error { return tx.KeepSupplier(ctx, s) })
	s.Edit++
	return s, err
}

// KeepOffer adds a pack, or changes the one with its ID. Prices are noted on their own.
func (c *Catalogue) KeepOffer(ctx context.Context, o Offer) (Offer, error) {
	o = o.tidy()
	if err := o.Check(); err != nil {
		return o, err
	}
	if o.ID == "" {
		o.ID = newID()
	}
	err := c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) error { return keepOffer(ctx, tx, o) })
	o.Edit++
	return o, err
}

// keepOffer keeps a pack that holds what its item is counted in.
func keepOffer(ctx context.Context, tx CatalogueTx, o Offer) error {
	item, err := tx.Item(ctx, o.Item)
	if err != nil {
		return err
	}
	var l fault.List
	amount(&l, "pack", o.Pack, Balance{Unit: item.Unit})
	if err := l.Err(); err != nil {
		return err
	}
	return tx.KeepOffer(ctx, o)
}

// KeepPack adds or changes a pack and notes its price at once.
func (c *Catalogue) KeepPack(ctx context.Context, o Offer, p Price, by string) (Offer, error) {
	o = o.tidy()
	p.Noted, p.By = c.now(), by
	var l checks
	for _, err := range []error{o.Check(), p.Check()} {
		if err := l.Take("", err); err != nil {
			return o, err
		}
	}
	if err := l.Err(); err != nil {
		return o, err
	}
	if o.ID == "" {
		o.ID = newID()
	}
	err := c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) error {
		if err := keepOffer(ctx, tx, o); err != nil {
			return err
		}
		return tx.NotePrice(ctx, o.ID, p)
	})
	o.Edit++
	return o, err
}

// NotePrice adds what a pack costs from a day on; by is who says so.
func (c *Catalogue) NotePrice(ctx context.Context, offer string, p Price, by string) error {
	p.Noted, p.By = c.now(), by
	if err := p.Check(); err != nil {
		return err
	}
	return c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) error { return tx.NotePrice(ctx, offer, p) })
}

// Fill writes a list into a catalogue that has nothing yet; where there is something already it does nothing.
func Fill(ctx context.Context, tx CatalogueTx, list List) error {
	there, err := tx.Items(ctx)
	if err != nil || len(there) > 0 {
		return err
	}
	if err := tx.KeepItems(ctx, list.Items); err != nil {
		return err
	}
	for _, s := range list.Suppliers {
		if err := tx.KeepSupplier(ctx, s); err != nil {
			return err
		}
	}
	for _, o := range list.Offers {
		if err := tx.KeepOffer(ctx, o); err != nil {
			return err
		}
		for _, p := range o.Prices {
			if err := tx.NotePrice(ctx, o.ID, p); err != nil {
				return err
			}
		}
	}
	return nil
}

// newID is a new key: time-ordered, so that rows lie in the order they came.
func newID() string { return uuid.Must(uuid.NewV7()).String() }

// refuse is one thing to put right.
func refuse(field, value, remedy string) error {
	var l fault.List
	l.Add(field, value, remedy)
	return l.Err()
}
