package stock

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
)

// Item is one line of the catalogue: exactly one of Foam, Liquid and Good is set. Its unit never changes once it
// is kept; what is sold in another unit is another item.
type Item struct {
	Code, Name string
	Foam       *materials.Foam
	Liquid     *materials.Liquid
	Good       *materials.Good
	Unit       measure.Unit    // that the shelf counts it in
	Least      decimal.Decimal // buy when below
	SealedDays int             // it lasts unopened; 0 for as long as you like
	OpenedDays int             // once opened
	Climate    Climate
	Retired    bool // no longer offered; its history stays
	Edit       int  // counts changes, so that two people cannot overwrite each other
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
