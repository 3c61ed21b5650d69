package artwork

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"golang.org/x/image/colornames"
)

// paint is what of the styling is handed down from group to shape.
type paint struct {
	fill    string // "#rrggbb", or empty
	filled  bool
	evenOdd bool
	hidden  bool
}

// black is how a shape looks that says nothing about itself.
var black = paint{fill: "#000000", filled: true}

// under is the paint of an element within what has this paint.
func (p paint) under(own properties) paint {
	switch v := strings.ToLower(own["fill"].value); v {
	case "", "inherit":
	case "none", "transparent":
		p.fill, p.filled = "", false
	default:
		p.fill, p.filled = colour(v), true
	}
	switch own["fill-rule"].value {
	case "evenodd":
		p.evenOdd = true
	case "nonzero":
		p.evenOdd = false
	}
	switch own["visibility"].value {
	case "hidden", "collapse":
		p.hidden = true
	case "visible":
		p.hidden = false
	}
	return p
}

var (
	hexColour = regexp.MustCompile(`^#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})$`)
	rgbColour = regexp.MustCompile(`^rgba?\(\s*([0-9.]+)(%?)[\s,]+([0-9.]+)(%?)[\s,]+([0-9.]+)(%?)\s*(?:[,/][^)]*)?\)$`)
)

// colour is a plain colour in lower case as "#rrggbb", without how much shows through; empty for gradients and
// what else is no plain colour.
func colour(v string) string {
	if hexColour.MatchString(v) {
		if len(v) < 6 {
			return "#" + strings.Repeat(v[1:2], 2) + strings.Repeat(v[2:3], 2) + strings.Repeat(v[3:4], 2)
		}
		return v[:7]
	}
	if m := rgbColour.FindStringSubmatch(v); m != nil {
		return "#" + level(m[1], m[2]) + level(m[3], m[4]) + level(m[5], m[6])
	}
	if c, named := colornames.Map[v]; named {
		return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
	}
	return ""
}

// level is one part of a colour, of 255 or in percent, as two digits.
func level(number, percent string) string {
	v, _ := strconv.ParseFloat(number, 64)
	if percent != "" {
		v = v * 255 / 100
	}
	return fmt.Sprintf("%02x", int(math.Round(min(255, v))))
}
