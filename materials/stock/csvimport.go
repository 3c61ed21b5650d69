package stock

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"time"
)

// Outcome is what bringing in a file changes, said in words.
type Outcome struct {
	Added, Changed []string
	Same           int // rows that say what is there already
}

// ItemsCSV is the items as a file.
func (c *Catalogue) ItemsCSV(ctx context.Context) ([]byte, error) {
	list, err := c.List(ctx)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = WriteItems(&b, list.Items)
	return b.Bytes(), err
}

// PricesCSV is suppliers, packs and prices as a file.
func (c *Catalogue) PricesCSV(ctx context.Context) ([]byte, error) {
	list, err := c.List(ctx)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = WritePrices(&b, list)
	return b.Bytes(), err
}

// ImportItems brings in a file of items: all of it or nothing. Items that it does not name stay. With check nothing
// is written, only said.
func (c *Catalogue) ImportItems(ctx context.Context, data []byte, check bool) (Outcome, error) {
	var out Outcome
	err := c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) error {
		out = Outcome{}
		there, err := tx.Items(ctx)
		if err != nil {
			return err
		}
		items, err := ReadItems(data, there)
		if err != nil {
			return err
		}
		var moved []Item
		columns, have := itemColumns(), map[string]Item{}
		for _, i := range there {
			have[i.Code] = i
		}
		for _, i := range items {
			i = i.tidy()
			switch {
			case i.Edit == 0:
				out.Added = append(out.Added, i.Code)
			case !slices.Equal(record(columns, have[i.Code]), record(columns, i)):
				out.Changed = append(out.Changed, i.Code)
			default:
				out.Same++
				continue
			}
			moved = append(moved, i)
		}
		if check {
			return nil
		}
		return tx.KeepItems(ctx, moved)
	})
	return out, err
}

// ImportPrices brings in a file of suppliers, packs and prices: all of it or nothing. What it does not name stays.
// With check nothing is written, only said. by is who says so.
func (c *Catalogue) ImportPrices(ctx context.Context, data []byte, by string, check bool) (Outcome, error) {
	var out Outcome
	err := c.store.ActOnCatalogue(ctx, func(tx CatalogueTx) error {
		out = Outcome{}
		there, err := all(ctx, tx)
		if err != nil {
			return err
		}
		suppliers, offers, err := ReadPrices(data, there)
		if err != nil {
			return err
		}
		in := arrival{tx: tx, check: check, noted: c.now(), by: by, out: &out, names: map[string]string{}}
		if err := in.suppliers(ctx, suppliers, there.Suppliers); err != nil {
			return err
		}
		return in.offers(ctx, offers, there.Offers)
	})
	return out, err
}

// arrival writes a file of prices, or only says what it would.
type arrival struct {
	tx    CatalogueTx
	check bool
	noted time.Time
	by    string
	out   *Outcome
	names map[string]string // of suppliers
}

// say notes whether something is new, changed or the same; it is true where there is something to write.
func (a *arrival) say(what string, isNew, same bool) bool {
	switch {
	case isNew:
		a.out.Added = append(a.out.Added, what)
	case same:
		a.out.Same++
	default:
		a.out.Changed = append(a.out.Changed, what)
	}
	return !same && !a.check
}

func (a *arrival) suppliers(ctx context.Context, suppliers, there []Supplier) error {
	for _, s := range suppliers {
		s = s.tidy()
		a.names[s.ID] = s.Name
		if a.say(s.Name, s.Edit == 0, slices.Contains(there, s)) {
			if err := a.tx.KeepSupplier(ctx, s); err != nil {
				return fmt.Errorf("supplier %s: %w", s.Name, err)
			}
		}
	}
	return nil
}

// offers writes the usual packs last: by then the packs that were usual before are no longer marked.
func (a *arrival) offers(ctx context.Context, offers, there []Offer) error {
	have := map[string]Offer{}
	for _, o := range there {
		have[o.ID] = o
	}
	for _, usual := range []bool{false, true} {
		for _, o := range offers {
			if o.Usual == usual {
				if err := a.offer(ctx, o.tidy(), have[o.ID]); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

func (a *arrival) offer(ctx context.Context, o, was Offer) error {
	what := fmt.Sprintf("%s, pack of %s, %s", o.Item, o.Pack, a.names[o.Supplier])
	if a.say(what, o.Edit == 0, o.Article == was.Article && o.Usual == was.Usual && o.Retired == was.Retired && o.Edit > 0) {
		if err := a.tx.KeepOffer(ctx, o); err != nil {
			return fmt.Errorf("%s: %w", what, err)
		}
	}
	for _, p := range slices.Backward(o.Prices) {
		same, changed := false, false
		if i := slices.IndexFunc(was.Prices, func(w Price) bool { return w.From.Equal(p.From) }); i >= 0 { // the last word of the day
			same = was.Prices[i].Amount.Equal(p.Amount)
			changed = !same
		}
		if a.say(fmt.Sprintf("%s: %s from %s", what, p.Amount, p.From.Format(time.DateOnly)), !same && !changed, same) {
			p.Noted, p.By = a.noted, a.by
			if err := a.tx.NotePrice(ctx, o.ID, p); err != nil {
				return fmt.Errorf("%s: %w", what, err)
			}
		}
	}
	return nil
}
