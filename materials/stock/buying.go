package stock

import (
	"cmp"
	"context"
	"slices"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/pricing/money"
)

// BuyingTx is what is bought, within one transaction.
type BuyingTx interface {
	// Wants are the items that orders wait for or that are below what is to be there, with their balances, what is
	// coming and what was used since a day.
	Wants(ctx context.Context, now, since time.Time) ([]Want, error)
	Purchase(ctx context.Context, id string) (Purchase, error)
	// LockPurchase is Purchase, and nobody else changes it until the end.
	LockPurchase(ctx context.Context, id string) (Purchase, error)
	// Purchases are the open ones, soonest first, then the closed ones, newest first.
	Purchases(ctx context.Context, most int) ([]Purchase, error)
	AddPurchase(ctx context.Context, p Purchase) error
	// SavePurchase keeps what came and whether it is closed.
	SavePurchase(ctx context.Context, p Purchase) error
	// NextNumber is the next number of a series and year; the last lock of an act.
	NextNumber(ctx context.Context, series string, year int) (int, error)
}

// Want is an item that may have to be bought.
type Want struct {
	Row
	Due  time.Time       // the day the first order that waits wants it; zero when none does
	Used decimal.Decimal // since the day that was asked for

	Waiting []Promise // of orders that are short of it, in the order they come to their share
}

// least is what is to be there; nothing of what is no longer offered.
func (w Want) least() decimal.Decimal {
	if w.Item.Retired {
		return decimal.Zero
	}
	return w.Item.Least
}

// Purchase is an order to a supplier.
type Purchase struct {
	ID, Series string
	Year, No   int
	Supplier   string // ID
	From       string // the supplier's name, for lists
	Ordered    time.Time
	By         string
	Expected   time.Time
	Note       string
	Closed     time.Time // all came, or nothing more will; zero while it is open
	Lines      []PurchaseLine
}

// PurchaseLine is one pack of it.
type PurchaseLine struct {
	Offer, Item string
	Pack        decimal.Decimal // stock units in one
	Packs, Came int
	Price       decimal.Decimal // a pack, as it was ordered

	Name, Article string // of the item, and the supplier's own number, for lists
	Unit          measure.Unit
}

// Open is how many packs are still to come.
func (l PurchaseLine) Open() int { return l.Packs - l.Came }

// ToBuy is a supplier with what to order there.
type ToBuy struct {
	Supplier Supplier
	Lines    []BuyLine
	Cost     money.Amount
	By       time.Time // the day to order by, so that the first order that waits has it in time; zero for no hurry
	Late     bool      // that day is over
}

// BuyLine is one item to buy: the packs that cover what is missing at the least cost.
type BuyLine struct {
	Want    Want
	Missing decimal.Decimal
	Packs   []BuyPack
	Over    decimal.Decimal // what is left over after that
	Cost    money.Amount
	By      time.Time
	Late    bool
}

// BuyPack is so many of one offer.
type BuyPack struct {
	Offer Offer
	Packs int
	Price decimal.Decimal
}

// window is how many days back the use of an item is looked at.
const window = 90

// ToBuy is what to buy of whom, and by when: what orders wait for and what is below the point to order again
// (the use of the last 90 days until the supplier delivers, and the least that is to be there). Items nobody sells
// come back apart. The list holds 1 000 items at most, first those that orders wait for.
func (s *Service) ToBuy(ctx context.Context) (list []ToBuy, nobody []Want, err error) {
	err = s.read(ctx, func(tx Tx) error {
		list, nobody, err = toBuy(ctx, tx, Day(s.now()), s.now())
		return err
	})
	return list, nobody, err
}

func toBuy(ctx context.Context, tx Tx, today, now time.Time) ([]ToBuy, []Want, error) {
	terms, err := tx.Terms(ctx)
	if err != nil {
		return nil, nil, err
	}
	wants, err := tx.Wants(ctx, now, today.AddDate(0, 0, -window))
	if err != nil {
		return nil, nil, err
	}
	if err := waiting(ctx, tx, wants, now); err != nil {
		return nil, nil, err
	}
	suppliers, err := tx.Suppliers(ctx)
	if err != nil {
		return nil, nil, err
	}
	packs, err := packsOf(ctx, tx, wants, today)
	if err != nil {
		return nil, nil, err
	}
	byID := map[string]*ToBuy{}
	for _, s := range suppliers {
		byID[s.ID] = &ToBuy{Supplier: s, Cost: money.Round(decimal.Zero, terms.Currency)}
	}
	var nobody []Want
	for _, w := range wants {
		line, supplier, sold := cheapestLine(w, packs[w.Item.Code], byID, today, terms.Currency)
		switch {
		case !sold && w.Wanted.Add(w.least()).IsPositive():
			nobody = append(nobody, w)
		case sold && line.Missing.IsPositive():
			b := byID[supplier]
			b.Lines, b.Cost, b.Late = append(b.Lines, line), b.Cost.Add(line.Cost), b.Late || line.Late
			if !line.By.IsZero() && (b.By.IsZero() || line.By.Before(b.By)) {
				b.By = line.By
			}
		}
	}
	var list []ToBuy
	for _, s := range suppliers {
		if b := byID[s.ID]; len(b.Lines) > 0 {
			list = append(list, *b)
		}
	}
	return list, nobody, nil
}

