package shield

import (
	"fmt"
	"math"
	"strings"

	"foamwright/materials/geom"
)

// formed finds the former: by its radius, by its name in the workshop's list, or by the depth that the shield is to
// stand when it is released. False when there is none to be had.
func (m *making) formed() bool {
	c := m.Spec.Core
	switch {
	case c.FormerIs != "":
		return m.ofList(c.FormerIs)
	case c.Depth > 0:
		return m.forDepth(c.Depth.MM())
	}
	m.Former = c.Former.MM()
	return true
}

func (m *making) ofList(name string) bool {
	var names []string
	for _, f := range m.Bench.Formers {
		if strings.EqualFold(f.Name, name) {
			m.Former, m.FormerStands = f.Radius.MM(), true
			return true
		}
		names = append(names, f.Name)
	}
	has := "It has none: give a radius."
	if len(names) > 0 {
		has = "It has " + strings.Join(names, ", ") + "."
	}
	m.problems.Add("core.former", name, "The workshop has no former of that name. "+has)
	return false
}

// forDepth halves towards the radius at which the released shield stands as deep as asked: the larger the radius,
// the flatter it is.
func (m *making) forDepth(asked float64) bool {
	width, err := m.Spec.Outline.width()
	if m.fail(m.Spec.Outline.field(), err) {
		return false
	}
	thickness := 0.0
	for _, t := range m.bent {
		thickness += t
	}
	deep := func(former float64) float64 {
		w := width
		if m.Spec.Outline.WidthIs == StraightAcross {
			if w, err = templateFor(width, former, m.bent, m.perLayer(), m.calibration()); err != nil {
				return math.Inf(1)
			}
		}
		c, err := bend(w, former, m.bent, m.perLayer(), m.calibration())
		if err != nil {
			return math.Inf(1)
		}
		return c.Released.Depth
	}
	tight, wide := 20*thickest(m.bent), 100_000.0
	for deep(tight) > 1e9 && tight < wide { // more than half a turn
		tight *= 1.05
	}
	if most := deep(tight); asked > most || asked <= thickness+1 {
		m.problems.Add("core.depth", m.Spec.Core.Depth.String(), fmt.Sprintf("It can stand from %.0f to %.0f mm deep.", math.Ceil(thickness+1), math.Floor(most)))
		return false
	}
	for range 60 {
		if mid := (tight + wide) / 2; deep(mid) > asked {
			tight = mid
		} else {
			wide = mid
		}
	}
	m.Former = wide
	return true
}

func (m *making) perLayer() bool       { return m.Spec.Core.Templates == "per layer" }
func (m *making) calibration() float64 { return m.Bench.calibration(m.Spec.Core.Set) }

// free cuts the parts that are the spec's own.
func (m *making) free() {
	for i, p := range m.Spec.Parts {
		field := fmt.Sprintf("parts.%d", i)
		foam := m.foam(field+".foam", p.Foam)
		path, err := geom.Path(nil), error(nil)
		if p.D != "" {
			path, err = geom.ParsePath(p.D)
		} else {
			path, err = geom.Rectangle(p.Width.MM(), p.Height.MM(), 0)
		}
		region, err := polygons(path, err)
		if m.fail(field+".d", err) {
			continue
		}
		m.Free = append(m.Free, Placed{
			Name: p.Name, Colour: p.Colour, Foam: foam, Region: region, Area: path.Area(), Perimeter: path.Length(),
			Layers: p.Layers, Count: p.Count, Prep: "keyed", Loose: p.Loose,
		})
		for _, shape := range region {
			one := geom.Region{shape}
			m.laid(field+".d", one, foam)
			m.Parts = append(m.Parts, Part{
				Kind: PiecePart, Label: p.Name, Foam: p.Foam, Shape: shape, Net: one.Area(), CutLength: one.Length(),
				Count: p.Count * p.Layers, Mirror: !foam.Textured,
			})
		}
	}
}
