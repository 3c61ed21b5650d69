package shield

import (
	"fmt"

	"foamwright/materials/geom"
)

// raised places pieces and gems on the face.
func (m *making) raised() {
	if m.crowded() {
		return
	}
	many := 0
	for i, p := range m.Spec.Pieces {
		field := fmt.Sprintf("pieces.%d", i)
		foam := m.foam(field+".foam", p.Foam)
		path, err := geom.ParsePath(p.D)
		region, err := polygons(path, err)
		if m.fail(field+".d", err) {
			continue
		}
		place := geom.Rotate(p.Turn)
		if p.At != nil {
			place = place.Then(geom.Translate(p.At.X, p.At.Y))
		}
		one := Placed{Name: p.Name, Colour: p.Colour, Foam: foam, Layers: p.Layers, Prep: p.Prep, Area: path.Area(), Perimeter: path.Length()}
		poses := []geom.Matrix{place}
		if p.Mirror {
			poses = append(poses, place.Then(geom.MirrorX()))
		}
		for _, pose := range poses {
			one.Region = region.Transform(pose)
			for range p.Count {
				m.Pieces = append(m.Pieces, one)
			}
			m.warnOutside(p.Name, one.Region)
		}
		if many += corners(region) * p.Count * len(poses); many > mostRaisedCorners {
			m.problems.Add(field+".d", "", fmt.Sprintf("The pieces have more than %d corners together. Draw them with fewer or simpler curves.", mostRaisedCorners))
			return
		}
		for _, shape := range region {
			r := geom.Region{shape}
			m.laid(field+".d", r, foam)
			m.Parts = append(m.Parts, Part{
				Kind: PiecePart, Label: p.Name, Foam: p.Foam, Shape: shape, Net: r.Area(), CutLength: r.Length(),
				Count: p.Count * p.Layers * len(poses), Mirror: p.Mirror || !foam.Textured,
			})
		}
	}
	m.gems()
	m.studs()
}

func (m *making) gems() {
	for i, g := range m.Spec.Gems {
		field := fmt.Sprintf("gems.%d", i)
		foam := m.foam(field+".foam", g.Foam)
		if g.Width.MM() < drawable || g.Height.MM() < drawable {
			m.problems.Add(field+".width", g.Width.String(), "A gem is at least 10 mm either way.")
			continue
		}
		path, err := geom.Ellipse(g.Width.MM(), g.Height.MM())
		if m.fail(field+".width", err) {
			continue
		}
		region := path.Flatten(drawn)
		m.laid(field+".width", region, foam)
		one := Placed{Name: "gem", Colour: g.Colour, Foam: foam, Layers: g.Layers, Prep: g.Prep, Area: path.Area(), Perimeter: path.Length()}
		turned := geom.Translate(0, -g.Height.MM()/2).Then(geom.Rotate(g.Turn))
		for k := range g.Count {
			// Without a place they are spread along the upright axis.
			at := geom.Point{X: m.Box.Min.X + m.Box.Width()/2, Y: m.Box.Height() * float64(k+1) / float64(g.Count+1)}
			if k < len(g.At) {
				at = g.At[k]
			}
			one.Region = region.Transform(turned.Then(geom.Translate(at.X, at.Y)))
			m.Gems = append(m.Gems, one)
			m.warnOutside("gem", one.Region)
		}
		m.Parts = append(m.Parts, Part{
			Kind: GemPart, Label: fmt.Sprintf("gem %.4g × %.4g", g.Width.MM(), g.Height.MM()), Foam: g.Foam, Shape: region[0],
			Net: path.Area(), CutLength: path.Length(), Count: g.Count * g.Layers, Mirror: true,
		})
	}
}

// studs cuts the foam domes.
func (m *making) studs() {
	if m.Spec.Studs == 0 {
		return
	}
	d := m.Bench.Stud.MM()
	path, err := geom.Ellipse(d, d)
	if m.fail("studs", err) {
		return
	}
	m.Parts = append(m.Parts, Part{
		Kind: GemPart, Label: "stud", Foam: m.CoreFoam.Code, Shape: path.Flatten(drawn)[0], Net: path.Area(),
		CutLength: path.Length(), Count: m.Spec.Studs, Mirror: true,
	})
}

// drawable is the smallest raised part, mm.
const drawable = 10.0

// warnOutside notes a raised part that hangs over the outline: it may be meant, so it is not refused.
func (m *making) warnOutside(name string, r geom.Region) {
	out, err := r.Subtract(m.Flat)
	if err == nil && out.Area() > 1 {
		m.warn(fmt.Sprintf("%q reaches over the outline by %.0f mm².", name, out.Area()))
	}
}

func (m *making) warn(text string) {
	for _, w := range m.Warnings {
		if w == text {
			return
		}
	}
	m.Warnings = append(m.Warnings, text)
}

// carved measures the grooves, by path or as stated.
func (m *making) carved() {
	total := 0.0
	for i, g := range m.Spec.Grooves {
		c := Carved{Tool: g.Tool, Length: g.Length.MM(), Passes: g.Passes, Knots: g.Knots}
		if g.D != "" {
			line, err := geom.ParsePath(g.D)
			if m.fail(fmt.Sprintf("grooves.%d.d", i), err) {
				continue
			}
			c.Line, c.Length = line, line.Length()
			if g.At != nil {
				c.Line, c.Set = line.Transform(geom.Translate(g.At.X, g.At.Y)), true
			}
		}
		m.Grooves = append(m.Grooves, c)
		total += c.Length * float64(c.Passes)
	}
	if total > mostGrooves {
		m.problems.Add("grooves", "", fmt.Sprintf("There are %.0f m of grooves on one shield; at most %.0f m can be priced. Check the lengths and their units.", total/1e3, mostGrooves/1e3))
	}
}