// packsOf are the packs that each of some items is sold in on a day, at the price in force: the usual one first, then
// the smallest.
func packsOf(ctx context.Context, tx Tx, wants []Want, today time.Time) (map[string][]Offer, error) {
	list, err := tx.InForce(ctx, today) // all at once: it is kept in memory as long as nothing changes
	if err != nil {
		return nil, err
	}
	packs := make(map[string][]Offer, len(wants))
	for _, w := range wants {
		packs[w.Item.Code] = nil
	}
	for _, o := range list.Offers {
		if _, wanted := packs[o.Item]; wanted {
			packs[o.Item] = append(packs[o.Item], o)
		}
	}
	for _, of := range packs {
		slices.SortFunc(of, func(a, b Offer) int {
			if a.Usual != b.Usual {
				return map[bool]int{true: -1, false: 1}[a.Usual]
			}
			return cmp.Or(a.Pack.Cmp(b.Pack), strings.Compare(a.ID, b.ID))
		})
	}
	return packs, nil
}

// waiting notes which orders are short of each item.
func waiting(ctx context.Context, tx Tx, wants []Want, now time.Time) error {
	promises, err := tx.Promises(ctx, codes(wants))
	if err != nil {
		return err
	}
	short := map[string][]Promise{}
	for _, p := range promises {
		if p.Short().IsPositive() && !p.lapsed(now) {
			short[p.Item] = append(short[p.Item], p)
		}
	}
	for i := range wants {
		wants[i].Waiting = short[wants[i].Item.Code]
	}
	return nil
}

// cheapestLine covers what is missing of an item from one supplier: one who can deliver in time where there is
// one, and of those the cheapest.
func cheapestLine(w Want, offers []Offer, suppliers map[string]*ToBuy, today time.Time, c money.Currency) (best BuyLine, from string, sold bool) {
	bySupplier := map[string][]BuyPack{}
	var order []string
	for _, o := range offers {
		price, priced := o.On(today)
		if o.Retired || !priced || suppliers[o.Supplier] == nil {
			continue
		}
		if bySupplier[o.Supplier] == nil {
			order = append(order, o.Supplier)
		}
		bySupplier[o.Supplier] = append(bySupplier[o.Supplier], BuyPack{Offer: o, Price: price.Amount})
	}
	for _, id := range order {
		line := lineOf(w, bySupplier[id], suppliers[id].Supplier.LeadDays, today, c)
		if !sold || best.Late && !line.Late || best.Late == line.Late && line.Cost.Cmp(best.Cost) < 0 {
			best, from, sold = line, id, true
		}
	}
	return best, from, sold
}

func lineOf(w Want, packs []BuyPack, leadDays int, today time.Time, c money.Currency) BuyLine {
	perDay := w.Used.DivRound(decimal.NewFromInt(window), 8)
	point := ReorderPoint(perDay, leadDays, w.least())
	if w.Item.Retired {
		point = decimal.Zero // bought only for orders that wait
	}
	there := w.Balance.Free().Add(w.Coming).Sub(w.Wanted)
	line := BuyLine{Want: w, Cost: money.Round(decimal.Zero, c)}
	if there.LessThan(point) {
		line.Missing = point.Sub(there).RoundUp(w.Item.Unit.Places())
	}
	sizes := make([]Pack, len(packs))
	for i, p := range packs {
		sizes[i] = Pack{p.Offer.Pack, p.Price}
	}
	line.Over = line.Missing.Neg()
	for i, n := range Cheapest(line.Missing, sizes) {
		if n == 0 {
			continue
		}
		p := packs[i]
		p.Packs = n
		line.Packs = append(line.Packs, p)
		line.Cost = line.Cost.Add(money.Round(p.Price.Mul(decimal.NewFromInt(int64(n))), c))
		line.Over = line.Over.Add(p.Offer.Pack.Mul(decimal.NewFromInt(int64(n))))
	}
	if !w.Due.IsZero() && w.Balance.Free().Add(w.Coming).LessThan(w.Wanted) {
		line.By = w.Due.AddDate(0, 0, -leadDays)
		line.Late = line.By.Before(today)
	}
	return line
}

func codes(wants []Want) []string {
	list := make([]string, len(wants))
	for i, w := range wants {
		list[i] = w.Item.Code
	}
	return slices.Compact(list)
}
