// Package pricing makes a price of a spec: take-off × price list, hours × shop rate, and the build-up from cost
// to what the customer pays.
//
// Money is decimal from the first cent. Rounding happens at named places and nowhere else: a measured quantity
// once to its unit, every money line once to the cent, hours to 0.01; sums add printed lines, so a slip adds up
// by eye. The order is: unit net, rush, × quantity, minimum, discount, fee, rounding step, tax, deposit.
// Limits: one currency; pure computation, no clock of its own, no storage.
package pricing

import (
	"fmt"
	"strconv"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
)

// Price is what a supplier asks for one pack of an item, net.
type Price struct {
	Item   string          // code of the foam, liquid or good
	Amount decimal.Decimal // for one pack
	Pack   decimal.Decimal // stock units in it: litres, sheets, metres, pieces
	Unit   measure.Unit
}

// Rush is the surcharge for a job wanted within so many days.
type Rush struct {
	Within int
	Share  decimal.Decimal
}

// Grade is labour at a rate other than the shop's.
type Grade struct {
	Name string
	Hour decimal.Decimal // rate
}

// Rates are the workshop's own figures. Shares are fractions: 0.20 is 20 %. The ranges of common practice stand
// beside each; none has a published source.
type Rates struct {
	Currency         money.Currency
	Hour             decimal.Decimal // shop rate
	Grades           []Grade         // that steps may name instead
	Allowance        decimal.Decimal // rest and delay on basic time, 0.15
	Handling         decimal.Decimal // on material, 0.10 to 0.25
	Contingency      decimal.Decimal // 0.05 to 0.25, usually 0.08
	ContingencyFirst decimal.Decimal // for a shape or technique not made before, 0.15
	Margin           decimal.Decimal // of the net price, 0.10 to 0.35
	Learning         labour.Learning
	LeadDays         int    // standard lead time
	Rush             []Rush // shortest first
	Minimum          decimal.Decimal
	Step             decimal.Decimal // prices are rounded up to a multiple of this; 0 for none
	FeeRate          decimal.Decimal // of what is charged
	FeeFixed         decimal.Decimal
	OffcutShare      decimal.Decimal // what a kept offcut is worth of new, 0.50
	Deposit          decimal.Decimal // of the gross price, 0.40
	DepositHeavy     decimal.Decimal // where material is over 40 % of cost, 0.50
	ValidDays        int             // how long a quote stands, 30
}

// Snapshot is everything an estimate depends on besides the spec. The same spec and snapshot give the same
// estimate to the byte; an issued quote keeps the one it was made from.
type Snapshot struct {
	Version   int
	Catalogue materials.Catalogue
	Prices    []Price
	Rates     Rates
	Bench     shield.Bench
	Usage     takeoff.Usage
	Steps     []labour.Step
	Rules     []shield.Rule
	Calendar  schedule.Calendar
	Tax       tax.Regime
	TaxCode   string        // the rate that shields are sold at
	Treatment tax.Treatment // of the customer's sale
	Now       time.Time
	Seed      uint64
}

// SnapshotVersion is the layout written today.
const SnapshotVersion = 1

// price finds the price of an item.
func (s Snapshot) price(item string) (Price, bool) {
	for _, p := range s.Prices {
		if p.Item == item {
			return p, true
		}
	}
	return Price{}, false
}

// rule finds a size rule by its code; nil when it is not known.
func (s Snapshot) rule(code string) *shield.Rule {
	for i := range s.Rules {
		if s.Rules[i].Code == code {
			return &s.Rules[i]
		}
	}
	return nil
}

// hour is the rate of a grade; the shop rate where it is not known.
func (r Rates) hour(grade string) decimal.Decimal {
	for _, g := range r.Grades {
		if g.Name == grade {
			return g.Hour
		}
	}
	return r.Hour
}

// FeeOf is what of a payment the one who hands it on keeps.
func (r Rates) FeeOf(paid money.Amount) money.Amount {
	return money.Round(paid.Decimal().Mul(r.FeeRate).Add(r.FeeFixed), paid.Currency())
}

// GradeNames are what steps may name.
func (r Rates) GradeNames() []string {
	names := make([]string, len(r.Grades))
	for i, g := range r.Grades {
		names[i] = g.Name
	}
	return names
}

// How many grades of labour and rushes there may be.
const (
	mostGrades = 8
	mostRushes = 6
)

// Check is nil when prices can be made with the rates, else a fault with everything that is wrong.
func (r Rates) Check() error {
	var l fault.List
	if _, err := money.ParseCurrency(string(r.Currency)); err != nil {
		_ = l.Take("currency", err) // always a fault
	}
	between := func(field string, v decimal.Decimal, least, most string) {
		if v.LessThan(decimal.RequireFromString(least)) || v.GreaterThan(decimal.RequireFromString(most)) {
			l.Add(field, v.String(), fmt.Sprintf("Write a figure from %s to %s.", least, most))
		}
	}
	between("hour", r.Hour, "0", "10000")
	if len(r.Grades) > mostGrades {
		l.Add("grades", strconv.Itoa(len(r.Grades)), fmt.Sprintf("These are too many grades. Keep at most %d.", mostGrades))
	}
	named := map[string]bool{}
	for i, g := range r.Grades {
		field := fmt.Sprintf("grades.%d.", i)
		switch n := utf8.RuneCountInString(g.Name); {
		case n == 0 || n > 30:
			l.Add(field+"name", g.Name, "Write what this labour is called, in up to 30 letters, for example helper.")
		case named[g.Name]:
			l.Add(field+"name", g.Name, "Another grade is called so. Choose another name.")
		}
		named[g.Name] = true
		between(field+"hour", g.Hour, "0", "10000")
	}
	for _, share := range []struct {
		field string
		value decimal.Decimal
		most  string
	}{
		{"allowance", r.Allowance, "1"}, {"handling", r.Handling, "1"}, {"contingency", r.Contingency, "1"},
		{"contingency_first", r.ContingencyFirst, "1"}, {"margin", r.Margin, "0.95"}, {"fee_rate", r.FeeRate, "0.3"},
		{"offcut_share", r.OffcutShare, "1"}, {"deposit", r.Deposit, "1"}, {"deposit_heavy", r.DepositHeavy, "1"},
	} {
		between(share.field, share.value, "0", share.most)
	}
	between("minimum", r.Minimum, "0", "1000000")
	between("step", r.Step, "0", "1000")
	between("fee_fixed", r.FeeFixed, "0", "1000")
	between("learning.curve", r.Learning.Curve, "0.5", "1")
	between("learning.floor", r.Learning.Floor, "0.1", "1")
	if len(r.Rush) > mostRushes {
		l.Add("rush", strconv.Itoa(len(r.Rush)), fmt.Sprintf("These are too many. Keep at most %d.", mostRushes))
	}
	least := 1
	for i, rush := range r.Rush {
		field := fmt.Sprintf("rush.%d.", i)
		between(field+"share", rush.Share, "0", "2")
		if rush.Within < least || rush.Within > 365 {
			l.Add(field+"within", strconv.Itoa(rush.Within), fmt.Sprintf("Write days from %d to 365, the shortest first.", least))
		}
		least = rush.Within + 1
	}
	return l.Err()
}
