package api

import (
	"context"
	"slices"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"
)

// Supplier is who sells packs.
type Supplier struct {
	ID string `json:"id" format:"uuid"`
	SupplierEntry
	Edit int `json:"edit" doc:"counts changes"`
}

type SupplierEntry struct {
	Name     string `json:"name" maxLength:"120"`
	Email    string `json:"email,omitempty" maxLength:"200"`
	Note     string `json:"note,omitempty" maxLength:"4000"`
	LeadDays *int   `json:"lead_days" doc:"calendar days from ordering to the shelf"`
}

type supplierChange struct {
	SupplierEntry
	Edit *int `json:"edit,omitempty" doc:"as it was read"`
}

type supplierList struct {
	Suppliers []Supplier `json:"suppliers"`
}

// Offer is a pack that a supplier sells.
type Offer struct {
	ID       string       `json:"id" format:"uuid"`
	Item     string       `json:"item"`
	Supplier string       `json:"supplier" format:"uuid"`
	Pack     string       `json:"pack" doc:"stock units in it"`
	Article  string       `json:"article,omitempty" doc:"the supplier's own number"`
	Usual    bool         `json:"usual" doc:"estimates charge by it"`
	Retired  bool         `json:"retired" doc:"no longer sold"`
	Edit     int          `json:"edit"`
	Prices   []OfferPrice `json:"prices" doc:"newest day first; of one day the last word first"`
}

// OfferPrice is what a pack costs net from a day on.
type OfferPrice struct {
	From   string    `json:"from" format:"date"`
	Amount string    `json:"amount"`
	Noted  time.Time `json:"noted"`
	By     string    `json:"by,omitempty"`
}

type offerEntry struct {
	Supplier string `json:"supplier" format:"uuid"`
	Pack     string `json:"pack"`
	Article  string `json:"article,omitempty" maxLength:"80"`
	Usual    bool   `json:"usual,omitempty"`
	Retired  bool   `json:"retired,omitempty"`
	Edit     *int   `json:"edit,omitempty" doc:"as it was read"`
}

type priceEntry struct {
	From   string `json:"from" format:"date"`
	Amount string `json:"amount"`
}

type offerList struct {
	Offers []Offer `json:"offers"`
}

type byOffer struct {
	Code string `path:"code"`
	ID   string `path:"id" format:"uuid"`
}

func supplierOf(s stock.Supplier) Supplier {
	return Supplier{s.ID, SupplierEntry{s.Name, s.Email, s.Note, &s.LeadDays}, s.Edit}
}

func offerOf(o stock.Offer) Offer {
	return Offer{o.ID, o.Item, o.Supplier, o.Pack.String(), o.Article, o.Usual, o.Retired, o.Edit, each(o.Prices, func(p stock.Price) OfferPrice {
		return OfferPrice{dateOf(p.From), p.Amount.String(), p.Noted.UTC(), p.By}
	})}
}

func (f *face) suppliers() {
	operation(f, op("GET /suppliers", "list-suppliers", "Suppliers by name").also(people.Bookkeeper),
		func(ctx context.Context, _ *none) (*answer[supplierList], error) {
			list, err := f.List.Suppliers(ctx)
			return &answer[supplierList]{supplierList{each(list, supplierOf)}}, err
		})
	taking(f, op("POST /suppliers", "add-supplier", "Add a supplier", conflict).created(),
		func(ctx context.Context, _ *none, e SupplierEntry) (*made[Supplier], error) {
			s, err := f.keepSupplier(ctx, stock.Supplier{}, e)
			return &made[Supplier]{Path + "/suppliers/" + s.ID, s}, err
		})
	operation(f, op("GET /suppliers/{id}", "supplier", "One supplier").also(people.Bookkeeper),
		func(ctx context.Context, in *byID) (*answer[Supplier], error) {
			s, _, err := f.List.Supplier(ctx, in.ID)
			return &answer[Supplier]{supplierOf(s)}, err
		})
	taking(f, op("PUT /suppliers/{id}", "change-supplier", "Change a supplier as a whole", conflict),
		func(ctx context.Context, in *byID, e supplierChange) (*answer[Supplier], error) {
			if err := needed("edit", e.Edit); err != nil {
				return nil, err
			}
			s, err := f.keepSupplier(ctx, stock.Supplier{ID: in.ID, Edit: *e.Edit}, e.SupplierEntry)
			return &answer[Supplier]{s}, err
		})
	f.offers()
}

