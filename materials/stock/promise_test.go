package stock

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

var noon = time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)

func promised(order, needed, reserved string, firm bool, asked, until int) Promise {
	return Promise{Order: order, Item: "latex", Needed: d(needed), Reserved: d(reserved), Firm: firm, Asked: noon.Add(time.Duration(asked) * time.Hour), Until: noon.Add(time.Duration(until) * time.Hour)}
}

func TestShare(t *testing.T) {
	for name, c := range map[string]struct {
		onHand   string
		promises []Promise
		want     map[string]string
	}{
		"the first who asks has it, the next is short": {"1", []Promise{promised("a", "0.7", "0", false, 0, 9), promised("b", "0.7", "0", false, 1, 9)}, map[string]string{"a": "0.7", "b": "0.3"}},
		"paid comes before held":                       {"1", []Promise{promised("a", "1", "0", false, 0, 9), promised("b", "1", "0", true, 1, 0)}, map[string]string{"a": "0", "b": "1"}},
		"but takes nothing away":                       {"1", []Promise{promised("a", "1", "1", false, 0, 9), promised("b", "1", "0", true, 1, 0)}, map[string]string{"a": "1", "b": "0"}},
		"what lapsed is free":                          {"1", []Promise{promised("a", "1", "1", false, 0, -1), promised("b", "1", "0", false, 1, 9)}, map[string]string{"a": "0", "b": "1"}},
		"less than was set aside: the last give way":   {"1", []Promise{promised("a", "1", "1", true, 0, 0), promised("b", "1", "1", true, 1, 0), promised("c", "1", "1", false, 2, 9)}, map[string]string{"a": "1", "b": "0", "c": "0"}},
	} {
		for _, p := range share(d(c.onHand), c.promises, noon) {
			if !p.Reserved.Equal(d(c.want[p.Order])) {
				t.Errorf("%s: %s has %s, want %s", name, p.Order, p.Reserved, c.want[p.Order])
			}
		}
	}
}

// Nothing is set aside twice, nothing stays free while somebody waits, and sharing again changes nothing.
func TestShareIsComplete(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		litres := func(name string) decimal.Decimal { return decimal.New(rapid.Int64Range(0, 5_000).Draw(t, name), -3) }
		var promises []Promise
		for i := range rapid.IntRange(0, 8).Draw(t, "orders") {
			p := promised(string(rune('a'+i)), "0", "0", rapid.Bool().Draw(t, "firm"), rapid.IntRange(0, 3).Draw(t, "asked"), rapid.IntRange(-2, 2).Draw(t, "until"))
			p.Needed = litres("needed")
			p.Reserved = decimal.Min(litres("reserved"), p.Needed)
			promises = append(promises, p)
		}
		onHand := litres("on hand")
		shared := share(onHand, promises, noon)
		sum, waits := decimal.Zero, false
		for _, p := range shared {
			sum = sum.Add(p.Reserved)
			waits = waits || !p.lapsed(noon) && p.Short().IsPositive()
			if p.Reserved.IsNegative() || p.Short().IsNegative() || p.lapsed(noon) && !p.Reserved.IsZero() {
				t.Fatalf("%+v", p)
			}
		}
		if sum.GreaterThan(onHand) || waits && !sum.Equal(onHand) {
			t.Fatalf("%s set aside of %s, somebody waits: %t", sum, onHand, waits)
		}
		for i, p := range share(onHand, shared, noon) {
			if !same(p, shared[i]) {
				t.Fatalf("shared again: %+v, was %+v", p, shared[i])
			}
		}
	})
}
