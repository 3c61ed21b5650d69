package sales

import (
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing/words"
)

// Judged says how a shield stands to its size rule. It never says that it is safe or will be passed.
func Judged(t words.Tongue, v shield.Verdict) string {
	return judged(t, v) + " " + t.Say("The event's own check decides.")
}

func judged(t words.Tongue, v shield.Verdict) string {
	rule := strings.TrimSpace(v.Rule + " " + v.Edition)
	over := func() string { return t.Length(measure.FromMM(math.Ceil(-v.Margin)), 0) }
	switch v.Answer {
	case shield.NoRule:
		return t.Say("No size rule was stated.")
	case shield.UnknownRule:
		return t.Say("The size rule “%s” is not known here.", v.Rule)
	case shield.TooBig:
		return t.Say("Too big for %s by %s (%s, %s). The largest of this shape that fits is %s.", rule, over(), limit(t, v.By), measured(t, v.Measured), v.Largest)
	case shield.TooThin:
		return t.Say("Too thin for %s by %s.", rule, t.Length(measure.FromMM(-v.Margin), 1))
	case shield.TooSmall:
		return t.Say("Too small for %s by %s (least %s).", rule, over(), limit(t, v.By))
	case shield.TooHeavy:
		return t.Say("About %s kg too heavy for %s.", t.Number(decimal.NewFromFloat(-v.Margin).Round(1)), rule)
	case shield.Fits:
		if math.IsInf(v.Margin, 1) {
			return t.Say("Built to %s as stated.", rule)
		}
		return t.Say("Built to %s as stated: fits with %s to spare (%s, %s).", rule, t.Length(measure.FromMM(math.Floor(v.Margin)), 0), limit(t, v.By), measured(t, v.Measured))
	}
	only := measured(t, strings.TrimPrefix(v.Answer, shield.OnlyIf))
	return t.Say("%s: fits only if measured %s; measured %s it is too big by %s.", rule, only, measured(t, v.Measured), over())
}

// limit names what of a rule decided.
func limit(t words.Tongue, by string) string {
	switch by {
	case "rectangle":
		return t.Say("rectangle")
	case "circle":
		return t.Say("circle")
	case "area":
		return t.Say("area")
	case "longest side":
		return t.Say("longest side")
	case "face":
		return t.Say("face")
	}
	return by
}

// measured says how a width is taken.
func measured(t words.Tongue, how string) string {
	switch how {
	case shield.AlongCurve:
		return t.Say("along the curve")
	case shield.StraightAcross:
		return t.Say("straight across")
	case shield.Flat:
		return t.Say("flat")
	}
	return how
}
