// Package takeoff counts what a shield takes: foam from a cut plan, adhesive, filler, coats, paint, hardware and
// consumables, and the drivers of every step of work. Every line carries its formula as text.
//
// Units: m², m, l, kg and pieces for one item; foam plans are for the whole order. A measured figure becomes a
// decimal once, by its unit's places; from there arithmetic is exact and a line rounds once to its unit. Limits:
// no money, no stock.
package takeoff

import (
	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

// BatchOf is how many equal items are made side by side: what is set up or mixed once a batch serves so many (common
// practice, no source).
const BatchOf = 6

// Group is where a line stands on the slip.
type Group string

// The groups in their order.
const (
	Foam     Group = "Foam"
	Adhesive Group = "Adhesive"
	Coats    Group = "Filler, latex and paint"
	Hardware Group = "Straps, blades and discs"
	Packing  Group = "Packing"
)

// Line is one material for one item, and how its amount came about. Times is how often an order takes it where that is
// not once an item: a template serves them all, a cup of colour a batch.
type Line struct {
	Group      Group
	Item, Name string
	Formula    measure.Formula
	Times      int // 0 for once an item
}

// ForOrder is the formula for an order of so many equal items.
func (l Line) ForOrder(items int) measure.Formula {
	f := l.Formula
	if l.Times > 0 {
		f.By(measure.N(l.Times, "batches"))
		return f
	}
	f.By(measure.N(items, "items"))
	return f
}

// TakeOff is everything but foam that one item takes, with the drivers of the work.
type TakeOff struct {
	Lines    []Line
	Drivers  Drivers
	Mass     decimal.Decimal // kg, unpacked
	DryFilm  decimal.Decimal // µm of latex or primer once all coats are dry; zero without
	Parcel   *Parcel         // nil when it is not shipped
	Warnings []string        // what the catalogue has nothing for
}

// taking is a take-off while it is counted.
type taking struct {
	TakeOff
	shield    shield.Shield
	catalogue materials.Catalogue
	usage     Usage
	mass      measure.Formula
	packing   measure.Formula // kg of what it is packed in
}

// Count takes off one item.
func Count(s shield.Shield, c materials.Catalogue, u Usage) TakeOff {
	t := &taking{TakeOff: TakeOff{Drivers: Drivers{}}, shield: s, catalogue: c, usage: u, mass: measure.Formula{Unit: measure.Kilogram}, packing: measure.Formula{Unit: measure.Kilogram}}
	t.design()
	t.cutting()
	t.laminate()
	t.discs()
	t.glue()
	t.edges()
	t.face()
	t.backAndGrip()
	t.skin()
	t.colours()
	t.finish()
	t.foamMass()
	t.Mass = t.mass.Quantity().Value
	t.weigh()
	return t.TakeOff
}

// drive sets a driver from products.
func (t *taking) drive(name Driver, unit measure.Unit, products ...[]measure.Factor) {
	f := measure.Formula{Unit: unit}
	for _, p := range products {
		f.Add(p...)
	}
	if !f.Empty() {
		t.Drivers[name] = f
	}
}

// count sets a driver that is a plain number.
func (t *taking) count(name Driver, n int, label string) {
	t.drive(name, measure.Each, p(measure.N(n, label)))
}

// p is one product of factors.
func p(factors ...measure.Factor) []measure.Factor { return factors }

// area and length are measured figures taken over the boundary.
func area(mm2 float64, label string) measure.Factor {
	return measure.M(mm2/1e6, measure.SquareMetre, label)
}

func length(mm float64, label string) measure.Factor {
	return measure.M(mm/1e3, measure.RunMetre, label)
}

// liquid adds a line for a liquid: the sum of areas × the spread given × loss. It returns what was taken.
func (t *taking) liquid(group Group, use materials.Use, f measure.Formula, spread func(materials.Liquid) []measure.Factor) (materials.Liquid, decimal.Decimal) {
	l, ok := t.catalogue.Liquid(use)
	if f.Empty() {
		return l, decimal.Zero
	}
	if !ok {
		t.lacks(string(use))
		return l, decimal.Zero
	}
	return l, t.pour(group, l, f, spread(l))
}

func (t *taking) pour(group Group, l materials.Liquid, f measure.Formula, spread []measure.Factor) decimal.Decimal {
	f.Unit = measure.Litre
	f.By(append(spread[:len(spread):len(spread)], measure.F(one.Add(l.Loss), "loss"))...)
	t.Lines = append(t.Lines, Line{Group: group, Item: l.Code, Name: l.Name, Formula: f})
	return f.Quantity().Value
}

// goods adds a line for something counted or measured off.
func (t *taking) goods(group Group, use materials.Use, f measure.Formula) {
	if f.Empty() {
		return
	}
	g, ok := t.catalogue.Good(use)
	if !ok {
		t.lacks(string(use))
		return
	}
	t.good(group, g, f)
}

// shared adds goods that an order takes so many times, however many items it is of.
func (t *taking) shared(use materials.Use, f measure.Formula, times int) {
	n := len(t.Lines)
	if t.goods(Hardware, use, f); len(t.Lines) > n {
		t.Lines[n].Times = times
	}
}

func (t *taking) good(group Group, g materials.Good, f measure.Formula) {
	f.Unit, f.Whole = g.Unit, g.Unit == measure.Each
	t.Lines = append(t.Lines, Line{Group: group, Item: g.Code, Name: g.Name, Formula: f})
	mass := &t.mass
	if group == Packing {
		mass = &t.packing
	}
	mass.Add(measure.F(f.Quantity().Value, string(g.Unit)+" "+g.Name), measure.F(g.Mass, "kg"))
}

// of is a formula of one product.
func of(factors ...measure.Factor) measure.Formula {
	var f measure.Formula
	f.Add(factors...)
	return f
}

func (t *taking) lacks(use string) {
	t.Warnings = append(t.Warnings, "The catalogue has nothing for "+use+": it is not in the price. Add one under Workshop.")
}

var one = decimal.NewFromInt(1)
