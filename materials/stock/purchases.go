package stock

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// Asked is so many packs of one offer.
type Asked struct {
	Offer string
	Packs int
}

// Purchases lists what was ordered of suppliers, the open ones first.
func (s *Service) Purchases(ctx context.Context) ([]Purchase, error) {
	return given(ctx, s.store.ActOnStock, func(tx Tx) ([]Purchase, error) { return tx.Purchases(ctx, 200) })
}

// Purchase is one of them.
func (s *Service) Purchase(ctx context.Context, id string) (Purchase, error) {
	return given(ctx, s.store.ActOnStock, func(tx Tx) (Purchase, error) { return tx.Purchase(ctx, id) })
}

// Order notes what was ordered of a supplier, at today's prices; from then on it counts as coming. Sending it is
// the maker's own affair.
func (s *Service) Order(ctx context.Context, supplierID string, asked []Asked, note, by string) (Purchase, error) {
	return s.OrderOnce(ctx, newID(), supplierID, asked, note, by)
}

// OrderOnce is Order under an ID of the asker's own. Asked again, by a button pressed twice or because the answer
// got lost, it gives the purchase that is there.
func (s *Service) OrderOnce(ctx context.Context, id, supplierID string, asked []Asked, note, by string) (Purchase, error) {
	if err := ownID(id); err != nil {
		return Purchase{}, err
	}
	var p Purchase
	err := s.store.ActOnStock(ctx, func(tx Tx) (err error) {
		if p, err = tx.Purchase(ctx, id); fault.KindOf(err) != fault.NotFound {
			return err
		}
		supplier, err := tx.Supplier(ctx, supplierID)
		if err != nil {
			return err
		}
		var l fault.List
		words(&l, "note", note, 400)
		today := Day(s.now())
		p = Purchase{
			ID: id, Series: "purchase", Year: today.Year(), Supplier: supplierID, Ordered: s.now(), By: by,
			Expected: today.AddDate(0, 0, supplier.LeadDays), Note: strings.TrimSpace(note),
		}
		offers, err := tx.Offers(ctx, "")
		if err != nil {
			return err
		}
		p.Lines = ordered(&l, supplier, offers, asked, today)
		if l.Empty() && len(p.Lines) == 0 {
			l.Add("packs", "", "Order at least one pack.")
		}
		if err := l.Err(); err != nil {
			return err
		}
		if p.No, err = tx.NextNumber(ctx, p.Series, p.Year); err != nil {
			return err
		}
		return tx.AddPurchase(ctx, p)
	})
	if fault.KindOf(err) == fault.Conflict { // the same was asked at the same moment, and came first
		if there, err := s.Purchase(ctx, id); err == nil {
			return there, nil
		}
	}
	return p, err
}

// ordered are the lines of a purchase, each pack at its price of the day.
func ordered(l *fault.List, supplier Supplier, offers []Offer, asked []Asked, day time.Time) (lines []PurchaseLine) {
	sold := map[string]Offer{}
	for _, o := range offers {
		if o.Supplier == supplier.ID && !o.Retired {
			sold[o.ID] = o
		}
	}
	seen := map[string]bool{}
	for _, a := range asked {
		if a.Packs == 0 {
			continue
		}
		offer, sells := sold[a.Offer]
		price, priced := offer.On(day)
		refuse := func(value, remedy string) { l.Add("packs."+a.Offer, value, remedy) }
		switch {
		case a.Packs < 0 || a.Packs > 10_000:
			refuse(strconv.Itoa(a.Packs), "Write a number of packs from 0 to 10000.")
		case !sells:
			refuse("", supplier.Name+" does not sell this pack any more. Open the list again.")
		case seen[a.Offer]:
			refuse(strconv.Itoa(a.Packs), "This pack stands on the list twice. Write all of it in one line.")
		case !priced:
			refuse("", "This pack has no price yet. Note one first.")
		default:
			lines = append(lines, PurchaseLine{Offer: a.Offer, Item: offer.Item, Pack: offer.Pack, Packs: a.Packs, Price: price.Amount})
		}
		seen[a.Offer] = true
	}
	return lines
}

// ownID refuses what is no ID that something new could have.
func ownID(id string) error {
	if _, err := uuid.Parse(id); err != nil || len(id) != 36 {
		return refuse("id", id, "Write a UUID of your own, or leave it out.")
	}
	return nil
}

