package workshop

import (
	"strconv"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// Volatile is when the price of a material is not to be relied on: it moved by at least a share, lowest to highest,
// within so many days. A quote that such a material carries stands shorter.
type Volatile struct {
	Share decimal.Decimal // 0.10 is 10 %; 0 never shortens a quote
	Days  int             // that are looked back
	Valid int             // days that the quote stands then
}

// usualVolatile is common practice, no source.
func usualVolatile() Volatile { return Volatile{Share: decimal.New(1, -1), Days: 90, Valid: 14} }

func (v Volatile) check(l *fault.List) {
	if v.Share.IsNegative() || v.Share.GreaterThan(decimal.New(10, 0)) || !v.Share.Equal(v.Share.Round(4)) {
		l.Add("volatile_share", v.Share.Shift(2).String(), "Write a percentage from 0 to 1000; 0 for never.")
	}
	if v.Days < 1 || v.Days > 730 {
		l.Add("volatile_days", strconv.Itoa(v.Days), "Write a number of days from 1 to 730.")
	}
	if v.Valid < 1 || v.Valid > 365 {
		l.Add("volatile_valid", strconv.Itoa(v.Valid), "Write a number of days from 1 to 365.")
	}
}
