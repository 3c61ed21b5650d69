// Package words writes numbers, money and dates as people read them.
//
// Pages are English: a thin space between thousands and a point before cents ("1 099.00 EUR"), dates as
// "2 January 2027". Documents speak the customer's Tongue, whose sentences lie in messages, English ones being
// the keys. Limits: tongues that are written from left to right, with the plural forms that x/text knows.
package words

import (
	"strconv"
	"time"

	"foamwright/pricing/money"
)

// group is what stands between thousands: a narrow space that does not break.
const group = "\u202f"

// Money is an amount without its currency, thousands apart: "1 099.00".
func Money(a money.Amount) string { return grouped(a.String(), group, ".") }

// Price is an amount with its currency: "1 099.00 EUR".
func Price(a money.Amount) string { return Money(a) + "\u00a0" + string(a.Currency()) }

// Date is a day in full: "2 January 2027".
func Date(t time.Time) string { return t.Format("2 January 2006") }

// Ago says how long something is past, roughly: "a moment ago", "5 minutes ago", "3 days ago".
func Ago(d time.Duration) string {
	for _, step := range []struct {
		unit time.Duration
		name string
	}{{24 * time.Hour, "day"}, {time.Hour, "hour"}, {time.Minute, "minute"}} {
		switch n := int(d / step.unit); {
		case n == 1:
			return "a" + map[bool]string{true: "n"}[step.name == "hour"] + " " + step.name + " ago"
		case n > 1:
			return strconv.Itoa(n) + " " + step.name + "s ago"
		}
	}
	return "a moment ago"
}
