package artwork

import (
	"regexp"
	"strconv"
	"strings"
)

var (
	number   = regexp.MustCompile(`^[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?`)
	function = regexp.MustCompile(`^([A-Za-z]+)\s*\(([^()]*)\)[\s,]*`)
)

// hugest bounds every number of a file, in whatever unit.
const hugest = 1e9

// cutNumber takes a number off the front of a text. What is no number, or huge, is left there.
func cutNumber(s string) (v float64, rest string, ok bool) {
	n := number.FindString(s)
	v, err := strconv.ParseFloat(n, 64)
	if err != nil || v < -hugest || v > hugest {
		return 0, s, false
	}
	return v, s[len(n):], true
}

// numbers reads a list separated by white space and at most one comma each.
func numbers(s string) (list []float64, ok bool) {
	s = strings.TrimSpace(s)
	for comma := false; s != "" || comma; s = strings.TrimSpace(s) {
		v, rest, ok := cutNumber(s)
		if !ok {
			return nil, false
		}
		list = append(list, v)
		s, comma = strings.CutPrefix(strings.TrimSpace(rest), ",")
	}
	return list, true
}

// px is how many px a unit is, by CSS: 96 to the inch. False for what is no unit or depends on a font.
func px(unit string) (float64, bool) {
	switch strings.ToLower(unit) {
	case "", "px":
		return 1, true
	case "in":
		return 96, true
	case "cm":
		return 96 / 2.54, true
	case "mm":
		return 96 / 25.4, true
	case "q":
		return 96 / 101.6, true
	case "pt":
		return 96. / 72, true
	case "pc":
		return 16, true
	}
	return 0, false
}

// physical tells whether a unit is one of the ruler's.
func physical(unit string) bool { return unit != "" && unit != "%" && !strings.EqualFold(unit, "px") }
