package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// Group is who wears the pieces of a quote and its order; the invoice goes to the quote's customer.
type Group struct {
	Pays    string   `json:"pays,omitempty" maxLength:"200" doc:"who pays, in a few words"`
	Wearers []Wearer `json:"wearers"`
	Warning string   `json:"warning,omitempty" doc:"where wearers and pieces do not agree"`
}

// Wearer is one player.
type Wearer struct {
	No     int    `json:"no,omitempty" doc:"kept for good; of a new one 0"`
	Name   string `json:"name" maxLength:"120"`
	Hand   string `json:"hand,omitempty" enum:"right,left,either"`
	Colour string `json:"colour,omitempty" maxLength:"60"`
	Size   string `json:"size,omitempty" maxLength:"120"`
	GotIt  int    `json:"got_it,omitempty" doc:"number of the delivery they got theirs with"`
}

// Parcel is what a delivery left the workshop in.
type Parcel struct {
	Delivery int    `json:"delivery"`
	Carrier  string `json:"carrier" maxLength:"80"`
	Tracking string `json:"tracking,omitempty" maxLength:"80"`
	Insured  string `json:"insured,omitempty" doc:"value, in the order's currency; left out for none"`
	Sent     string `json:"sent,omitempty" format:"date" doc:"the day of the delivery where it is left out"`
	State    string `json:"state" enum:"sent,arrived,damaged,returned"`
	Since    string `json:"since,omitempty" format:"date"`
	Note     string `json:"note,omitempty" maxLength:"400" doc:"of one that is damaged or returned, why"`
}

type parcelList struct {
	Parcels []Parcel `json:"parcels"`
}

// Photo is what is known of a photo. Its picture is sent and read by the pages.
type Photo struct {
	ID          string     `json:"id" format:"uuid"`
	Words       string     `json:"words,omitempty"`
	Width       int        `json:"width"`
	Height      int        `json:"height"`
	Taken       string     `json:"taken" format:"date"`
	By          string     `json:"by"`
	Consent     string     `json:"consent" enum:"yes,no,not asked"`
	Shared      bool       `json:"shared" doc:"on the customer's page"`
	SecretUntil string     `json:"secret_until,omitempty" format:"date"`
	Deleted     *time.Time `json:"deleted,omitempty"`
	DeletedBy   string     `json:"deleted_by,omitempty"`
}

type photoList struct {
	Photos []Photo `json:"photos"`
}

func (f *face) wearersOf(ctx context.Context, id string) (*answer[Group], error) {
	q, err := f.Sales.Quote(ctx, id)
	if err != nil {
		return nil, err
	}
	g, err := f.Sales.Group(ctx, q.ID)
	return &answer[Group]{Group{g.Pays, each(g.Wearers, func(w sales.Wearer) Wearer { return Wearer{w.No, w.Name, w.Hand, w.Colour, w.Size, w.Nth} }), g.Warns(q.Pieces())}}, err
}

func (f *face) parcels(ctx context.Context, order string) (*answer[parcelList], error) {
	o, err := f.Sales.Order(ctx, order)
	if err != nil {
		return nil, err
	}
	all, err := f.Sales.Parcels(ctx, o.Order.ID)
	return &answer[parcelList]{parcelList{each(all, func(p sales.Parcel) Parcel {
		return Parcel{p.Nth, p.Carrier, p.Tracking, insuredText(p), dateOf(p.Sent), string(p.State), dateOf(p.Since), p.Note}
	})}}, err
}

func insuredText(p sales.Parcel) string {
	if p.Insured.Currency() == "" {
		return ""
	}
	return p.Insured.String()
}

func photoRow(p sales.Photo) Photo {
	return Photo{ID: p.ID, Words: p.Words, Width: p.Width, Height: p.Height, Taken: dateOf(p.Taken), By: p.By, Consent: string(p.Consent), Shared: p.Shared, SecretUntil: dateOf(p.SecretUntil), Deleted: moment(p.Deleted), DeletedBy: p.DeletedBy}
}

func (f *face) around() {
	operation(f, op("GET /quotes/{id}/wearers", "read-wearers", "Who wears the pieces of a quote and its order"),
		func(ctx context.Context, in *byID) (*answer[Group], error) { return f.wearersOf(ctx, in.ID) })
	taking(f, op("PUT /quotes/{id}/wearers", "set-wearers", "Write down who wears the pieces", conflict).
		saying("The whole list. Whoever has theirs stays on it."),
		func(ctx context.Context, in *byID, g Group) (*answer[Group], error) {
			if _, err := f.Sales.SetGroup(ctx, in.ID, sales.Group{Pays: g.Pays, Wearers: each(g.Wearers, func(w Wearer) sales.Wearer {
				return sales.Wearer{No: w.No, Name: w.Name, Hand: w.Hand, Colour: w.Colour, Size: w.Size}
			})}); err != nil {
				return nil, err
			}
			return f.wearersOf(ctx, in.ID)
		})
	operation(f, op("GET /orders/{id}/parcels", "list-parcels", "How an order's parcels go"),
		func(ctx context.Context, in *byID) (*answer[parcelList], error) { return f.parcels(ctx, in.ID) })
	taking(f, op("PUT /orders/{id}/parcels/{no}", "keep-parcel", "Write down how the parcel of a delivery goes", conflict),
		func(ctx context.Context, in *byNo, e Parcel) (*answer[parcelList], error) {
			p := sales.Parcel{Order: in.ID, Nth: nth(in.No), Carrier: e.Carrier, Tracking: e.Tracking, State: sales.ParcelState(e.State), Note: e.Note}
			var l fault.List
			p.Sent, p.Since = optionalDay(&l, "sent", e.Sent), optionalDay(&l, "since", e.Since)
			insured := figure(&l, "insured", e.Insured)
			if err := l.Err(); err != nil {
				return nil, err
			}
			if err := f.Sales.KeepParcel(ctx, p, insured, callOf(ctx).by); err != nil {
				return nil, err
			}
			return f.parcels(ctx, in.ID)
		})
	operation(f, op("GET /orders/{id}/photos", "list-photos", "The photos of an order, the deleted ones too"),
		func(ctx context.Context, in *byID) (*answer[photoList], error) {
			o, err := f.Sales.Order(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			all, err := f.Sales.Photos(ctx, sales.PhotoOfOrder, o.Order.ID)
			return &answer[photoList]{photoList{each(all, photoRow)}}, err
		})
	operation(f, op("DELETE /photos/{id}", "delete-photo", "Delete a photo for good").
		saying("Who did it and when is kept."),
		func(ctx context.Context, in *byID) (*answer[Photo], error) {
			p, err := f.Sales.DeletePhoto(ctx, in.ID, callOf(ctx).by)
			return &answer[Photo]{photoRow(p)}, err
		})
}
