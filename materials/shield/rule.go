package shield

import (
	"fmt"
	"math"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// Rule is a game's size rule, as stated by an edition: data that the workshop keeps. A limit of zero is not asked
// for.
type Rule struct {
	Code, Name, Edition string
	Measured            string          // AlongCurve, StraightAcross or Flat
	Width, Height       measure.Length  // must fit this rectangle, either way round and at any turn
	Circle              measure.Length  // must fit this circle
	Either              bool            // rectangle or circle is enough
	Area                decimal.Decimal // m² at most
	Side                measure.Length  // no side of the upright box is longer
	MinFace             measure.Length  // no side of the upright box is shorter
	Thickness           measure.Length  // at least
	Weight              decimal.Decimal // kg at most
}

// The answers a rule check can give.
const (
	Fits        = "fits"
	TooBig      = "too big"
	TooSmall    = "too small"
	TooThin     = "too thin"
	TooHeavy    = "too heavy"
	UnknownRule = "unknown rule"
	NoRule      = "no rule stated"
	OnlyIf      = "fits only if measured " // and how: it fits by another measure than the rule's
)

// Verdict is the answer: which measure decided and with how much to spare. Whoever says it in words adds that the
// event's own check decides.
type Verdict struct {
	Rule, Edition string
	Answer        string  // one of the answers; after OnlyIf, how it would have to be measured
	By            string  // the deciding measure: rectangle, circle, area, side, face, thickness or weight
	Measured      string  // how
	Margin        float64 // mm to spare (kg by weight); below zero it breaks the rule by so much
	Largest       string  // when too big: the largest size of the same shape that fits
}

// limit is one limit of a rule and the room there is to it.
type limit struct {
	by     string
	margin float64
	broken string // the answer when there is none
}

// Judge holds the finished shield, edge strip and coats added, against a rule; the rule is nil when the one that
// was stated is not known. mass is the estimated weight in kg.
func (s Shield) Judge(rule *Rule, mass decimal.Decimal) Verdict {
	switch {
	case s.Spec.Rule == "":
		return Verdict{Answer: NoRule}
	case rule == nil:
		return Verdict{Rule: s.Spec.Rule, Answer: UnknownRule}
	}
	v := Verdict{Rule: rule.Name, Edition: rule.Edition, Measured: rule.Measured, Answer: Fits, By: "nothing", Margin: math.Inf(1)}
	if rule.Weight.IsPositive() && mass.GreaterThan(rule.Weight) {
		v.Answer, v.By, v.Margin = TooHeavy, "weight", rule.Weight.Sub(mass).InexactFloat64()
		return v
	}
	least := tightest(s.limits(*rule, s.seen(rule.Measured), 1))
	if least == nil {
		return v
	}
	v.By, v.Margin = least.by, least.margin
	if least.margin >= 0 {
		return v
	}
	v.Answer = least.broken
	if least.broken != TooBig {
		return v
	}
	for _, other := range []string{StraightAcross, AlongCurve, Flat} {
		if l := tightest(s.limits(*rule, s.seen(other), 1)); l.margin >= 0 {
			v.Answer = OnlyIf + other
			return v
		}
	}
	v.Largest = s.largest(*rule)
	return v
}

// limits are the rule's limits on an outline, with the room to each in mm; scale is for asking what would fit.
func (s Shield) limits(rule Rule, pts []geom.Point, scale float64) []limit {
	scaled := make(geom.Ring, len(pts))
	for i, p := range pts {
		scaled[i] = geom.Point{X: p.X * scale, Y: p.Y * scale}
	}
	// A rectangle or circle round an outline grows by the strip and the coats on every side, whatever its shape.
	grow := 2 * (s.Strip + float64(s.coats())*s.Bench.CoatThickness.MM())
	var all []limit
	if size := rule.size(scaled, grow); size != nil {
		all = append(all, *size)
	}
	box := scaled.Bounds()
	w, h := box.Width()+grow, box.Height()+grow
	if rule.Area.IsPositive() {
		area := math.Abs(scaled.Area()) + scaled.Length()*grow/2 + math.Pi*grow*grow/4
		// In mm: how much wider the same shape could be.
		all = append(all, limit{"area", (math.Sqrt(rule.Area.InexactFloat64()*1e6/area) - 1) * w, TooBig})
	}
	if rule.Side > 0 {
		all = append(all, limit{"longest side", rule.Side.MM() - math.Max(w, h), TooBig})
	}
	if rule.MinFace > 0 {
		all = append(all, limit{"face", math.Min(w, h) - rule.MinFace.MM(), TooSmall})
	}
	if rule.Thickness > 0 {
		all = append(all, limit{"thickness", s.Total - rule.Thickness.MM(), TooThin})
	}
	return all
}

// size is the limit of rectangle and circle together: both must hold, or one of them where either is enough.
func (r Rule) size(ring geom.Ring, grow float64) *limit {
	var box, circle *limit
	if r.Width > 0 && r.Height > 0 {
		margin, _ := geom.FitsRectangle(ring, r.Width.MM()-grow, r.Height.MM()-grow)
		box = &limit{"rectangle", margin, TooBig}
	}
	if r.Circle > 0 {
		circle = &limit{"circle", r.Circle.MM() - grow - 2*geom.EnclosingCircle(ring).Radius, TooBig}
	}
	switch {
	case box == nil:
		return circle
	case circle == nil, (box.margin >= circle.margin) == r.Either:
		return box
	}
	return circle
}

// tightest is the limit with the least room; nil without any. While all hold, only those of size count: nobody asks
// how much thicker than needed a shield is.
func tightest(all []limit) *limit {
	var least *limit
	for i, l := range all {
		loose := l.margin >= 0 && l.broken != TooBig
		switch {
		case least == nil:
		case loose && least.margin >= 0 && least.broken == TooBig:
			continue
		case least.margin >= 0 && least.broken != TooBig && !loose:
		case l.margin >= least.margin:
			continue
		}
		least = &all[i]
	}
	return least
}

// seen is the outline as it measures: the template along the curve and flat, its shadow straight across.
func (s Shield) seen(measured string) []geom.Point {
	pts := s.Flat.Points()
	if measured != StraightAcross || s.Curve == nil {
		return pts
	}
	out := make([]geom.Point, len(pts))
	bow, half := s.Curve.Released, s.Box.Width()/2
	front := bow.Radius + s.Curve.Thickness/2
	for i, p := range pts {
		out[i] = geom.Point{X: front * math.Sin(p.X/half*bow.Angle/2), Y: p.Y}
	}
	return out
}

func (s Shield) coats() int { return s.Spec.Coat.Coats + s.Spec.ClearCoats }

// largest is the size of the same shape that just fits, found by halving.
func (s Shield) largest(rule Rule) string {
	pts := s.seen(rule.Measured)
	low, high := 0.0, 1.0
	for range 40 {
		mid := (low + high) / 2
		fits := true
		for _, l := range s.limits(rule, pts, mid) {
			fits = fits && (l.margin >= 0 || l.broken != TooBig)
		}
		if fits {
			low = mid
		} else {
			high = mid
		}
	}
	return fmt.Sprintf("%.0f × %.0f mm", math.Floor(s.Box.Width()*low), math.Floor(s.Box.Height()*low))
}

// Short is the answer in a few words, for beside the drawing; empty when no rule was stated.
func (v Verdict) Short() string {
	switch v.Answer {
	case NoRule:
		return ""
	case UnknownRule:
		return "Unknown size rule"
	case Fits:
		if math.IsInf(v.Margin, 1) {
			return "Fits " + v.Rule
		}
		return fmt.Sprintf("Fits %s with %.0f mm to spare", v.Rule, math.Floor(v.Margin))
	case TooBig:
		return fmt.Sprintf("Too big for %s by %.0f mm", v.Rule, math.Ceil(-v.Margin))
	case TooThin, TooSmall, TooHeavy:
		return strings.ToUpper(v.Answer[:1]) + v.Answer[1:] + " for " + v.Rule
	}
	return v.Rule + ": " + v.Answer
}