func (f *face) keepSupplier(ctx context.Context, s stock.Supplier, e SupplierEntry) (Supplier, error) {
	if err := needed("lead_days", e.LeadDays); err != nil {
		return Supplier{}, err
	}
	s.Name, s.Email, s.Note, s.LeadDays = e.Name, e.Email, e.Note, *e.LeadDays
	kept, err := f.List.KeepSupplier(ctx, s)
	return supplierOf(kept), err
}

func (f *face) offers() {
	operation(f, op("GET /items/{code}/offers", "list-offers", "Packs an item is sold in, with their prices", notFound).also(people.Bookkeeper),
		func(ctx context.Context, in *byCode) (*answer[offerList], error) {
			line, err := f.List.Line(ctx, in.Code)
			return &answer[offerList]{offerList{each(line.Offers, offerOf)}}, err
		})
	taking(f, op("POST /items/{code}/offers", "add-offer", "Add a pack", notFound, conflict).created(),
		func(ctx context.Context, in *byCode, e offerEntry) (*made[Offer], error) {
			o, err := f.keepOffer(ctx, stock.Offer{Item: in.Code}, e)
			return &made[Offer]{Path + "/items/" + in.Code + "/offers", o}, err
		})
	taking(f, op("PUT /items/{code}/offers/{id}", "change-offer", "Change a pack as a whole", conflict),
		func(ctx context.Context, in *byOffer, e offerEntry) (*answer[Offer], error) {
			if err := needed("edit", e.Edit); err != nil {
				return nil, err
			}
			o, err := f.keepOffer(ctx, stock.Offer{ID: in.ID, Item: in.Code, Edit: *e.Edit}, e)
			return &answer[Offer]{o}, err
		})
	taking(f, op("POST /items/{code}/offers/{id}/prices", "note-price", "Note what a pack costs from a day on").
		saying("Nothing is written over: of one day the last word counts."),
		func(ctx context.Context, in *byOffer, e priceEntry) (*answer[Offer], error) {
			var l fault.List
			p := stock.Price{Amount: amountOf(&l, "amount", e.Amount), From: day(&l, "from", e.From)}
			if err := l.Err(); err != nil {
				return nil, err
			}
			if err := f.List.NotePrice(ctx, in.ID, p, callOf(ctx).by); err != nil {
				return nil, err
			}
			return f.offer(ctx, in.Code, in.ID)
		})
}

func (f *face) keepOffer(ctx context.Context, o stock.Offer, e offerEntry) (Offer, error) {
	var l fault.List
	o.Supplier, o.Pack, o.Article, o.Usual, o.Retired = e.Supplier, amountOf(&l, "pack", e.Pack), e.Article, e.Usual, e.Retired
	if err := l.Err(); err != nil {
		return Offer{}, err
	}
	kept, err := f.List.KeepOffer(ctx, o)
	if err != nil {
		return Offer{}, err
	}
	a, err := f.offer(ctx, kept.Item, kept.ID)
	if err != nil {
		return Offer{}, err
	}
	return a.Body, nil
}

// offer is one pack of an item as it stands.
func (f *face) offer(ctx context.Context, code, id string) (*answer[Offer], error) {
	line, err := f.List.Line(ctx, code)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(line.Offers, func(o stock.Offer) bool { return o.ID == id })
	if i < 0 {
		return nil, fault.New(fault.NotFound, "There is no such pack of this item.")
	}
	return &answer[Offer]{offerOf(line.Offers[i])}, nil
}
