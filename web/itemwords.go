package web

import (
	"html/template"
	"strings"

	"foamwright/materials/stock"
)

// itemWords are what templates say of items.
func itemWords() template.FuncMap {
	return template.FuncMap{
		"at": place, "swatch": swatch, "what": what, "mind": mind,
		"today":   func() string { return iso(today()) },
		"perunit": perUnit,
		"past":    func(o stock.Offer, k int) bool { return k > 0 && o.Prices[k-1].From.Equal(o.Prices[k].From) },
	}
}

// swatch is how a paint is drawn; empty for anything else.
func swatch(i stock.Item) string {
	if i.Liquid == nil {
		return ""
	}
	return i.Liquid.Swatch
}

// what says the measures of an item in a few words.
func what(i stock.Item) string {
	switch {
	case i.Foam != nil:
		return strings.Join([]string{string(i.Foam.Form), i.Foam.Thickness.String(), i.Foam.Width.Decimal().String() + " × " + i.Foam.Height.String()}, ", ")
	case i.Liquid != nil && i.Liquid.Spread.IsPositive():
		return string(i.Liquid.Use) + ", " + i.Liquid.Spread.String() + " l/m² a coat"
	}
	return string(i.Use())
}

// mind is what an item warns of, a word each.
func mind(i stock.Item) []string {
	if i.Liquid == nil {
		return nil
	}
	var words []string
	for _, f := range i.Liquid.Flags {
		words = append(words, string(f))
	}
	return words
}
