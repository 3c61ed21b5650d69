package stock

import (
	"context"
	"fmt"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/pricing/money"
)

// Cutting is a foam cut for an order by a plan. The first sheet of its job is the whole one.
type Cutting struct {
	ID, Order, Item string
	Job             cutplan.Job
	Plan            cutplan.Plan
	Lots            []string // by the sheets of the job: the offcut it is, empty for a whole sheet
	At              time.Time
	By              string
}

// Used are the offcuts that the plan cuts from, and Opened how many whole sheets.
func (c Cutting) Used() (lots []string, opened int) {
	for _, o := range c.Plan.Sheets {
		if lot := c.Lots[o.Sheet]; lot != "" {
			lots = append(lots, lot)
		} else {
			opened++
		}
	}
	return lots, opened
}

// Ready is what an order may cut from: whole sheets that are set aside for it or free, and the offcuts, oldest first.
type Ready struct {
	Sheets  int
	Offcuts []Lot
	Unit    decimal.Decimal // what a whole sheet is worth by the books; zero where there is none
}

// ForCutting is what an order may cut a foam from now.
func ForCutting(ctx context.Context, tx LedgerTx, order, item string, now time.Time) (Ready, error) {
	s, err := take(ctx, tx, now, "", item)
	if err != nil {
		return Ready{}, err
	}
	r := Ready{Sheets: int(s.may(order, item).IntPart())}
	for _, l := range s.lots[item] {
		if l.Shape != nil {
			r.Offcuts = append(r.Offcuts, l)
		}
	}
	if b := s.balances[item]; b.OnHand.IsPositive() {
		r.Unit = b.Value.Decimal().DivRound(b.OnHand, 16)
	}
	return r, nil
}

// may is how much of an item an order may take: all but what is set aside for others.
func (s *shelf) may(order, item string) decimal.Decimal {
	left := s.balances[item].OnHand
	for _, p := range s.promises[item] {
		if p.Order != order && !p.lapsed(s.now) {
			left = left.Sub(p.Reserved)
		}
	}
	return decimal.Max(left, decimal.Zero)
}

// Cut moves the shelf as a plan says, in one transaction with the order: whole sheets and offcuts go to the order,
// what the plan keeps comes back as offcuts at the workshop's value, and the order's promise of the foam ends. foam
// and whose are written on what is kept. It takes nothing that is set aside for others: where the shelf no longer has
// what the plan cuts from, the Conflict fault says so and nothing moves.
func Cut(ctx context.Context, tx LedgerTx, c Cutting, foam, whose string) error {
	s, err := take(ctx, tx, c.At, c.By, c.Item)
	if err != nil {
		return err
	}
	lots, opened := c.Used()
	sheets := decimal.NewFromInt(int64(opened))
	if may := s.may(c.Order, c.Item); sheets.GreaterThan(may) {
		return fault.New(fault.Conflict, "The shelf changed: the plan opens %s whole sheets of %s and this order may have %s. Lay it out again.", sheets, foam, may)
	}
	if p := s.promise(c.Order, c.Item); p != nil {
		p.Needed, p.Reserved = decimal.Zero, decimal.Zero
	}
	note := "Cut for order " + whose
	issued, err := s.out(Issue, c.Item, "", sheets, c.Order, note)
	if err != nil {
		return err
	}
	parents := map[string]parent{}
	if opened > 0 {
		parents[""] = parent{one, s.terms.OffcutShare.Mul(issued.Decimal()).DivRound(sheets, 16)}
	}
	for _, lot := range lots {
		cut := s.offcut(c.Item, lot)
		if cut == nil {
			return fault.New(fault.Conflict, "The shelf changed: an offcut that the plan cuts from is gone. Lay it out again.")
		}
		parents[lot] = parent{cut.Left, cut.Value.Decimal()}
		issued = issued.Add(s.outOffcut(Issue, *cut, c.Order, note))
	}
	s.keep(c, parents, issued, foam, whose)
	return s.put(ctx)
}

// parent is what an offcut is cut from: how much of a whole sheet it was, and what that is worth once it is an offcut.
type parent struct{ quantity, value decimal.Decimal }

// keep puts what a plan keeps on the shelf, each at its share of what it was cut from; together never more than was
// issued.
func (s *shelf) keep(c Cutting, parents map[string]parent, issued money.Amount, foam, whose string) {
	whole := c.Job.Sheets[0]
	for _, o := range c.Plan.Offcuts {
		from := parents[c.Lots[c.Plan.Sheets[o.Sheet].Sheet]]
		share := Share(o.Area, whole.Width*whole.Height)
		worth := money.Round(from.value.Mul(decimal.Min(share, from.quantity)).DivRound(from.quantity, 16), s.terms.Currency)
		if worth.Cmp(issued) > 0 {
			worth = issued
		}
		issued = issued.Sub(worth)
		corner := o.Shape.Outer.Bounds().Min
		shape := geom.Region{o.Shape}.Transform(geom.Translate(-corner.X, -corner.Y))[0]
		s.in(Kept, Lot{Item: c.Item, Label: c.Label(o, foam, whose), Shape: &shape}, share, worth, c.Order, "Kept of order "+whose)
	}
}

// Label is what is written on an offcut that is kept: foam, size, order and day, the foam's name cut short where it
// is long.
func (c Cutting) Label(o cutplan.Offcut, foam, whose string) string {
	box := o.Shape.Outer.Bounds()
	rest := fmt.Sprintf(", %.0f × %.0f, order %s, %s", box.Width(), box.Height(), whose, c.At.Format("2 Jan 2006"))
	if room := max(mostLabel-utf8.RuneCountInString(rest), 0); utf8.RuneCountInString(foam) > room {
		foam = string([]rune(foam)[:room])
	}
	return foam + rest
}

// mostLabel is how long a label may be.
const mostLabel = 60

var one = decimal.NewFromInt(1)
