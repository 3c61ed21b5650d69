package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"

	"github.com/shopspring/decimal"
)

// Shelf is what is there of one item, in its stock unit.
type Shelf struct {
	Item     string          `json:"item"`
	Name     string          `json:"name"`
	Unit     string          `json:"unit" doc:"as the trade writes it"`
	OnHand   decimal.Decimal `json:"on_hand"`
	Promised decimal.Decimal `json:"promised" doc:"set aside for orders"`
	Free     decimal.Decimal `json:"free"`
	Coming   decimal.Decimal `json:"coming" doc:"ordered of suppliers and not here yet"`
	Wanted   decimal.Decimal `json:"wanted" doc:"what orders still wait for"`
	Least    decimal.Decimal `json:"buy_below"`
	Offcuts  decimal.Decimal `json:"offcuts" doc:"kept offcuts, as the share of whole sheets they are"`
	Value    string          `json:"value"`
}

// Moved is one line of the ledger. What goes out is negative.
type Moved struct {
	ID       int64           `json:"id"`
	At       time.Time       `json:"at"`
	Kind     string          `json:"kind" enum:"receipt,issue,return,waste,count,offcut,revalue"`
	Quantity decimal.Decimal `json:"quantity"`
	Cost     string          `json:"cost"`
	Lot      string          `json:"lot,omitempty" format:"uuid"`
	Order    string          `json:"order,omitempty" format:"uuid"`
	Note     string          `json:"note,omitempty"`
	By       string          `json:"by,omitempty"`
}

// Lot is what came in together.
type Lot struct {
	ID         string          `json:"id" format:"uuid"`
	Item       string          `json:"item"`
	Received   time.Time       `json:"received"`
	Label      string          `json:"label,omitempty"`
	Opened     string          `json:"opened,omitempty" format:"date"`
	BestBefore string          `json:"best_before,omitempty" format:"date"`
	Offcut     bool            `json:"offcut" doc:"it has a shape"`
	Left       decimal.Decimal `json:"left"`
}

type shelfList struct {
	Items []Shelf `json:"items"`
}

type shelfCard struct {
	Shelf
	Lots  []Lot   `json:"lots" doc:"oldest first"`
	Moves []Moved `json:"movements" doc:"newest first, at most 200"`
}

type delivery struct {
	ID         string `json:"id,omitempty" format:"uuid" doc:"of the lot, chosen by you: sent again it is refused (409) and nothing is received twice"`
	Item       string `json:"item"`
	Supplier   string `json:"supplier,omitempty" format:"uuid"`
	Quantity   string `json:"quantity" doc:"in the item's stock unit"`
	Cost       string `json:"cost" doc:"of all of it, net"`
	Label      string `json:"label,omitempty" maxLength:"60"`
	BestBefore string `json:"best_before,omitempty" format:"date"`
	Note       string `json:"note,omitempty" maxLength:"400"`
}

type wasted struct {
	Item     string `json:"item"`
	Lot      string `json:"lot,omitempty" format:"uuid" doc:"left out: the oldest first"`
	Quantity string `json:"quantity" doc:"an offcut goes as a whole"`
	Reason   string `json:"reason" maxLength:"400"`
}

type returned struct {
	Item     string `json:"item"`
	Order    string `json:"order" format:"uuid" doc:"it was taken for"`
	Quantity string `json:"quantity"`
	Note     string `json:"note,omitempty" maxLength:"400"`
}

type marked struct {
	Label      string `json:"label,omitempty" maxLength:"60"`
	Opened     string `json:"opened,omitempty" format:"date"`
	BestBefore string `json:"best_before,omitempty" format:"date"`
}

type countSheet struct {
	Found []countEntry `json:"found"`
}

type countEntry struct {
	Item     string `json:"item"`
	Expected string `json:"expected" doc:"what the books said when the sheet was made"`
	Found    string `json:"found"`
	Why      string `json:"why,omitempty" maxLength:"400" doc:"needed where the two differ"`
}

type counted struct {
	Posted int `json:"posted" doc:"how many differed"`
}

func shelfOf(r stock.Row) Shelf {
	b := r.Balance
	return Shelf{
		Item: r.Item.Code, Name: r.Item.Name, Unit: string(r.Item.Unit), OnHand: b.OnHand, Promised: b.Reserved, Free: b.Free(), Coming: r.Coming,
		Wanted: r.Wanted, Least: r.Item.Least, Offcuts: b.Offcuts, Value: b.Value.Add(b.OffcutValue).String(),
	}
}

