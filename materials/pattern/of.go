package pattern

import (
	"cmp"
	"fmt"

	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// drawn is how closely chains follow a curve, mm.
const drawn = 0.05

// drafting is a set of templates in the making.
type drafting struct {
	shield.Shield
	wanted   Options
	half     bool
	patterns []Pattern
}

// Of is every distinct outline of a shield to be drawn at its true size, in the order of making, then what is only
// measured out. A shield with nothing to draw is a fault.
func Of(s shield.Shield, o Options) ([]Pattern, error) {
	d := drafting{Shield: s, wanted: o}
	steps := []func() error{d.pieces, d.gems, d.free}
	if s.Made() {
		d.half = !o.Whole && mirrored(s.Outline.Polylines(drawn/5))
		steps = append([]func() error{d.core, d.rim, d.carved}, steps...)
	}
	for _, step := range steps {
		if err := step(); err != nil {
			return nil, err
		}
	}
	if len(d.patterns) == 0 {
		return nil, fault.New(fault.Invalid, "There is nothing here to draw at its true size: every part is a plain rectangle or has no outline.")
	}
	d.measured()
	if s.Spec.Quantity > 1 {
		d.patterns[0].Notes = append(d.patterns[0].Notes, fmt.Sprintf("All counts are for one; %d are ordered.", s.Spec.Quantity))
	}
	for i := range d.patterns {
		p := &d.patterns[i]
		p.Set, p.Name, p.Foam = cmp.Or(clean(s.Spec.Name), "Shield"), cmp.Or(clean(p.Name), "part"), clean(p.Foam)
	}
	return d.patterns, nil
}

func (d *drafting) add(p Pattern) { d.patterns = append(d.patterns, p) }

// put adds chains as lines of a class; on a half template what lies left of the centre line is left out.
func (d *drafting) put(p *Pattern, c Class, words string, chains [][]geom.Point) {
	for _, chain := range chains {
		if !d.half {
			p.Lines = append(p.Lines, Line{c, words, chain})
			continue
		}
		for _, piece := range rightHalf(chain) {
			p.Lines = append(p.Lines, Line{c, words, piece})
		}
	}
}

// sized is a template's name, with which half of the whole it is.
func (d *drafting) sized(name string) string {
	if d.half {
		return name + ", half"
	}
	return name
}

// chains are the borders of a region as closed chains.
func chains(r geom.Region) [][]geom.Point {
	var all [][]geom.Point
	closed := func(g geom.Ring) { all = append(all, append(g[:len(g):len(g)], g[0])) }
	for _, s := range r {
		closed(s.Outer)
		for _, h := range s.Holes {
			closed(h)
		}
	}
	return all
}
