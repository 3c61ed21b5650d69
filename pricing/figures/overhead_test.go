package figures_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/figures"
	"foamwright/pricing/money"
)

func usd(s string) money.Amount { return money.Round(dec(s), "USD") }

func is(t *testing.T, what string, got money.Amount, want string) {
	t.Helper()
	if !got.Equal(usd(want)) {
		t.Errorf("%s is %s, want %s", what, got, want)
	}
}

// Figures of OpenStax, Principles of Accounting vol. 2, ch. 4.4 to 4.6 (CC BY-NC-SA 4.0; figures only). The answers to the
// exercises are worked out from their figures. The pages spread fixed costs by the same type.
func TestOverheadOfTheBook(t *testing.T) {
	costs := money.Sum("USD", usd("5000"), usd("20000"), usd("75000"), usd("90000"), usd("35000"), usd("25000"))
	book := figures.Overhead{Costs: costs, Base: dec("100000")}
	for _, c := range []struct{ costs, base, rate string }{
		{costs.String(), "100000", "2.5"}, {"750000", "60000", "12.5"}, {"750000", "1500000", "0.5"}, {"750000", "100000", "7.5"}, {"900000", "60000", "15"}, {"900000", "30000", "30"},
	} {
		if got := (figures.Overhead{Costs: usd(c.costs), Base: dec(c.base)}).Rate(); !got.Equal(dec(c.rate)) {
			t.Errorf("%s by %s is %s, want %s", c.costs, c.base, got, c.rate)
		}
	}
	sum := func(figures ...string) money.Amount {
		all := money.Sum("USD")
		for _, f := range figures {
			all = all.Add(usd(f))
		}
		return all
	}
	material, labour, overhead := sum("300", "100", "60", "60", "120", "60"), sum("15", "15", "36"), book.Applied(dec("66"))
	is(t, "material", material, "700")
	is(t, "labour", labour, "66")
	is(t, "overhead", overhead, "165")
	is(t, "the job", material.Add(labour).Add(overhead), "931")

	raw := figures.Flow{Begin: usd("2500"), In: usd("10500"), Out: usd("1400")}
	is(t, "raw material", raw.End(), "11600")
	is(t, "used", sum("200", "700", "500"), raw.Out.String())
	added := sum("725", "931", "1025")
	is(t, "put into jobs", added, "2681")
	bench := figures.Flow{Begin: usd("1000"), In: added, Out: usd("2656")}
	is(t, "work at the bench", bench.End(), "1025")
	finished := figures.Flow{Begin: usd("1531"), In: bench.Out, Out: sum("931", "1531")}
	is(t, "sold", finished.Out, "2462")
	is(t, "finished stock", finished.End(), "1725")

	hour := figures.Overhead{Costs: usd("33.50"), Base: decimal.NewFromInt(1)}
	is(t, "under-applied", hour.Over(hour.Applied(dec("6240")), usd("209250")), "-210")
	is(t, "under-applied by wages", book.Over(book.Applied(dec("100000")), usd("256500")), "-6500")

	for _, c := range []struct{ costs, base, of, want string }{{"900000", "60000", "90", "4340"}, {"900000", "30000", "75", "5240"}} {
		is(t, "exercise", sum("1550", "1440").Add(figures.Overhead{Costs: usd(c.costs), Base: dec(c.base)}.Applied(dec(c.of))), c.want)
	}
	twenty := figures.Overhead{Costs: usd("20"), Base: decimal.NewFromInt(1)}
	is(t, "exercise", sum("375", "5313").Add(twenty.Applied(dec("231"))), "10308")
	is(t, "exercise", sum("405", "1955").Add(twenty.Applied(dec("85"))), "4060")
}

// The same, ch. 3.1 and 3.2; the units for a wanted profit are worked out.
func TestBreakEvenOfTheBook(t *testing.T) {
	of := func(price, variable, fixed string) figures.BreakEven {
		return figures.BreakEven{Fixed: usd(fixed), Units: decimal.NewFromInt(1), Net: usd(price), Contribution: usd(price).Sub(usd(variable))}
	}
	e := of("100", "20", "18000")
	if !e.Each().Equal(dec("80")) || !e.Ratio().Equal(dec("0.8")) || !e.Needed(usd("0")).Equal(dec("225")) || !e.Needed(usd("16000")).Equal(dec("425")) {
		t.Errorf("%s of each, ratio %s, %s units, for a profit %s", e.Each(), e.Ratio(), e.Needed(usd("0")), e.Needed(usd("16000")))
	}
	is(t, "sales to break even", e.NetNeeded(usd("0")), "22500")
	is(t, "175 units", e.Profit(dec("175")), "-4000")
	is(t, "300 units", e.Profit(dec("300")), "6000")
	if got := of("35", "20", "3000").Needed(usd("0")); !got.Equal(dec("200")) {
		t.Errorf("%s units, want 200", got)
	}
	if none := of("20", "20", "3000"); none.Reachable() || !none.Needed(usd("0")).IsZero() || none.NetNeeded(usd("0")).Sign() != 0 {
		t.Error("what leaves nothing breaks even")
	}
}
