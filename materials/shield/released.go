package shield

import (
	"math"

	"github.com/shopspring/decimal"
)

// Stands is how a finished shield stands, in mm to one place: straight across over its edge strips, and deep from the
// front of the curve to the back of the edge. 0 is not known; a flat shield has no depth.
type Stands struct{ Width, Depth decimal.Decimal }

// Stands is how it is expected to stand when it is made.
func (s Shield) Stands() Stands {
	if s.Curve == nil {
		return Stands{Width: tenth(s.Box.Width() + 2*s.Strip)}
	}
	return s.standing(s.Curve.Released)
}

func (s Shield) standing(b Bow) Stands { return Stands{tenth(s.wide(b)), tenth(b.Depth)} }

// wide is straight across over the edge strips, in mm.
func (s Shield) wide(b Bow) float64 { return b.Chord + 2*s.Strip*math.Cos(b.Angle/2) }

func tenth(mm float64) decimal.Decimal { return decimal.NewFromFloat(mm).Round(1) }

// bowed is the least hollow on the former, in mm, that tells springback from the error of a rule.
const bowed = 15

// ReleaseShown is what a shield that was measured says about the release: the calibration it was reckoned with, and
// the one that would have given what was measured, the depth before the width since it tells more. False where there
// is nothing to tell: flat, hardly bent, not measured, or a release so large that it is held at its limit. A shield
// that did not spring back at all counts as a tenth of what was reckoned, so that it still counts.
func (s Shield) ReleaseShown(measured Stands) (used, shown decimal.Decimal, ok bool) {
	c := s.Curve
	if c == nil || c.Bent.Hollow < bowed || c.Release >= mostRelease || c.Release <= 0 || measured.Width.IsZero() && measured.Depth.IsZero() {
		return used, shown, false
	}
	// Than measured, when so much of the curvature is lost. Not rounded as Stands is: the middle of all that reads as
	// measured is nearest to the truth.
	deep, wide := measured.Depth.InexactFloat64(), measured.Width.InexactFloat64()
	flatter := func(share float64) bool {
		b := c.released(share)
		if deep > 0 {
			return b.Depth < deep
		}
		return s.wide(b) > wide
	}
	low, high := c.Release/10, 0.95
	for range 50 {
		if mid := (low + high) / 2; flatter(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	calibration := s.Bench.calibration(s.Spec.Core.Set)
	return decimal.NewFromFloat(calibration), decimal.NewFromFloat(calibration * low / c.Release).Round(4), true
}

// Release is the calibration of the release for a way of setting, to two places: "heat", else cold.
func (b Bench) Release(set string) decimal.Decimal {
	return decimal.NewFromFloat(b.calibration(set)).Round(2)
}

// WithRelease is the bench with another calibration for a way of setting.
func (b Bench) WithRelease(set string, calibration decimal.Decimal) Bench {
	if set == "heat" {
		b.ReleaseHeat = calibration.InexactFloat64()
	} else {
		b.ReleaseCold = calibration.InexactFloat64()
	}
	return b
}
