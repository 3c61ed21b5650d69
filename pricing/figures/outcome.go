package figures

import (
	"fmt"
	"math/big"
	"strings"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// Outcome is how a quote ended.
type Outcome string

// The outcomes. One that ran out was not answered while it stood; one that is open still may be.
const (
	Won     Outcome = "accepted"
	Lost    Outcome = "declined"
	RanOut  Outcome = "ran out"
	Pending Outcome = "open"
)

// Endings are all of them.
func Endings() []Outcome { return []Outcome{Won, Lost, RanOut, Pending} }

// Offered is a quote number as it was offered: its last version that was issued decides. What was sold ready made from
// the price list is none: nobody was asked.
type Offered struct {
	Quote              string // ID of the last version
	Number             sales.Number
	Version            int
	Title              string
	Customer           string // name
	Before             bool   // the customer had ordered something before
	Design, DesignName string // that it was begun from; empty for none
	Gross              money.Amount
	Asked              time.Time // the enquiry came, or the draft was begun
	First              time.Time // the first version was issued
	Issued             time.Time // the last version was
	Answered           time.Time // zero without an answer
	Outcome            Outcome
	Reason             string // it was declined for, as it was written
}

// days counts from one day to another, by the calendar.
func days(from, to time.Time) int {
	y, m, d := to.Date()
	a, b, c := from.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(time.Date(a, b, c, 0, 0, 0, 0, time.UTC)).Hours() / 24)
}

// Tally counts quotes by their outcome.
type Tally struct{ Accepted, Declined, RanOut, Open int }

func (t *Tally) count(o Outcome) {
	switch o {
	case Won:
		t.Accepted++
	case Lost:
		t.Declined++
	case RanOut:
		t.RanOut++
	case Pending:
		t.Open++
	}
}

// Of is how many ended so.
func (t Tally) Of(o Outcome) int {
	return map[Outcome]int{Won: t.Accepted, Lost: t.Declined, RanOut: t.RanOut, Pending: t.Open}[o]
}

// All is how many there are.
func (t Tally) All() int { return t.Accepted + t.Declined + t.RanOut + t.Open }

// Ended is how many the rate is of: those that are open still may be won.
func (t Tally) Ended() int { return t.Accepted + t.Declined + t.RanOut }

// few is below how many a rate says nothing. Common practice, no source.
const few = 5

// Enough tells that there are enough to speak of a rate.
func (t Tally) Enough() bool { return t.Ended() >= few }

// Rate is the share that was accepted, of those that ended.
func (t Tally) Rate() Rate { return RateOf(t.Accepted, t.Ended()) }

// Says is the rate in words, with its interval; of too few only how many.
func (t Tally) Says() string {
	switch {
	case t.Ended() == 0:
		return "none ended yet"
	case !t.Enough():
		return fmt.Sprintf("%d of %d accepted: too few to tell", t.Accepted, t.Ended())
	}
	return t.Rate().String()
}

// Rate is a share of few or many, with the interval that it lies in at 95 %.
type Rate struct{ Share, Low, High decimal.Decimal }

// String is "43 % (20 to 70 %)".
func (r Rate) String() string {
	whole := func(d decimal.Decimal) string { return d.Shift(2).StringFixed(0) }
	return fmt.Sprintf("%s\u00a0%% (%s to %s\u00a0%%)", whole(r.Share), whole(r.Low), whole(r.High))
}

// Above tells that a rate is higher than another beyond what chance makes of such numbers: their intervals do not meet.
// That is a careful rule: rates whose intervals meet may differ all the same, but it cannot be told.
func (r Rate) Above(other Rate) bool { return r.Low.GreaterThan(other.High) }

// fine is how many places the interval is worked out to.
const fine = 12

// RateOf is a share of n, with its score interval at 95 % (E. B. Wilson, Journal of the American Statistical Association
// 22, 1927): the shares p for which the count is within 1.96 standard errors √(p(1−p)/n) of what is expected. It stays
// between 0 and 1 and holds for small numbers. Of none it is everything.
func RateOf(k, n int) Rate {
	if n <= 0 {
		return Rate{High: one}
	}
	z2 := decimal.RequireFromString("3.841458820694124") // 1.959963984540054², the 95th of 100 of χ² with one degree of freedom
	count, of, two := decimal.NewFromInt(int64(k)), decimal.NewFromInt(int64(n)), decimal.NewFromInt(2)
	middle := count.Mul(two).Add(z2)
	spread := root(z2.Mul(z2.Add(two.Mul(two).Mul(count).Mul(of.Sub(count)).DivRound(of, 2*fine))))
	whole := two.Mul(of.Add(z2))
	r := Rate{count.DivRound(of, fine), middle.Sub(spread).DivRound(whole, fine), middle.Add(spread).DivRound(whole, fine)}
	if k == 0 {
		r.Low = decimal.Zero
	}
	if k == n {
		r.High = one
	}
	return r
}

// root is the square root of what is not below zero, to so many places that the interval is exact to its own.
func root(d decimal.Decimal) decimal.Decimal {
	scaled := d.Shift(4 * fine).BigInt()
	return decimal.NewFromBigInt(new(big.Int).Sqrt(scaled), -2*fine)
}

// wording is a reason without what does not change it: case, spaces, a full stop at the end.
func wording(reason string) string {
	return strings.TrimRight(strings.ToLower(strings.Join(strings.Fields(reason), " ")), " .!,;")
}
