package api

import (
	"context"
	"strconv"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"

	"github.com/shopspring/decimal"
)

// ToBuy is a supplier with what to order there.
type ToBuy struct {
	Supplier string    `json:"supplier" format:"uuid"`
	Name     string    `json:"name"`
	OrderBy  string    `json:"order_by,omitempty" format:"date" doc:"so that the first order that waits has it in time; left out when nothing presses"`
	Late     bool      `json:"late"`
	Cost     string    `json:"cost"`
	Lines    []BuyLine `json:"lines"`
}

// BuyLine is one item to buy, in the packs that cover what is missing at the least cost.
type BuyLine struct {
	Item     string          `json:"item"`
	Missing  decimal.Decimal `json:"missing"`
	Packs    []BuyPack       `json:"packs"`
	LeftOver decimal.Decimal `json:"left_over"`
	Cost     string          `json:"cost"`
}

// BuyPack is so many of one offer.
type BuyPack struct {
	Offer string          `json:"offer" format:"uuid"`
	Pack  decimal.Decimal `json:"pack" doc:"stock units in one"`
	Packs int             `json:"packs"`
	Price decimal.Decimal `json:"price"`
}

type buyList struct {
	Suppliers []ToBuy  `json:"suppliers"`
	Nobody    []string `json:"nobody_sells" doc:"items that are wanted and that nobody sells"`
}

// Purchase is an order to a supplier.
type Purchase struct {
	ID       string         `json:"id" format:"uuid"`
	Number   string         `json:"number"`
	Supplier string         `json:"supplier" format:"uuid"`
	Ordered  time.Time      `json:"ordered"`
	Expected string         `json:"expected" format:"date"`
	Note     string         `json:"note,omitempty"`
	Closed   bool           `json:"closed"`
	Lines    []PurchaseLine `json:"lines"`
}

// PurchaseLine is one pack of it.
type PurchaseLine struct {
	Offer string          `json:"offer" format:"uuid"`
	Item  string          `json:"item"`
	Pack  decimal.Decimal `json:"pack"`
	Packs int             `json:"packs"`
	Came  int             `json:"came"`
	Price decimal.Decimal `json:"price"`
}

type purchaseList struct {
	Purchases []Purchase `json:"purchases"`
}

type newPurchase struct {
	ID       string       `json:"id,omitempty" format:"uuid" doc:"chosen by you: sent again it gives the purchase that is there"`
	Supplier string       `json:"supplier" format:"uuid"`
	Note     string       `json:"note,omitempty" maxLength:"400"`
	Packs    []packsEntry `json:"packs"`
}

type packsEntry struct {
	Offer string `json:"offer" format:"uuid"`
	Packs int    `json:"packs"`
}

type arrival struct {
	Last bool        `json:"last,omitempty" doc:"nothing more is expected of it"`
	Came []cameEntry `json:"came"`
}

type cameEntry struct {
	Offer      string `json:"offer" format:"uuid"`
	Packs      int    `json:"packs"`
	Had        *int   `json:"had,omitempty" doc:"packs that had come before, as you read it: refused when more came meanwhile, so that nothing is received twice"`
	Price      string `json:"price" doc:"a pack, net; another price than was ordered at is noted from today on"`
	Label      string `json:"label,omitempty" maxLength:"60"`
	BestBefore string `json:"best_before,omitempty" format:"date"`
}

func toBuyOf(b stock.ToBuy) ToBuy {
	return ToBuy{b.Supplier.ID, b.Supplier.Name, dateOf(b.By), b.Late, b.Cost.String(), each(b.Lines, func(l stock.BuyLine) BuyLine {
		return BuyLine{l.Want.Item.Code, l.Missing, each(l.Packs, func(p stock.BuyPack) BuyPack { return BuyPack{p.Offer.ID, p.Offer.Pack, p.Packs, p.Price} }), l.Over, l.Cost.String()}
	})}
}

func purchaseOf(p stock.Purchase) Purchase {
	return Purchase{p.ID, strconv.Itoa(p.No) + " of " + strconv.Itoa(p.Year), p.Supplier, p.Ordered.UTC(), dateOf(p.Expected), p.Note, !p.Closed.IsZero(),
		each(p.Lines, func(l stock.PurchaseLine) PurchaseLine {
			return PurchaseLine{l.Offer, l.Item, l.Pack, l.Packs, l.Came, l.Price}
		})}
}

func (f *face) buying() {
	operation(f, op("GET /buying", "purchase-list", "What to buy, of whom and by when").also(people.Bookkeeper),
		func(ctx context.Context, _ *none) (*answer[buyList], error) {
			list, nobody, err := f.Shelf.ToBuy(ctx)
			return &answer[buyList]{buyList{each(list, toBuyOf), each(nobody, func(w stock.Want) string { return w.Item.Code })}}, err
		})
	operation(f, op("GET /purchases", "list-purchases", "What was ordered of suppliers, the open ones first").also(people.Bookkeeper),
		func(ctx context.Context, _ *none) (*answer[purchaseList], error) {
			list, err := f.Shelf.Purchases(ctx)
			return &answer[purchaseList]{purchaseList{each(list, purchaseOf)}}, err
		})
	operation(f, op("GET /purchases/{id}", "purchase", "One purchase").also(people.Bookkeeper),
		func(ctx context.Context, in *byID) (*answer[Purchase], error) {
			p, err := f.Shelf.Purchase(ctx, in.ID)
			return &answer[Purchase]{purchaseOf(p)}, err
		})
	taking(f, op("POST /purchases", "note-purchase", "Note what was ordered of a supplier", notFound).created().
		saying("At today's prices; from then on it counts as coming. Nothing is sent to the supplier."),
		func(ctx context.Context, _ *none, e newPurchase) (*made[Purchase], error) {
			asked := each(e.Packs, func(p packsEntry) stock.Asked { return stock.Asked{Offer: p.Offer, Packs: p.Packs} })
			order := f.Shelf.Order
			if e.ID != "" {
				order = func(ctx context.Context, supplier string, asked []stock.Asked, note, by string) (stock.Purchase, error) {
					return f.Shelf.OrderOnce(ctx, e.ID, supplier, asked, note, by)
				}
			}
			p, err := order(ctx, e.Supplier, asked, e.Note, callOf(ctx).by)
			return &made[Purchase]{Path + "/purchases/" + p.ID, purchaseOf(p)}, err
		})
	taking(f, op("POST /purchases/{id}/arrivals", "purchase-came", "Put what came of a purchase on the shelf", conflict), f.arrive)
}

func (f *face) arrive(ctx context.Context, in *byID, e arrival) (*answer[Purchase], error) {
	var l fault.List
	came := each(e.Came, func(a cameEntry) stock.Arrived {
		return stock.Arrived{Offer: a.Offer, Packs: a.Packs, Had: a.Had, Price: quantity(&l, "price."+a.Offer, a.Price), Label: a.Label, BestBefore: optionalDay(&l, "best_before."+a.Offer, a.BestBefore)}
	})
	if err := l.Err(); err != nil {
		return nil, err
	}
	p, err := f.Shelf.Arrive(ctx, in.ID, came, e.Last, callOf(ctx).by)
	return &answer[Purchase]{purchaseOf(p)}, err
}
