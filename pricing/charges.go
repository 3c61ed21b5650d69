package pricing

import (
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/takeoff"
	"foamwright/pricing/money"
)

// charge puts prices to everything taken, foam by the sheets its plan opens.
func (e *Estimate) charge(snap Snapshot) {
	for _, f := range e.Foam {
		e.Materials = append(e.Materials, e.foam(f, snap))
	}
	for _, group := range []takeoff.Group{takeoff.Adhesive, takeoff.Coats, takeoff.Hardware, takeoff.Packing} {
		for _, l := range e.TakeOff.Lines {
			if l.Group == group {
				e.Materials = append(e.Materials, e.line(l, snap))
			}
		}
	}
}

// foam charges the sheets opened less the worth of the offcuts kept.
func (e *Estimate) foam(f takeoff.FoamPlan, snap Snapshot) Charge {
	c := Charge{
		Group: takeoff.Foam, Item: f.Foam.Code, Quantity: measure.Quantity{Value: decimal.NewFromInt(int64(f.Sheets)), Unit: measure.Each},
		Name: fmt.Sprintf("%s, %s opened", f.Foam.Name, count(f.Sheets, string(f.Foam.Form))), Cost: money.Round(decimal.Zero, snap.Rates.Currency),
	}
	price, ok := e.priced(f.Foam.Code, f.Foam.Name, snap)
	if !ok {
		return c
	}
	sheets := c.Quantity.Value.Mul(price.Amount).DivRound(price.Pack, 16)
	c.Formula = fmt.Sprintf("%d × %s", f.Sheets, each(price))
	if n := len(f.Plan.Offcuts); n > 0 && snap.Rates.OffcutShare.IsPositive() {
		kept := f.Kept.Value.DivRound(f.Sheet.Value, 16).Mul(price.Amount).DivRound(price.Pack, 16).Mul(snap.Rates.OffcutShare)
		sheets = sheets.Sub(kept)
		c.Name += fmt.Sprintf(", %s kept", count(n, "offcut"))
		c.Formula += fmt.Sprintf(" − %s kept ÷ %s × %s × %s", f.Kept, f.Sheet, each(price), percent(snap.Rates.OffcutShare))
	}
	c.Cost = money.Round(sheets, snap.Rates.Currency)
	c.Formula += " = " + c.Cost.String()
	return c
}

// line charges a material for the whole order by the price of its pack.
func (e *Estimate) line(l takeoff.Line, snap Snapshot) Charge {
	f := l.ForOrder(e.Shield.Spec.Quantity)
	c := Charge{Group: l.Group, Item: l.Item, Name: l.Name, Quantity: f.Quantity(), Formula: f.String(), Cost: money.Round(decimal.Zero, snap.Rates.Currency)}
	price, ok := e.priced(l.Item, l.Name, snap)
	if !ok {
		return c
	}
	c.Cost = money.Round(c.Quantity.Value.Mul(price.Amount).DivRound(price.Pack, 16), snap.Rates.Currency)
	c.Formula += fmt.Sprintf(", at %s = %s", each(price), c.Cost)
	return c
}

// priced finds a price or warns that there is none.
func (e *Estimate) priced(item, name string, snap Snapshot) (Price, bool) {
	p, ok := snap.price(item)
	if !ok || !p.Pack.IsPositive() {
		e.Warnings = append(e.Warnings, fmt.Sprintf("%s has no price: it is not in the sum. Add one under Stock.", name))
		return p, false
	}
	return p, true
}

// sum adds the printed charges of a group, or of all.
func (e *Estimate) sum(group takeoff.Group) money.Amount {
	total := money.Amount{}
	for _, c := range e.Materials {
		if group == "" || c.Group == group {
			total = total.Add(c.Cost)
		}
	}
	return total
}

// Share is one group of the slip with its charges; the groups add up to the material.
type Share struct {
	Group   takeoff.Group
	Charges []Charge
	Cost    money.Amount
}

// Shares are the charges by group, groups without any left out.
func (e *Estimate) Shares() []Share {
	var shares []Share
	for _, c := range e.Materials {
		if n := len(shares); n == 0 || shares[n-1].Group != c.Group {
			shares = append(shares, Share{Group: c.Group, Cost: e.sum(c.Group)})
		}
		last := &shares[len(shares)-1]
		last.Charges = append(last.Charges, c)
	}
	return shares
}

// each writes a price, "62.00 per 5 l".
func each(p Price) string {
	if p.Pack.Equal(one) {
		return p.Amount.StringFixed(2)
	}
	return fmt.Sprintf("%s per %s %s", p.Amount.StringFixed(2), p.Pack, p.Unit)
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
