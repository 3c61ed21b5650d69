package pricing

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// Costs is what the build-up starts from: the cost of the whole order.
type Costs struct {
	Material  money.Amount // printed material lines, added
	BoughtIn  money.Amount
	Hours     decimal.Decimal // at the shop rate, with the allowance, two places
	Graded    []Hours         // at the rates of grades
	Quantity  int
	FirstTime bool
	Rush      decimal.Decimal // share on the unit price; zero when there is time
	Discount  decimal.Decimal // share off
}

// Hours are hours at the rate of a grade of labour, two places.
type Hours struct {
	Grade string
	Hours decimal.Decimal
	Rate  decimal.Decimal
}

// Line is one line of the build-up: what, how much, and how it came about.
type Line struct {
	Key, Label string
	Amount     money.Amount
	How        string
	Sum        bool // the lines above add up to it
}

// BuildUp is how the price is made. Every sum is the sum of its printed lines.
type BuildUp struct {
	Quantity int
	Material, Handling, Labour, BoughtIn, Direct,
	Contingency, Cost, Margin, UnitNet, Rush, Minimum, Discount, Fee, Rounding,
	Net, Tax, Gross, Deposit, Balance money.Amount
	Hours, RushShare, DiscountShare decimal.Decimal
	Rate                            tax.Rate        // with a reason where no tax is charged for the sake of who buys
	DepositShare                    decimal.Decimal // of Gross
	Lines                           []Line
}

var (
	one     = decimal.NewFromInt(1)
	hundred = decimal.NewFromInt(100)
	// heavy is the share of material in the cost above which the larger deposit is asked. Common practice, no source.
	heavy = decimal.New(4, -1)
)

// Build makes the price. The rates have been checked before (Check), so that no divisor is zero here.
func Build(c Costs, r Rates, regime tax.Regime, rate tax.Rate) BuildUp {
	q := decimal.NewFromInt(int64(c.Quantity))
	cent := func(d decimal.Decimal) money.Amount { return money.Round(d, r.Currency) }
	b := BuildUp{Quantity: c.Quantity, Rate: rate, RushShare: c.Rush, DiscountShare: c.Discount, Material: c.Material, BoughtIn: cent(c.BoughtIn.Decimal())}
	b.line("material", "Material", c.Material, "", true)

	b.Handling = cent(c.Material.Decimal().Mul(r.Handling))
	b.line("handling", "Handling "+percent(r.Handling), b.Handling, times(c.Material, r.Handling), false)
	b.labour(c, r)
	b.line("bought in", "Bought in", b.BoughtIn, "", false)
	b.Direct = money.Sum(r.Currency, b.Material, b.Handling, b.Labour, b.BoughtIn)
	b.line("direct", "Direct cost", b.Direct, "", true)

	share := r.Contingency
	if c.FirstTime {
		share = r.ContingencyFirst
	}
	b.Contingency = cent(b.Direct.Decimal().Mul(share))
	b.line("contingency", "Contingency "+percent(share), b.Contingency, times(b.Direct, share), false)
	b.Cost = b.Direct.Add(b.Contingency)
	b.line("cost", "Cost", b.Cost, "", true)

	unit := cent(b.Cost.Decimal().Div(q.Mul(one.Sub(r.Margin))))
	b.Margin = unit.Times(c.Quantity).Sub(b.Cost)
	b.line("margin", "Margin "+percent(r.Margin)+" of net", b.Margin, marginHow(b, unit, r), false)
	b.UnitNet = cent(unit.Decimal().Mul(one.Add(c.Rush)))
	b.Rush = b.UnitNet.Sub(unit).Times(c.Quantity)
	b.line("rush", "Rush "+percent(c.Rush), b.Rush, rushHow(unit, b.UnitNet.Sub(unit), c), false)
	net := b.UnitNet.Times(c.Quantity)

	if least := cent(r.Minimum); least.Cmp(net) > 0 {
		b.Minimum = least.Sub(net)
		b.line("minimum", "Up to the smallest charge", b.Minimum, "at least "+least.String()+" net", false)
		net = least
	}
	b.Discount = cent(net.Decimal().Mul(c.Discount)).Neg()
	b.line("discount", "Discount "+percent(c.Discount), b.Discount, times(net, c.Discount), false)
	net = net.Add(b.Discount)
	b.finish(net, r, regime, rate)
	return b
}

// labour prints a line for the hours at the shop rate and one for every grade, each rounded once.
func (b *BuildUp) labour(c Costs, r Rates) {
	b.Labour, b.Hours = money.Round(decimal.Zero, r.Currency), decimal.Zero
	for _, h := range append([]Hours{{Hours: c.Hours, Rate: r.Hour}}, c.Graded...) {
		hours := h.Hours.StringFixed(2) + " h"
		key, label := Labour, "Labour, "+hours
		if h.Grade != "" {
			key, label = Labour+" "+h.Grade, "Labour, "+h.Grade+", "+hours
		}
		cost := money.Round(h.Hours.Mul(h.Rate), r.Currency)
		b.Labour, b.Hours = b.Labour.Add(cost), b.Hours.Add(h.Hours)
		b.line(key, label, cost, hours+" × "+h.Rate.StringFixed(2), false)
	}
}

