package shield

import (
	"fmt"
	"math"
	"strings"

	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// Rule is a game's size rule, as stated by an edition. A limit of zero is not asked for.
type Rule struct {
	Code, Name, Edition string
	Measured            string         // AlongCurve, StraightAcross or Flat
	Width, Height       measure.Length // must fit this rectangle, either way round and at any turn
	Circle              measure.Length // must fit this circle
	Either              bool           // rectangle or circle is enough
	Thickness           measure.Length // at least
}

// The answers a rule check can give.
const (
	Fits        = "fits"
	TooBig      = "too big"
	TooThin     = "too thin"
	UnknownRule = "unknown rule"
	NoRule      = "no rule stated"
)

// Verdict is the answer: which measure decided and with how much to spare. It never says that a shield is
// safe or will be passed: the event's own check decides.
type Verdict struct {
	Rule, Edition string
	Answer        string  // one of the answers, or "fits only if measured …"
	By            string  // the deciding measure: "rectangle", "circle" or "thickness"
	Measured      string  // how
	Margin        float64 // mm to spare; below zero too big or too thin by so much
	Largest       string  // when too big: the largest size of the same shape that fits
}

// judge holds the finished shield (edge strip and coats added) against a rule.
func judge(s *Shield, rule *Rule) Verdict {
	switch {
	case s.Spec.Rule == "":
		return Verdict{Answer: NoRule}
	case rule == nil:
		return Verdict{Rule: s.Spec.Rule, Answer: UnknownRule}
	}
	v := Verdict{Rule: rule.Name, Edition: rule.Edition, Measured: rule.Measured, Answer: Fits, By: "thickness", Margin: math.Inf(1)}
	if rule.Thickness > 0 {
		v.Margin = s.Total - rule.Thickness.MM()
		if v.Margin < 0 {
			v.Answer = TooThin
			return v
		}
	}
	if !rule.limitsSize() {
		return v
	}
	// An upright rectangle or circle grows by the strip and the coats on every side, whatever the outline.
	grow := 2 * (s.Strip + float64(s.coats())*s.Bench.CoatThickness.MM())
	size, by := rule.spare(s.seen(rule.Measured), grow)
	v.Margin, v.By = size, by
	if size >= 0 {
		return v
	}
	for _, other := range []string{StraightAcross, AlongCurve, Flat} {
		if margin, _ := rule.spare(s.seen(other), grow); margin >= 0 && other != rule.Measured {
			v.Answer = "fits only if measured " + other
			return v
		}
	}
	v.Answer, v.Largest = TooBig, s.largest(*rule, grow)
	return v
}

func (r Rule) limitsSize() bool { return r.Width > 0 && r.Height > 0 || r.Circle > 0 }

// spare is the room to spare in mm, and which limit decides.
func (r Rule) spare(pts []geom.Point, grow float64) (float64, string) {
	box, circle := math.Inf(1), math.Inf(1)
	if r.Width > 0 && r.Height > 0 {
		box, _ = geom.FitsRectangle(pts, r.Width.MM()-grow, r.Height.MM()-grow)
	}
	if r.Circle > 0 {
		circle = r.Circle.MM() - grow - 2*geom.EnclosingCircle(pts).Radius
	}
	boxDecides := box <= circle
	if r.Either {
		boxDecides = math.IsInf(circle, 1) || !math.IsInf(box, 1) && box >= circle
	}
	if boxDecides {
		return box, "rectangle"
	}
	return circle, "circle"
}

// seen is the outline as it measures: the template along the curve and flat, its shadow straight across.
func (s *Shield) seen(measured string) []geom.Point {
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

func (s *Shield) coats() int { return s.Spec.Coat.Coats + s.Spec.ClearCoats }

// largest is the size of the same shape that just fits, found by halving.
func (s *Shield) largest(rule Rule, grow float64) string {
	pts := s.seen(rule.Measured)
	low, high := 0.0, 1.0
	for range 40 {
		mid := (low + high) / 2
		scaled := make([]geom.Point, len(pts))
		for i, p := range pts {
			scaled[i] = geom.Point{X: p.X * mid, Y: p.Y * mid}
		}
		if spare, _ := rule.spare(scaled, grow); spare >= 0 {
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
		return fmt.Sprintf("Fits %s with %.0f mm to spare", v.Rule, math.Floor(v.Margin))
	case TooBig:
		return fmt.Sprintf("Too big for %s by %.0f mm", v.Rule, math.Ceil(-v.Margin))
	case TooThin:
		return fmt.Sprintf("Too thin for %s", v.Rule)
	}
	return v.Rule + ": " + v.Answer
}

// Sentence is the answer in words.
func (v Verdict) Sentence() string {
	name := strings.TrimSpace(v.Rule + " " + v.Edition)
	check := " The event's own check decides."
	switch v.Answer {
	case NoRule:
		return "No size rule was stated." + check
	case UnknownRule:
		return fmt.Sprintf("The size rule %q is not known here.", v.Rule) + check
	case TooBig:
		return fmt.Sprintf("Too big for %s by %.0f mm (%s, %s). The largest of this shape that fits is %s.", name, math.Ceil(-v.Margin), v.By, v.Measured, v.Largest) + check
	case TooThin:
		return fmt.Sprintf("Too thin for %s by %.1f mm.", name, -v.Margin) + check
	case Fits:
		return fmt.Sprintf("Built to %s as stated: fits with %.0f mm to spare (%s, %s).", name, math.Floor(v.Margin), v.By, v.Measured) + check
	}
	return fmt.Sprintf("%s: %s; %s it is too big by %.0f mm.", name, v.Answer, v.Measured, math.Ceil(-v.Margin)) + check
}
