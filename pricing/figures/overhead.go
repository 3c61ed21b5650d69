package figures

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

// Overhead is what is paid whether anything is made or not, and what it is spread by: hours, or money of wages.
type Overhead struct {
	Costs money.Amount
	Base  decimal.Decimal
}

// Rate is the overhead of one unit of the base; 0 where there is none of it.
func (o Overhead) Rate() decimal.Decimal { return ratio(o.Costs.Decimal(), o.Base) }

// Applied is what so much of the base carries of it, rounded once.
func (o Overhead) Applied(base decimal.Decimal) money.Amount {
	if o.Base.IsZero() {
		return money.Sum(o.Costs.Currency())
	}
	return money.Round(o.Costs.Decimal().Mul(base).DivRound(o.Base, places), o.Costs.Currency())
}

// Over is what was applied above what was really paid; below zero where it is under-applied.
func (o Overhead) Over(applied, paid money.Amount) money.Amount { return applied.Sub(paid) }

// Flow is what lay somewhere at the beginning, came in and went out.
type Flow struct{ Begin, In, Out money.Amount }

// End is what lies there at the end.
func (f Flow) End() money.Amount { return f.Begin.Add(f.In).Sub(f.Out) }
