package workshop_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/workshop"
)

// Common practice, no source: 36 000 a year over 46 weeks of 40 hours, of which 65 % are sold, is 30.10 an hour.
func TestShopRate(t *testing.T) {
	r := workshop.Usual().ShopRate
	if r.Year().String() != "36000" || r.Paid().String() != "1840" || !r.Sold().Equal(decimal.NewFromInt(1196)) || r.Hour().String() != "30.1" {
		t.Errorf("%s a year over %s of %s h is %s", r.Year(), r.Sold(), r.Paid(), r.Hour())
	}
	if (workshop.ShopRate{}).Hour().Sign() != 0 {
		t.Error("no hours are sold, and yet each brings something")
	}
	r.Weeks = decimal.Zero
	w := workshop.Usual()
	w.ShopRate = r
	said := false
	for _, p := range fault.ProblemsOf(w.Check()) {
		said = said || p.Field == "shop_rate.weeks"
	}
	if !said {
		t.Error("a year without weeks is kept")
	}
}
