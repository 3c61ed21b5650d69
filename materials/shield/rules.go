package shield

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

// mostRules a workshop keeps.
const mostRules = 60

// CheckRules is nil when shields can be held against a workshop's rules, else a fault with everything that is wrong; its
// fields are the number of a rule and an entry, "0.width".
func CheckRules(rules []Rule) error {
	var l fault.List
	if len(rules) > mostRules {
		l.Add("", strconv.Itoa(len(rules)), fmt.Sprintf("These are too many rules. Keep at most %d.", mostRules))
	}
	codes, named := map[string]bool{}, map[string]bool{}
	for i, r := range rules {
		r.check(&l, strconv.Itoa(i)+".")
		if r.Code == "" || codes[r.Code] {
			l.Add(strconv.Itoa(i)+".code", r.Code, "Each rule has a code of its own.")
		}
		if name := strings.ToLower(r.Name + "\n" + r.Edition); named[name] {
			l.Add(strconv.Itoa(i)+".name", r.Name, "Another rule has this name and edition. Tell them apart.")
		} else {
			named[name] = true
		}
		codes[r.Code] = true
	}
	return l.Err()
}

func (r Rule) check(l *fault.List, at string) {
	for _, t := range [][3]string{{"name", r.Name, "what the rule is called, with the game's name"}, {"edition", r.Edition, "the edition of the rules, or their year"}} {
		if n := utf8.RuneCountInString(t[1]); n == 0 || n > 60 || strings.ContainsFunc(t[1], func(c rune) bool { return c < ' ' }) {
			l.Add(at+t[0], t[1], fmt.Sprintf("Write %s, in up to 60 letters.", t[2]))
		}
	}
	if !slices.Contains([]string{AlongCurve, StraightAcross, Flat}, r.Measured) {
		l.Add(at+"measured", r.Measured, "Choose how the width is measured.")
	}
	asked := 0
	for _, m := range []struct {
		name string
		size measure.Length
	}{{"width", r.Width}, {"height", r.Height}, {"circle", r.Circle}, {"side", r.Side}, {"min_face", r.MinFace}, {"thickness", r.Thickness}} {
		if m.size < 0 || m.size > 5*measure.Metre {
			l.Add(at+m.name, m.size.String(), "Write a length up to 5 m with its unit, for example 60 cm, or nothing.")
		} else if m.size > 0 {
			asked++
		}
	}
	for _, m := range []struct {
		name, unit string
		value      decimal.Decimal
		most       int64
	}{{"area", "m²", r.Area, 10}, {"weight", "kg", r.Weight, 100}} {
		if m.value.IsNegative() || m.value.GreaterThan(decimal.NewFromInt(m.most)) {
			l.Add(at+m.name, m.value.String(), fmt.Sprintf("Write a figure up to %d %s, or nothing.", m.most, m.unit))
		} else if m.value.IsPositive() {
			asked++
		}
	}
	switch {
	case (r.Width > 0) != (r.Height > 0):
		l.Add(at+"height", r.Height.String(), "A rectangle has two sides. Write both or none; one side alone is the longest side.")
	case r.Either && (r.Width == 0 || r.Circle == 0):
		l.Add(at+"circle", r.Circle.String(), "Rectangle or circle: write both, or take the tick out.")
	case r.MinFace > 0 && r.Side > 0 && r.MinFace > r.Side:
		l.Add(at+"min_face", r.MinFace.String(), "The shortest side is over the longest. Write a smaller one.")
	case asked == 0:
		l.Add(at+"width", "", "Write at least one limit: else every shield fits.")
	}
}