// Labour is the key of the line of labour at the shop rate; those of grades begin with it.
const Labour = "labour"

// GradeOf is the grade that a line of labour is about; false for every other line.
func (l Line) GradeOf() (grade string, labour bool) {
	rest, ok := strings.CutPrefix(l.Key, Labour)
	return strings.TrimPrefix(rest, " "), ok && (rest == "" || rest[0] == ' ')
}

// finish adds fee, rounding step, tax and deposit to the discounted net.
func (b *BuildUp) finish(net money.Amount, r Rates, regime tax.Regime, rate tax.Rate) {
	cent := func(d decimal.Decimal) money.Amount { return money.Round(d, r.Currency) }
	if r.FeeRate.IsPositive() || r.FeeFixed.IsPositive() {
		// The fee is taken of everything that is paid, tax included: (N + f) ÷ (1 − r(1 + tax)).
		taxed := one
		if regime.Registered {
			taxed = one.Add(rate.Percent.Div(hundred))
		}
		charged := cent(net.Decimal().Add(r.FeeFixed).Div(one.Sub(r.FeeRate.Mul(taxed))))
		b.Fee = charged.Sub(net)
		b.line("fee", "Payment fee", b.Fee, fmt.Sprintf("(%s + %s) ÷ (1 − %s × %s)", net, r.FeeFixed.StringFixed(2), r.FeeRate, taxed), false)
		net = charged
	}
	before := net
	step := cent(r.Step)
	rounded, taxed := "up to a multiple of "+step.String(), ""
	switch {
	case regime.GrossPrices:
		gross := net.Add(regime.Exclusive(net, rate)).RoundUpTo(step)
		b.Net, b.Tax = regime.Inclusive(gross, rate)
		// With prices that include tax the tax is the difference, so the net times the rate may be a cent off.
		rounded, taxed = "the price with tax "+rounded, fmt.Sprintf("%s − %s", gross, b.Net)
	default:
		b.Net = net.RoundUpTo(step)
		b.Tax = regime.Exclusive(b.Net, rate)
		taxed = b.Net.String() + " × " + rate.Percent.String() + " %"
	}
	b.Rounding = b.Net.Sub(before)
	b.line("rounding", "Rounded", b.Rounding, rounded, false)
	b.line("net", "Net", b.Net, "", true)
	b.Gross = b.Net.Add(b.Tax)
	switch {
	case rate.Reason != "":
		b.Lines = append(b.Lines, Line{Key: "tax", Label: rate.Reason, Amount: b.Tax, How: "no tax is charged to this customer"})
	case regime.Registered:
		b.line("tax", rate.Name+" "+rate.Percent.String()+" %", b.Tax, taxed, false)
	}
	b.line("gross", "Price", b.Gross, "", true)

	share := r.Deposit
	switch {
	case b.Net.Decimal().LessThanOrEqual(r.Minimum):
		share = one
	case b.Material.Decimal().GreaterThan(b.Cost.Decimal().Mul(heavy)):
		share = r.DepositHeavy
	}
	b.DepositShare = share
	b.Deposit = cent(b.Gross.Decimal().Mul(share))
	b.Balance = b.Gross.Sub(b.Deposit)
}

// line prints a line; one that comes to nothing is left out unless it is a sum.
func (b *BuildUp) line(key, label string, a money.Amount, how string, sum bool) {
	if a.Sign() != 0 || sum {
		b.Lines = append(b.Lines, Line{key, label, a, how, sum})
	}
}

func marginHow(b BuildUp, unit money.Amount, r Rates) string {
	each := ""
	if b.Quantity > 1 {
		each = fmt.Sprintf(" ÷ %d", b.Quantity)
	}
	return fmt.Sprintf("%s%s ÷ (1 − %s) = %s net each", b.Cost, each, percent(r.Margin), unit)
}

// rushHow rounds each shield's surcharge before it is multiplied, as the line does.
func rushHow(unit, rush money.Amount, c Costs) string {
	how := fmt.Sprintf("%s × %s", unit, percent(c.Rush))
	if c.Quantity > 1 {
		how += fmt.Sprintf(" = %s each × %d", rush, c.Quantity)
	}
	return how
}

func times(a money.Amount, share decimal.Decimal) string { return a.String() + " × " + percent(share) }

// percent writes a share as a percentage, "12.5 %".
func percent(share decimal.Decimal) string { return share.Mul(hundred).String() + " %" }