// Arrived is what came of one line of a purchase: packs, what one cost, and what is printed on them. Had is how many
// had come before, as it was read; nil where nobody looked.
type Arrived struct {
	Offer      string
	Packs      int
	Had        *int
	Price      decimal.Decimal
	Label      string
	BestBefore time.Time
}

// Arrive puts a delivery on the shelf, all of it or part, a lot a line. A price that differs is noted from today
// on. With last, nothing more is expected of the purchase; it also ends when everything came. What was put on the
// shelf since the purchase was read is not put there twice.
func (s *Service) Arrive(ctx context.Context, id string, came []Arrived, last bool, by string) (Purchase, error) {
	var p Purchase
	err := s.store.ActOnStock(ctx, func(tx Tx) (err error) {
		if p, err = tx.LockPurchase(ctx, id); err != nil {
			return err
		}
		if !p.Closed.IsZero() {
			return fault.New(fault.State, "Purchase %d of %d is closed: nothing more is expected of it.", p.No, p.Year)
		}
		items := make([]string, len(p.Lines))
		for i, l := range p.Lines {
			items[i] = l.Item
		}
		shelf, err := take(ctx, tx, s.now(), by, items...)
		if err != nil {
			return err
		}
		var l fault.List
		p.again(came, &l)
		packs := 0
		for _, a := range came {
			if a.Packs == 0 {
				continue
			}
			packs += a.Packs
			if err := shelf.arrive(ctx, tx, &p, a, &l); err != nil {
				return err
			}
		}
		if l.Empty() && packs == 0 && !last {
			l.Add("packs", "", "Write how many packs came, or tick that nothing more will.")
		}
		if err := l.Err(); err != nil {
			return err
		}
		if last || !slices.ContainsFunc(p.Lines, func(l PurchaseLine) bool { return l.Open() > 0 }) {
			p.Closed = s.now()
		}
		if err := shelf.put(ctx); err != nil {
			return err
		}
		return tx.SavePurchase(ctx, p)
	})
	return p, err
}

// again notes lines of which more is on the shelf than whoever receives them saw.
func (p Purchase) again(came []Arrived, l *fault.List) {
	for _, a := range came {
		i := slices.IndexFunc(p.Lines, func(l PurchaseLine) bool { return l.Offer == a.Offer })
		if i >= 0 && a.Packs != 0 && a.Had != nil && *a.Had != p.Lines[i].Came {
			l.Add("packs."+a.Offer, strconv.Itoa(a.Packs), fmt.Sprintf("By now %d of %d are on the shelf. Write only what came besides those.", p.Lines[i].Came, p.Lines[i].Packs))
		}
	}
}

func (s *shelf) arrive(ctx context.Context, tx Tx, p *Purchase, a Arrived, l *fault.List) error {
	i := slices.IndexFunc(p.Lines, func(l PurchaseLine) bool { return l.Offer == a.Offer })
	if i < 0 {
		l.Add("packs."+a.Offer, "", "This is not on the purchase. Receive it as a delivery of its own.")
		return nil
	}
	line := &p.Lines[i]
	if a.Packs < 0 || a.Packs > line.Open() {
		l.Add("packs."+a.Offer, strconv.Itoa(a.Packs), fmt.Sprintf("Still to come: %d of %d. Receive what is more as a delivery of its own.", line.Open(), line.Packs))
	} else {
		amount(l, "packs."+a.Offer, line.Pack.Mul(decimal.NewFromInt(int64(a.Packs))), s.balances[line.Item])
	}
	if a.Price.IsNegative() || a.Price.GreaterThan(mostMoney) || !a.Price.Equal(a.Price.Round(4)) {
		l.Add("price."+a.Offer, a.Price.String(), "Write what a pack cost, net: from 0 to 10000000, with at most four places.")
	}
	words(l, "label."+a.Offer, a.Label, 60)
	if !l.Empty() {
		return nil
	}
	packs := decimal.NewFromInt(int64(a.Packs))
	line.Came += a.Packs
	s.in(Receipt, Lot{Item: line.Item, Supplier: p.Supplier, Label: strings.TrimSpace(a.Label), BestBefore: a.BestBefore}, line.Pack.Mul(packs),
		money.Round(a.Price.Mul(packs), s.terms.Currency), "", fmt.Sprintf("Purchase %d of %d", p.No, p.Year))
	if !a.Price.Equal(line.Price) {
		return tx.NotePrice(ctx, a.Offer, Price{From: Day(s.now), Amount: a.Price, Noted: s.now, By: s.by})
	}
	return nil
}
