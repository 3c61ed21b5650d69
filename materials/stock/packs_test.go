package stock

import (
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func TestCheapest(t *testing.T) {
	tins := []Pack{{d("1"), d("16.00")}, {d("5"), d("62.00")}}
	for _, c := range []struct {
		need  string
		packs []Pack
		want  []int
	}{
		{"0", tins, []int{0, 0}},
		{"0.4", tins, []int{1, 0}},
		{"3.5", tins, []int{0, 1}}, // four small ones would be 64
		{"6", tins, []int{1, 1}},
		{"9", tins, []int{0, 2}},
		{"7", []Pack{{d("1"), d("1")}, {d("10"), d("10")}}, []int{7, 0}},                                                 // the same cost a unit: nothing left over
		{"23", []Pack{{d("1"), d("3.60")}, {d("10"), d("33.00")}}, []int{3, 2}},                                          // 76.80, three packs of ten are 99
		{"9", []Pack{{d("4"), d("4.00")}, {d("7"), d("7.10")}, {d("9"), d("9.90")}}, []int{0, 0, 1}},                     // 9.90 before 3 × 4.00
		{"997", []Pack{{d("1"), d("1")}, {d("7"), d("7")}, {d("50"), d("50")}, {d("100"), d("100")}}, []int{5, 6, 1, 9}}, // of no better value, the fewest
		{"5", nil, []int{}},
	} {
		got := Cheapest(d(c.need), c.packs)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.need, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%s of %v: %v, want %v", c.need, c.packs, got, c.want)
				break
			}
		}
	}
}

// Against every combination there is, for needs small enough to try them all.
func TestCheapestIsCheapest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var packs []Pack
		for range rapid.IntRange(1, 3).Draw(t, "packs") {
			packs = append(packs, Pack{decimal.New(rapid.Int64Range(1, 40).Draw(t, "size"), -1), decimal.New(rapid.Int64Range(1, 900).Draw(t, "price"), -2)})
		}
		need := decimal.New(rapid.Int64Range(1, 120).Draw(t, "need"), -1)
		var best decimal.Decimal
		found := false
		var try func(i int, left, cost decimal.Decimal)
		try = func(i int, left, cost decimal.Decimal) {
			if !left.IsPositive() {
				if !found || cost.LessThan(best) {
					best, found = cost, true
				}
				return
			}
			if i == len(packs) {
				return
			}
			for n := int64(0); ; n++ {
				rest := left.Sub(packs[i].Size.Mul(decimal.NewFromInt(n)))
				try(i+1, rest, cost.Add(packs[i].Price.Mul(decimal.NewFromInt(n))))
				if !rest.IsPositive() {
					return
				}
			}
		}
		try(0, need, decimal.Zero)
		cost, size := decimal.Zero, decimal.Zero
		for i, n := range Cheapest(need, packs) {
			cost = cost.Add(packs[i].Price.Mul(decimal.NewFromInt(int64(n))))
			size = size.Add(packs[i].Size.Mul(decimal.NewFromInt(int64(n))))
		}
		if size.LessThan(need) || !cost.Equal(best) {
			t.Fatalf("%s of %v: covers %s for %s, %s is possible", need, packs, size, cost, best)
		}
	})
}

// A worked exercise as published (jiskha question 566686; figures only): 2 500 a year, 18.75 an order, 1.50 to hold
// one, 250 working days, 2 days until it comes.
func TestEconomicQuantity(t *testing.T) {
	yearly, order, hold := d("2500"), d("18.75"), d("1.50")
	q, err := EconomicQuantity(yearly, order, hold)
	if err != nil || !q.Equal(d("250")) {
		t.Fatalf("%s, %v", q, err)
	}
	orders := yearly.Div(q)
	for what, c := range map[string][2]string{
		"average":  {q.Div(d("2")).String(), "125"},
		"orders":   {orders.String(), "10"},
		"apart":    {d("250").Div(orders).String(), "25"},
		"total":    {orders.Mul(order).Add(q.Div(d("2")).Mul(hold)).String(), "375"},
		"again at": {ReorderPoint(yearly.Div(d("250")), 2, decimal.Zero).String(), "20"},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %s, the exercise says %s", what, c[0], c[1])
		}
	}
	if q, err := EconomicQuantity(decimal.Zero, order, hold); err != nil || !q.IsZero() {
		t.Errorf("nothing used: %s, %v", q, err)
	}
}
