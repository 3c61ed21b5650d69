package tax

import (
	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

var hundred = decimal.NewFromInt(100)

// Regime is how one workshop charges tax where it is. The zero Regime is a workshop that is not registered: it
// charges none, whatever the rest says.
type Regime struct {
	Registered  bool
	GrossPrices bool       // prices are made with tax inside (consumers); otherwise tax is added to them
	PerLine     bool       // tax is rounded on every line and summed; otherwise once per rate on the summed lines
	NetFirst    bool       // in gross prices the net is rounded and tax is the rest; otherwise, by default, the tax is rounded: it is what is declared
	Mode        money.Mode // how the rounded part rounds: half-up nearly everywhere; down and half-down where the law lets them
	Rates       []Rate
	Wording     Wording
}

// Wording is what documents say where no tax is charged, in the maker's own words as local law asks for them; empty
// for the usual ones.
type Wording struct{ Unregistered, Reverse, Export, Exempt string }

// Check is nil when the regime can be used, else a fault with everything that is wrong.
func (g Regime) Check() error {
	if !g.Registered {
		return nil
	}
	var l fault.List
	if _, err := money.ParseMode(string(g.Mode)); err != nil {
		_ = l.Take("mode", err) // always a fault
	}
	if len(g.Rates) == 0 {
		l.Add("rates", "", "Give at least one tax rate, or say that the workshop is not registered for tax.")
	}
	g.checkRates(&l)
	return l.Err()
}

// Exclusive is the tax to add to a net amount: net × rate exactly, rounded once.
func (g Regime) Exclusive(net money.Amount, r Rate) money.Amount {
	return g.part(net, r.Percent, hundred)
}

// Inclusive splits a gross amount. One part is rounded and the other is the rest, so that they always add up.
func (g Regime) Inclusive(gross money.Amount, r Rate) (net, tax money.Amount) {
	whole := hundred.Add(r.Percent)
	if g.NetFirst && g.Registered {
		net = g.part(gross, hundred, whole)
		return net, gross.Sub(net)
	}
	tax = g.part(gross, r.Percent, whole)
	return gross.Sub(tax), tax
}

// part is amount × n / d by the regime's rounding; nothing when not registered.
func (g Regime) part(a money.Amount, n, d decimal.Decimal) money.Amount {
	if !g.Registered {
		return a.Sub(a)
	}
	c := a.Currency()
	return money.Round(g.Mode.Quo(a.Decimal().Mul(n), d, c.Digits()), c)
}
