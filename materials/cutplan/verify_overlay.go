package cutplan

import (
	"fmt"
	"math"

	sf "github.com/peterstace/simplefeatures/geom"
)

// inside holds every piece against its sheet: nothing of it outside, and the margin kept from every edge.
func (v *verifier) inside() error {
	for i, o := range v.plan.Sheets {
		sheet, err := polygon(v.job.Sheets[o.Sheet].outline())
		if err != nil {
			return fmt.Errorf("sheet %q: %w", v.job.Sheets[o.Sheet].Label, err)
		}
		for _, l := range v.on[i] {
			if err := within(l.shape, sheet); err != nil {
				return fmt.Errorf("%s on sheet %d: %w", l.name, i, err)
			}
			if d, _ := sf.Distance(l.shape, sheet.Boundary()); !l.seated && v.job.Margin > 0 && d < v.job.Margin-Tolerance {
				return fmt.Errorf("%s on sheet %d is %.7g mm from the edge, the margin is %g", l.name, i, d, v.job.Margin)
			}
		}
	}
	return nil
}

// apart holds the pieces of each sheet against each other.
func (v *verifier) apart() error {
	for i, on := range v.on {
		for k, a := range on {
			for _, b := range on[:k] {
				if d, ok := a.shape.Envelope().Distance(b.shape.Envelope()); ok && d > v.job.Spacing {
					continue
				}
				if err := disjoint(a.shape, b.shape); err != nil {
					return fmt.Errorf("%s and %s on sheet %d: %w", a.name, b.name, i, err)
				}
				if d, _ := sf.Distance(a.shape, b.shape); d < v.job.Spacing-Tolerance {
					return fmt.Errorf("%s and %s on sheet %d are %.7g mm apart, the spacing is %g", a.name, b.name, i, d, v.job.Spacing)
				}
			}
		}
	}
	return nil
}

// offcuts holds each kept offcut against its sheet, the pieces on it and the other offcuts.
func (v *verifier) offcuts() error {
	kept := make([][]sf.Geometry, len(v.plan.Sheets))
	for i, c := range v.plan.Offcuts {
		if c.Sheet < 0 || c.Sheet >= len(v.plan.Sheets) {
			return fmt.Errorf("offcut %d is of sheet %d, which is not opened", i, c.Sheet)
		}
		shape, err := polygon(c.Shape)
		if err != nil {
			return fmt.Errorf("offcut %d: %w", i, err)
		}
		if math.Abs(shape.Area()-c.Area) > Tolerance*around(shape) {
			return fmt.Errorf("offcut %d has %.7g mm², the plan says %.7g", i, shape.Area(), c.Area)
		}
		if box := shape.Envelope(); !v.job.Keep.Keeps(box.Width(), box.Height(), shape.Area()) {
			return fmt.Errorf("offcut %d, %.7g × %.7g mm, is not worth keeping", i, box.Width(), box.Height())
		}
		sheet, err := polygon(v.job.Sheets[v.plan.Sheets[c.Sheet].Sheet].outline())
		if err != nil {
			return err
		}
		if err := within(shape, sheet); err != nil {
			return fmt.Errorf("offcut %d: %w", i, err)
		}
		for _, l := range v.on[c.Sheet] {
			if err := disjoint(shape, l.shape); err != nil {
				return fmt.Errorf("offcut %d and %s: %w", i, l.name, err)
			}
			if d, _ := sf.Distance(shape, l.shape); d < v.job.Spacing-Tolerance {
				return fmt.Errorf("offcut %d is %.7g mm from %s, the spacing is %g", i, d, l.name, v.job.Spacing)
			}
		}
		for k, other := range kept[c.Sheet] {
			if err := disjoint(shape, other); err != nil {
				return fmt.Errorf("offcuts %d and %d of sheet %d: %w", k, i, c.Sheet, err)
			}
		}
		kept[c.Sheet] = append(kept[c.Sheet], shape)
	}
	return nil
}
