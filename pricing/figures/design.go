package figures

import (
	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/money"
)

// Weighed is what a design costs and brings, for one order as its spec has it, at the figures it was priced with.
type Weighed struct {
	ID, Name string
	Version  int          // of the design
	Price    money.Amount // with tax
	pricing.Costing
}

// Weigh holds an estimate against its costs.
func Weigh(id, name string, e pricing.Estimate) Weighed {
	return Weighed{ID: id, Name: name, Price: e.Price.Gross, Costing: e.Costing()}
}

// Other is the cost besides material and labour: handling, what is bought in, and contingency.
func (w Weighed) Other() money.Amount { return w.Cost().Sub(w.Material).Sub(w.Labour) }

// Margin is what is earned as a share of the net price after the payment fee.
func (w Weighed) Margin() Margin { return MarginIn(w.Costing) }

// MaterialShare is the material's share of the cost.
func (w Weighed) MaterialShare() decimal.Decimal {
	return ratio(w.Material.Decimal(), w.Cost().Decimal())
}

// PerHour is what is earned in an hour at the bench.
func (w Weighed) PerHour() money.Amount { return per(w.Earned(), w.Hours) }

// Bottleneck is the contribution of an hour at the bench.
func (w Weighed) Bottleneck() money.Amount { return per(w.Contribution(), w.Hours) }

// PerFormer is the contribution of a day on the former; zero where it takes none.
func (w Weighed) PerFormer() money.Amount { return per(w.Contribution(), w.Former) }

// PerDrying is the contribution of a day on the drying place; zero where it takes none.
func (w Weighed) PerDrying() money.Amount { return per(w.Contribution(), w.Drying) }

// per is an amount by a number of something, to the cent; zero where there is none of it.
func per(a money.Amount, by decimal.Decimal) money.Amount {
	return money.Round(ratio(a.Decimal(), by), a.Currency())
}
