package web

import (
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/stock"
)

// quantity is what is counted, with its unit and no places that say nothing: "2.5 l".
func quantity(v decimal.Decimal, u measure.Unit) string {
	if u == measure.Each && v.Abs().Equal(decimal.New(1, 0)) {
		u = "pc"
	}
	s := v.String()
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		s = "−" + rest
	}
	return strings.TrimSpace(s + "\u00a0" + string(u))
}

// signed is what moved: "+2.5 l", "−1 l".
func signed(v decimal.Decimal, u measure.Unit) string {
	if v.IsPositive() {
		return "+" + quantity(v, u)
	}
	return quantity(v, u)
}

// worth is a price as it is typed and printed: at least two places, more where it has them.
func worth(v decimal.Decimal) string {
	if v.Equal(v.Round(2)) {
		return v.StringFixed(2)
	}
	return v.String()
}

// iso is a day as date entries take it; empty for none.
func iso(day time.Time) string {
	if day.IsZero() {
		return ""
	}
	return day.Format(time.DateOnly)
}

// today is the day it is in the workshop.
func today() time.Time { return stock.Day(time.Now()) }

// away says how far off a day is: "today", "in 3 days", "2 days ago".
func away(day time.Time) string {
	switch n := int(stock.Day(day).Sub(today()).Hours() / 24); {
	case n == 0:
		return "today"
	case n == 1:
		return "tomorrow"
	case n == -1:
		return "yesterday"
	case n > 0:
		return "in " + strconv.Itoa(n) + " days"
	default:
		return strconv.Itoa(-n) + " days ago"
	}
}
