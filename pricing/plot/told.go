package plot

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// mostTold is how many values of a series are told in words; a page has the rest in its table.
const mostTold = 12

// told is a chart in words: series by series, each value with its label and its interval.
func told(c Chart) string {
	var all []string
	for _, series := range c.Series {
		var list []string
		for i, p := range series.Points {
			if i == mostTold {
				list = append(list, fmt.Sprintf("and %d more", len(series.Points)-mostTold))
				break
			}
			list = append(list, c.tell(p))
		}
		words := strings.Join(list, ", ")
		switch {
		case words == "":
			continue
		case series.Name != "":
			words = series.Name + ": " + words
		}
		all = append(all, words+".")
	}
	if len(all) == 0 {
		return nothing
	}
	return strings.Join(all, " ")
}

func (c Chart) tell(p Point) string {
	words := p.Label
	if words == "" {
		words = c.place(p)
	}
	return words + " " + c.worded(p)
}

// worded is a value with the ends of its interval, so that nobody takes the end of its line for the value.
func (c Chart) worded(p Point) string {
	if !p.Low.Valid || !p.High.Valid {
		return c.value(p.Value)
	}
	return fmt.Sprintf("%s (%s to %s)", c.value(p.Value), c.value(p.Low.Decimal), c.value(p.High.Decimal))
}

// value writes a value, place where a point stands along the other axis.
func (c Chart) value(d decimal.Decimal) string {
	if c.Unit == nil {
		return d.String()
	}
	return c.Unit(d)
}

func (c Chart) place(p Point) string {
	if c.Along == nil {
		return p.At.String()
	}
	return c.Along(p.At)
}
