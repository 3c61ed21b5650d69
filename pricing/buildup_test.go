package pricing_test

import (
	"encoding/json"
	"os"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

func amount(s string) money.Amount { return money.Round(dec(s), "EUR") }

// Common practice, no published source: the money of the trade's worked job, to the cent.
func TestWorkedJobMoney(t *testing.T) {
	data, err := os.ReadFile("../testdata/worked/heater-job.json")
	if err != nil {
		t.Fatal(err)
	}
	var w struct {
		Hours    decimal.Decimal            `json:"hours"`
		Material map[string]decimal.Decimal `json:"material"`
		Rates    map[string]decimal.Decimal `json:"rates"`
		Price    map[string]decimal.Decimal `json:"price"`
	}
	if err := json.Unmarshal(data, &w); err != nil {
		t.Fatal(err)
	}
	sum := decimal.Zero
	for _, part := range []string{"foam", "liquids", "hardware", "consumables"} {
		sum = sum.Add(w.Material[part])
	}
	rates := pricing.Rates{Currency: "EUR", Hour: w.Rates["hour"], Handling: w.Rates["handling"], Contingency: w.Rates["contingency"], Margin: w.Rates["margin"], Deposit: dec("0.4")}
	b := pricing.Build(pricing.Costs{Material: money.Round(sum, "EUR"), Hours: w.Hours, Quantity: 1}, rates, tax.Regime{Registered: true, Mode: money.HalfUp}, tax.Rate{Name: "Tax", Percent: w.Rates["tax_percent"]})
	for name, got := range map[string]money.Amount{
		"material": b.Material, "handling": b.Handling, "labour": b.Labour, "direct": b.Direct, "cost": b.Cost, "net": b.Net, "tax": b.Tax, "gross": b.Gross,
	} {
		if !got.Decimal().Equal(w.Price[name]) {
			t.Errorf("%s %s, want %s", name, got, w.Price[name])
		}
	}
}

// Common practice, no source: 573.70 is rounded up to 575.00, of which 479.17 net and 95.83 tax; the deposit of
// 40 % is 230.00. A payment fee of 2.9 % and 0.30 on 100.00 makes 103.30 where no tax is charged.
func TestRoundingAndFee(t *testing.T) {
	rate := tax.Rate{Name: "Tax", Percent: dec("20")}
	b := pricing.Build(pricing.Costs{Material: amount("478.08"), Quantity: 1}, pricing.Rates{Currency: "EUR", Step: dec("5"), Deposit: dec("0.4"), DepositHeavy: dec("0.4")},
		tax.Regime{Registered: true, GrossPrices: true, Mode: money.HalfUp}, rate)
	if b.Gross.String() != "575.00" || b.Net.String() != "479.17" || b.Tax.String() != "95.83" || b.Deposit.String() != "230.00" {
		t.Errorf("gross %s net %s tax %s deposit %s", b.Gross, b.Net, b.Tax, b.Deposit)
	}
	b = pricing.Build(pricing.Costs{Material: amount("100"), Quantity: 1}, pricing.Rates{Currency: "EUR", FeeRate: dec("0.029"), FeeFixed: dec("0.30")}, tax.Regime{}, tax.Rate{})
	if b.Gross.String() != "103.30" {
		t.Errorf("with the fee %s", b.Gross)
	}
}

// Whatever the figures, the printed lines add up to the printed sums, and deposit and balance to the price.
func TestSlipAddsUp(t *testing.T) {
	share := func(t *rapid.T, name string, most int) decimal.Decimal {
		return decimal.New(int64(rapid.IntRange(0, most).Draw(t, name)), -3)
	}
	rapid.Check(t, func(t *rapid.T) {
		r := pricing.Rates{
			Currency: "EUR", Hour: share(t, "hour", 90000), Handling: share(t, "handling", 300), Contingency: share(t, "contingency", 300),
			Margin: share(t, "margin", 900), Minimum: share(t, "minimum", 200000), Step: decimal.NewFromInt(int64(rapid.IntRange(0, 5).Draw(t, "step"))),
			FeeRate: share(t, "fee", 60), FeeFixed: share(t, "fixed", 500).Round(2), Deposit: share(t, "deposit", 1000), DepositHeavy: share(t, "heavy", 1000),
		}
		regime := tax.Regime{Registered: rapid.Bool().Draw(t, "registered"), GrossPrices: rapid.Bool().Draw(t, "gross"), Mode: money.HalfUp}
		c := pricing.Costs{
			Material: money.Round(share(t, "material", 900000), "EUR"), Hours: share(t, "hours", 90000).Round(2), Quantity: rapid.IntRange(1, 20).Draw(t, "quantity"),
			Rush: share(t, "rush", 500), Discount: share(t, "discount", 300),
		}
		b := pricing.Build(c, r, regime, tax.Rate{Name: "Tax", Percent: share(t, "tax", 250).Shift(2)})
		sum := money.Amount{}
		for _, l := range b.Lines {
			if !l.Sum {
				sum = sum.Add(l.Amount)
			} else if l.Key != "material" && !sum.Equal(l.Amount) {
				t.Fatalf("%s says %s, the lines above it %s", l.Label, l.Amount, sum)
			} else {
				sum = l.Amount
			}
		}
		if !b.Net.Add(b.Tax).Equal(b.Gross) || !b.Deposit.Add(b.Balance).Equal(b.Gross) || !sum.Equal(b.Gross) {
			t.Fatalf("net %s tax %s gross %s deposit %s balance %s", b.Net, b.Tax, b.Gross, b.Deposit, b.Balance)
		}
	})
}
