package figures

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
)

// Weighed is what a design costs and brings, for one order as its spec has it, at the figures it was priced with.
type Weighed struct {
	ID, Name                string
	Quantity                int
	Price                   money.Amount // with tax
	Net                     money.Amount // without
	Material, Labour, Other money.Amount // they add up to Cost; Other is handling, what is bought in, and contingency
	Cost                    money.Amount
	Earned                  money.Amount // Net − Cost
	Margin                  Margin
	Hours, Low, High        decimal.Decimal
	Former, Drying          decimal.Decimal // days that the places are taken
	MaterialShare           decimal.Decimal // of the cost
	// Contribution is what is left of the net price once everything is paid that one order more costs besides hours.
	Contribution money.Amount
	PerHour      money.Amount // margin an hour at the bench
	Bottleneck   money.Amount // contribution an hour at the bench
	PerFormer    money.Amount // contribution a day on the former; zero where it takes none
	PerDrying    money.Amount // contribution a day on the drying place; zero where it takes none
}

// Weigh holds an estimate against its costs.
func Weigh(id, name string, e pricing.Estimate) Weighed {
	p := e.Price
	w := Weighed{
		ID: id, Name: name, Quantity: p.Quantity, Price: p.Gross, Net: p.Net, Material: p.Material, Labour: p.Labour, Cost: p.Cost,
		Other: p.Cost.Sub(p.Material).Sub(p.Labour), Earned: p.Net.Sub(p.Cost), Margin: MarginOf(p.Net, p.Cost),
		Hours: e.Work.Hours, Low: e.Work.Low, High: e.Work.High, MaterialShare: ratio(p.Material.Decimal(), p.Cost.Decimal()),
		Former: taken(e.Tasks, schedule.Former), Drying: taken(e.Tasks, schedule.DryingPlace),
	}
	w.Contribution = p.Net.Sub(p.Material).Sub(p.Handling).Sub(p.BoughtIn)
	each := func(a money.Amount, by decimal.Decimal) money.Amount {
		return money.Round(ratio(a.Decimal(), by), a.Currency())
	}
	w.PerHour, w.Bottleneck = each(w.Earned, w.Hours), each(w.Contribution, w.Hours)
	w.PerFormer, w.PerDrying = each(w.Contribution, w.Former), each(w.Contribution, w.Drying)
	return w
}

// taken is how many days tasks take a place, to a hundredth.
func taken(tasks []schedule.Task, place string) decimal.Decimal {
	var all time.Duration
	for _, t := range tasks {
		if t.Place == place {
			all += t.Work + t.Wait
		}
	}
	return decimal.NewFromInt(int64(all)).DivRound(decimal.NewFromInt(int64(24*time.Hour)), 2)
}
