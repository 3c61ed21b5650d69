package stock

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
)

// Item is one line of the catalogue: exactly one of Foam, Liquid and Good is set. Its unit and what it is (foam,
// liquid or good) never change once it is kept; what is sold in another unit is another item.
type Item struct {
	Code, Name string
	Place      int // in the catalogue: the take-off reaches for the first of a use; 0 goes to the end
	Foam       *materials.Foam
	Liquid     *materials.Liquid
	Good       *materials.Good
	Unit       measure.Unit    // that the shelf counts it in
	Least      decimal.Decimal // buy when below
	SealedDays int             // it lasts unopened; 0 for as long as you like
	OpenedDays int             // once opened
	Climate    Climate
	Retired    bool // no longer offered; its history stays
	Edit       int  // counts changes, so that two people cannot overwrite each other; 0 is not kept yet
}

// Of lists a foam, a liquid or a good as an item, counted in the unit that its take-off measures in.
func Of[T materials.Foam | materials.Liquid | materials.Good](thing T) Item {
	switch t := any(thing).(type) {
	case materials.Foam:
		return Item{Code: t.Code, Name: t.Name, Foam: &t, Unit: measure.Each}
	case materials.Liquid:
		return Item{Code: t.Code, Name: t.Name, Liquid: &t, Unit: measure.Litre}
	case materials.Good:
		return Item{Code: t.Code, Name: t.Name, Good: &t, Unit: t.Unit}
	}
	panic("stock: no item of this type") // the constraint allows no other
}

// Family is what an item is.
type Family string

// The families of items.
const (
	Foam   Family = "foam"
	Liquid Family = "liquid"
	Good   Family = "good"
)

// Family is what the item is; empty when nothing of it is set.
func (i Item) Family() Family {
	switch {
	case i.Foam != nil:
		return Foam
	case i.Liquid != nil:
		return Liquid
	case i.Good != nil:
		return Good
	}
	return ""
}

// Use is what a take-off reaches for the item for; empty where it is only taken by name.
func (i Item) Use() materials.Use {
	switch {
	case i.Liquid != nil:
		return i.Liquid.Use
	case i.Good != nil:
		return i.Good.Use
	}
	return ""
}

// Climate is where something may be kept and used; nil where the data sheet says nothing.
type Climate struct {
	Coldest, Warmest *int // °C
	Dampest          *int // % relative humidity
}

// Supplier is who sells packs. LeadDays are calendar days from ordering to the shelf.
type Supplier struct {
	ID, Name, Email, Note string
	LeadDays              int
	Edit                  int
}

// Offer is a pack that a supplier sells. Of an item's packs one is the usual one: estimates charge by it.
type Offer struct {
	ID, Item, Supplier string
	Pack               decimal.Decimal // stock units in it
	Article            string          // the supplier's own number
	Usual, Retired     bool
	Edit               int
	Prices             []Price // newest day first; of one day the last word first
}

// Price is what a pack costs net from a day on.
type Price struct {
	From   time.Time // a day, at midnight UTC
	Amount decimal.Decimal
	Noted  time.Time
	By     string
}

// On is the price in force on a day; false before the first.
func (o Offer) On(day time.Time) (Price, bool) {
	for _, p := range o.Prices {
		if !p.From.After(day) {
			return p, true
		}
	}
	return Price{}, false
}
