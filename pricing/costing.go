package pricing

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
)

// Costing is what a whole order brings, costs and takes. What was planned and what it took are told by the same sums,
// so that one can be held against the other line by line.
type Costing struct {
	Quantity                                               int
	Net                                                    money.Amount // what the customer pays, without tax
	Fee, Material, Handling, Labour, BoughtIn, Contingency money.Amount
	Hours, Low, High                                       decimal.Decimal // at the bench, as they are charged
	Former, Drying                                         decimal.Decimal // days that the places are taken
}

// Cost is everything it costs but the payment fee.
func (c Costing) Cost() money.Amount {
	return money.Sum(c.Net.Currency(), c.Material, c.Handling, c.Labour, c.BoughtIn, c.Contingency)
}

// Earned is what is left of the net price after the fee and all costs.
func (c Costing) Earned() money.Amount { return c.Net.Sub(c.Fee).Sub(c.Cost()) }

// Contribution is what is left for the hours: the net price less everything that one order more costs besides them. The
// contingency is no cost until something happens, and then it is material or hours.
func (c Costing) Contribution() money.Amount {
	return c.Net.Sub(c.Fee).Sub(c.Material).Sub(c.Handling).Sub(c.BoughtIn)
}

// Took is the same of what it took, from what was planned: material as it left the shelf, handling as the same share of
// it, minutes at the planned cost of an hour. What was bought in and the fee are as planned, nobody notes them otherwise;
// nothing is set aside for what has happened.
func (c Costing) Took(material money.Amount, minutes decimal.Decimal) Costing {
	currency := c.Net.Currency()
	t := c
	t.Material, t.Contingency = money.Sum(currency, material), money.Sum(currency)
	t.Hours = minutes.DivRound(decimal.NewFromInt(60), 2)
	t.Low, t.High = t.Hours, t.Hours
	if c.Material.Sign() != 0 {
		t.Handling = money.Round(material.Decimal().Mul(c.Handling.Decimal()).Div(c.Material.Decimal()), currency)
	}
	if c.Hours.IsPositive() {
		t.Labour = money.Round(t.Hours.Mul(c.Labour.Decimal()).Div(c.Hours), currency)
	}
	return t
}

// Add is two orders together.
func (c Costing) Add(o Costing) Costing {
	return Costing{
		Quantity: c.Quantity + o.Quantity, Net: c.Net.Add(o.Net), Fee: c.Fee.Add(o.Fee), Material: c.Material.Add(o.Material), Handling: c.Handling.Add(o.Handling),
		Labour: c.Labour.Add(o.Labour), BoughtIn: c.BoughtIn.Add(o.BoughtIn), Contingency: c.Contingency.Add(o.Contingency),
		Hours: c.Hours.Add(o.Hours), Low: c.Low.Add(o.Low), High: c.High.Add(o.High), Former: c.Former.Add(o.Former), Drying: c.Drying.Add(o.Drying),
	}
}

// Costing is what an estimate comes to.
func (e Estimate) Costing() Costing {
	p := e.Price
	return Costing{
		Quantity: p.Quantity, Net: p.Net, Fee: p.Fee, Material: p.Material, Handling: p.Handling, Labour: p.Labour, BoughtIn: p.BoughtIn, Contingency: p.Contingency,
		Hours: e.Work.Hours, Low: e.Work.Low.Round(2), High: e.Work.High.Round(2), Former: placed(e.Tasks, schedule.Former), Drying: placed(e.Tasks, schedule.DryingPlace),
	}
}

// placed is how many days tasks take a place, from the first touch to the end of the wait, to a hundredth.
func placed(tasks []schedule.Task, place string) decimal.Decimal {
	var all time.Duration
	for _, t := range tasks {
		if t.Place == place {
			all += t.Work + t.Wait
		}
	}
	return decimal.NewFromInt(int64(all)).DivRound(decimal.NewFromInt(int64(24*time.Hour)), 2)
}
