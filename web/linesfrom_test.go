package web

import (
	"fmt"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials/stock"
	"foamwright/pricing/money"
)

// Page after page every line comes once, in its order, and each page's sums are those of its lines.
func TestBuyingIsReadInPages(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var list []stock.ToBuy
		var want []string
		for s := range rapid.IntRange(0, 5).Draw(r, "suppliers") {
			b := stock.ToBuy{Supplier: stock.Supplier{ID: fmt.Sprint(s)}}
			for l := range rapid.IntRange(1, 7).Draw(r, "lines") {
				cost := money.Round(decimal.NewFromInt(int64(l+1)), "EUR")
				line := stock.BuyLine{Cost: cost}
				line.Want.Item.Code = fmt.Sprintf("%d-%d", s, l)
				want = append(want, line.Want.Item.Code)
				b.Lines, b.Cost = append(b.Lines, line), b.Cost.Add(cost)
			}
			list = append(list, b)
		}
		most := rapid.IntRange(1, 9).Draw(r, "most")
		var got []string
		for from, pages := 0, 0; ; pages++ {
			part, next := linesFrom(list, from, most)
			for _, b := range part {
				sum := money.Amount{}
				for _, l := range b.Lines {
					got, sum = append(got, l.Want.Item.Code), sum.Add(l.Cost)
				}
				if sum.Cmp(b.Cost) != 0 {
					r.Fatalf("%s is not the sum of %+v", b.Cost, b.Lines)
				}
			}
			if next == 0 {
				break
			}
			if from = next; pages > len(want) || len(got) != next {
				r.Fatalf("page %d begins at %d after %v", pages, next, got)
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			r.Fatalf("%v, want %v", got, want)
		}
	})
}