func movedOf(m stock.Movement) Moved {
	return Moved{m.ID, m.At.UTC(), string(m.Kind), m.Quantity, m.Cost.String(), m.Lot, m.Order, m.Note, m.By}
}

func lotOf(l stock.Lot) Lot {
	return Lot{l.ID, l.Item, l.Received.UTC(), l.Label, dateOf(l.Opened), dateOf(l.BestBefore), l.Shape != nil, l.Left}
}

func (f *face) shelf() {
	operation(f, op("GET /stock", "shelf", "What is on the shelf", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *narrowing) (*answer[shelfList], error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			rows, err := f.Shelf.List(ctx, stock.Found{Words: found.Words, Most: found.Most})
			return &answer[shelfList]{shelfList{each(rows, shelfOf)}}, err
		})
	operation(f, op("GET /stock/{item}", "shelf-item", "One item: lots, in and out", notFound).also(people.Bookkeeper), func(ctx context.Context, in *struct {
		Item string `path:"item"`
	}) (*answer[shelfCard], error) {
		c, err := f.Shelf.Card(ctx, in.Item, 0, mostRows)
		return &answer[shelfCard]{shelfCard{shelfOf(c.Row), each(c.Lots, lotOf), each(c.Moves, movedOf)}}, err
	})
	taking(f, op("POST /stock/receipts", "receive", "Put a delivery on the shelf", notFound, conflict).created(), f.receive)
	taking(f, op("POST /stock/waste", "throw-away", "Take spoiled stock off the shelf", notFound, conflict).also(people.Helper),
		func(ctx context.Context, _ *none, e wasted) (*none, error) {
			var l fault.List
			q := quantity(&l, "quantity", e.Quantity)
			if err := l.Err(); err != nil {
				return nil, err
			}
			return &none{}, called(f.Shelf.Waste(ctx, e.Item, e.Lot, q, e.Reason, callOf(ctx).by), "note", "reason")
		})
	taking(f, op("POST /stock/returns", "bring-back", "Put back what an order took and did not use", notFound).
		saying("At what it cost the order, whether or not that has ended."),
		func(ctx context.Context, _ *none, e returned) (*none, error) {
			var l fault.List
			q := quantity(&l, "quantity", e.Quantity)
			if err := l.Err(); err != nil {
				return nil, err
			}
			return &none{}, f.Shelf.Return(ctx, e.Item, e.Order, q, e.Note, callOf(ctx).by)
		})
	taking(f, op("PUT /stock/lots/{id}", "mark-lot", "Write down what a lot is called, when it was opened and how long it is good").also(people.Helper).
		saying("As a whole: what is left out is none."),
		func(ctx context.Context, in *byID, e marked) (*none, error) {
			var l fault.List
			lot := stock.Lot{ID: in.ID, Label: e.Label, Opened: optionalDay(&l, "opened", e.Opened), BestBefore: optionalDay(&l, "best_before", e.BestBefore)}
			if err := l.Err(); err != nil {
				return nil, err
			}
			return &none{}, f.Shelf.MarkLot(ctx, lot)
		})
	taking(f, op("POST /stock/counts", "count", "Post a count sheet", notFound).also(people.Helper).
		saying("All of it or nothing. An item that moved since the sheet was made is refused by name."), f.count)
}

func (f *face) receive(ctx context.Context, _ *none, e delivery) (*answer[Lot], error) {
	var l fault.List
	d := stock.Delivery{ID: e.ID, Item: e.Item, Supplier: e.Supplier, Label: e.Label, Note: e.Note, Quantity: quantity(&l, "quantity", e.Quantity), Cost: quantity(&l, "cost", e.Cost), BestBefore: optionalDay(&l, "best_before", e.BestBefore)}
	if err := l.Err(); err != nil {
		return nil, err
	}
	lot, err := f.Shelf.Receive(ctx, d, callOf(ctx).by)
	lot.Left = d.Quantity
	return &answer[Lot]{lotOf(lot)}, err
}

func (f *face) count(ctx context.Context, _ *none, e countSheet) (*answer[counted], error) {
	var l fault.List
	found := each(e.Found, func(x countEntry) stock.Finding {
		return stock.Finding{Item: x.Item, Expected: quantity(&l, "expected."+x.Item, x.Expected), Found: quantity(&l, "found."+x.Item, x.Found), Why: x.Why}
	})
	if err := l.Err(); err != nil {
		return nil, err
	}
	posted, err := f.Shelf.Stocktake(ctx, found, callOf(ctx).by)
	return &answer[counted]{counted{posted}}, err
}
