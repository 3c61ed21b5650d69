package figures

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Grouping is all quotes by one thing.
type Grouping struct {
	Key, Name string
	Rows      []Grouped
	of        func(Offered) string // the key of a quote's row
}

// Grouped is one row of a grouping.
type Grouped struct {
	Key, Name string
	Tally
}

// Says tells whether its rows differ at all: of the pair furthest apart, whether more than chance is between them.
func (g Grouping) Says() string {
	var rows []Grouped
	for _, r := range g.Rows {
		if r.Enough() {
			rows = append(rows, r)
		}
	}
	if len(rows) < 2 {
		return "Too few have ended to hold these against each other."
	}
	var above []string
	for _, a := range rows {
		for _, b := range rows {
			if a.Rate().Above(b.Rate()) {
				above = append(above, fmt.Sprintf("“%s” wins more often than “%s”", a.Name, b.Name))
			}
		}
	}
	if len(above) == 0 {
		return "No difference can be told: each of these rates may be the same, and chance does the rest."
	}
	return strings.Join(above, "; ") + "."
}

// Reason is what quotes were declined for.
type Reason struct {
	Key    string // without case and spaces; empty for none given
	Said   string // as it was written first
	Quotes int
	Share  Rate // of those that were declined
}

// Name is what was said.
func (r Reason) Name() string { return cmp.Or(r.Said, "No reason given") }

// reasonsKey is what reasons are asked for by, as a grouping.
const reasonsKey = "reason"

func reasons(quotes []Offered) (all []Reason) {
	at, declined := map[string]int{}, 0
	for _, q := range quotes {
		if q.Outcome != Lost {
			continue
		}
		declined++
		key := wording(q.Reason)
		i, known := at[key]
		if !known {
			i, at[key] = len(all), len(all)
			all = append(all, Reason{Key: key, Said: strings.Join(strings.Fields(q.Reason), " ")})
		}
		all[i].Quotes++
	}
	for i := range all {
		all[i].Share = RateOf(all[i].Quotes, declined)
	}
	slices.SortStableFunc(all, func(a, b Reason) int { return cmp.Or(b.Quotes-a.Quotes, cmp.Compare(a.Key, b.Key)) })
	return all
}

// groupings are all there are.
func groupings(quotes []Offered) []Grouping {
	named := map[string]string{}
	for _, q := range quotes {
		named[q.Design] = cmp.Or(q.DesignName, "Begun without a design")
	}
	designs := grouped(quotes, Grouping{Key: "design", Name: "Design", of: func(q Offered) string { return cmp.Or(q.Design, "none") }},
		func(key string) string { return named[strings.TrimPrefix(key, "none")] })
	slices.SortStableFunc(designs.Rows, func(a, b Grouped) int {
		return cmp.Or(b.All()-a.All(), cmp.Compare(a.Name, b.Name), cmp.Compare(a.Key, b.Key))
	})
	return []Grouping{byPrice(quotes), byHaste(quotes), designs, byCustomer(quotes)}
}

// byHaste groups by the days from the enquiry, or the draft's beginning, to the first version that was sent.
func byHaste(quotes []Offered) Grouping {
	names := []string{"the same day", "1 to 3 days", "4 to 7 days", "longer"}
	return grouped(quotes, Grouping{Key: "response", Name: "Sent after", of: func(q Offered) string {
		n, class := days(q.Asked, q.First), 0
		for class < len(names)-1 && n > []int{0, 3, 7}[class] {
			class++
		}
		return strconv.Itoa(class)
	}}, nameOf(names))
}

func byCustomer(quotes []Offered) Grouping {
	return grouped(quotes, Grouping{Key: "customer", Name: "Customer", of: func(q Offered) string {
		return map[bool]string{false: "0", true: "1"}[q.Before]
	}}, nameOf([]string{"first order", "ordered before"}))
}

// byPrice groups by price with tax, in bands with about as many quotes each.
func byPrice(quotes []Offered) Grouping {
	prices, currency := make([]decimal.Decimal, len(quotes)), money.Currency("")
	for i, q := range quotes {
		prices[i], currency = q.Gross.Decimal(), q.Gross.Currency()
	}
	edges := bands(prices)
	says := func(d decimal.Decimal) string { return words.Price(money.Round(d, currency)) }
	names := []string{"all prices"}
	if len(edges) > 0 {
		names = []string{"under " + says(edges[0])}
		for i, e := range edges[1:] {
			names = append(names, says(edges[i])+" to under "+says(e))
		}
		names = append(names, says(edges[len(edges)-1])+" and more")
	}
	return grouped(quotes, Grouping{Key: "price", Name: "Price", of: func(q Offered) string {
		at := 0
		for at < len(edges) && q.Gross.Decimal().GreaterThanOrEqual(edges[at]) {
			at++
		}
		return strconv.Itoa(at)
	}}, nameOf(names))
}

// bands are the edges that part prices into thirds, as round numbers of two figures; fewer where prices lie too close
// for that. None of the bands is empty.
func bands(prices []decimal.Decimal) (edges []decimal.Decimal) {
	sorted := slices.SortedFunc(slices.Values(prices), decimal.Decimal.Cmp)
	below := func(edge decimal.Decimal) int {
		at, _ := slices.BinarySearchFunc(sorted, edge, decimal.Decimal.Cmp)
		return at
	}
	done := 0
	for _, nth := range []int{len(sorted) / 3, 2 * len(sorted) / 3} {
		if nth == 0 {
			continue
		}
		p := sorted[nth]
		edge := p.Round(int32(2 - len(p.Truncate(0).Abs().String())))
		if at := below(edge); at > done && at < len(sorted) {
			edges, done = append(edges, edge), at
		}
	}
	return edges
}

func nameOf(names []string) func(string) string {
	return func(key string) string {
		i, err := strconv.Atoi(key)
		if err != nil || i >= len(names) {
			return key
		}
		return names[i]
	}
}

// grouped counts quotes into rows, in the order of their keys; a row without quotes is left out.
func grouped(quotes []Offered, g Grouping, name func(string) string) Grouping {
	at := map[string]*Tally{}
	for _, q := range quotes {
		key := g.of(q)
		if at[key] == nil {
			at[key] = new(Tally)
		}
		at[key].count(q.Outcome)
	}
	for key, tally := range at {
		g.Rows = append(g.Rows, Grouped{key, name(key), *tally})
	}
	slices.SortFunc(g.Rows, func(a, b Grouped) int { return cmp.Compare(a.Key, b.Key) })
	return g
}
