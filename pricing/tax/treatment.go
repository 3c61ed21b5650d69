package tax

import (
	"cmp"
	"fmt"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// Treatment is how the law has a sale taxed because of who buys. Whether it applies is for the maker and local law.
type Treatment string

// The treatments. The reasons that documents print are the maker's to word; these are common practice.
const (
	AsUsual       Treatment = ""
	ReverseCharge Treatment = "reverse charge" // a business abroad owes the tax itself
	Export        Treatment = "export"         // goods leave the tax area
	Exempt        Treatment = "exempt"         // the buyer or the sale is
)

// Treatments are all there are, the usual one first.
func Treatments() []Treatment { return []Treatment{AsUsual, ReverseCharge, Export, Exempt} }

// ParseTreatment reads a treatment.
func ParseTreatment(typed string) (Treatment, error) {
	for _, t := range Treatments() {
		if string(t) == typed {
			return t, nil
		}
	}
	var l fault.List
	l.Add("", typed, fmt.Sprintf("Choose how tax is charged: nothing for as usual, %s, %s or %s.", ReverseCharge, Export, Exempt))
	return AsUsual, l.Err()
}

// For is the regime and the rate of a sale under a treatment: where no tax is charged, prices are net and the rate
// is nothing with the category and the reason that documents name. Who is not registered charges none anyway.
func (g Regime) For(t Treatment, usual Rate) (Regime, Rate) {
	if !g.Registered || t == AsUsual {
		return g, usual
	}
	g.GrossPrices = false
	none := Rate{Code: string(t), Name: "Tax", Percent: decimal.Zero}
	switch t {
	case ReverseCharge:
		none.Category, none.Reason = "AE", cmp.Or(g.Wording.Reverse, "Reverse charge")
	case Export:
		none.Category, none.Reason = "G", cmp.Or(g.Wording.Export, "Export outside the tax area")
	default:
		none.Category, none.Reason = "E", cmp.Or(g.Wording.Exempt, "Exempt from tax")
	}
	return g, none
}
