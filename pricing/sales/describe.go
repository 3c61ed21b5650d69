package sales

import (
	"fmt"
	"strings"

	"foamwright/materials/shield"
	"foamwright/pricing"
)

// Describe says in plain words what will be made, a sentence a line, in the order it is made.
func Describe(s shield.Shield) []string {
	spec := s.Spec
	lines := free(s)
	if s.Made() {
		lines = append([]string{shape(s), layers(s)}, lines...)
	}
	if spec.Rim != nil {
		lines = append(lines, fmt.Sprintf("A rim round the face, %.4g mm wide%s.", spec.Rim.Width.MM(), in(spec.Rim.Colour)))
	}
	if spec.Edge != nil {
		lines = append(lines, fmt.Sprintf("The edge is covered with a strip of %.4g mm foam.", s.Strip))
	}
	if raised := raised(s); raised != "" {
		lines = append(lines, raised)
	}
	if spec.Back.Finish == "planks" {
		back := fmt.Sprintf("The back is scored into planks %.4g mm wide", spec.Back.PlankWidth.MM())
		if spec.Back.GrainPitch > 0 {
			back += ", with wood grain"
		}
		lines = append(lines, back+".")
	}
	if grip := grip(spec.Grip, s.Grip); grip != "" {
		lines = append(lines, grip)
	}
	return append(lines, finish(spec)...)
}

func shape(s shield.Shield) string {
	o := s.Spec.Outline
	what := map[string]string{shield.Polygon: fmt.Sprintf("%d-sided", o.Sides), shield.Half: "own-shape", shield.Path: "own-shape"}[o.Shape]
	if what == "" {
		what = o.Shape
	}
	name := "A " + what + " shield"
	if o.Shape == shield.Oval {
		name = "An oval shield"
	}
	size := fmt.Sprintf("%.0f mm wide and %.0f mm high", s.Box.Width(), s.Box.Height())
	if s.Curve == nil {
		return name + ", flat, " + size + "."
	}
	return fmt.Sprintf("%s, curved, %s along the curve; straight across it is %.0f mm wide and stands %.0f mm deep.", name, size, s.Curve.Released.Chord, s.Curve.Released.Depth)
}

// free names the parts and steps that are the spec's own.
func free(s shield.Shield) []string {
	var lines []string
	var parts []string
	for _, p := range s.Free {
		parts = append(parts, named(p.Count, p.Name)+in(p.Colour))
	}
	if len(parts) > 0 {
		lines = append(lines, "Parts: "+strings.Join(parts, ", ")+".")
	}
	for _, step := range s.Spec.Steps {
		lines = append(lines, step.Name+".")
	}
	return lines
}

func layers(s shield.Shield) string {
	n := s.Spec.Core.Layers
	if n == 1 {
		return fmt.Sprintf("One layer of foam, %.4g mm thick.", s.Core)
	}
	return fmt.Sprintf("%d layers of foam glued together, %.4g mm thick in all.", n, s.Core)
}

func raised(s shield.Shield) string {
	var parts []string
	for _, p := range s.Spec.Pieces {
		n := p.Count
		if p.Mirror {
			n *= 2
		}
		parts = append(parts, named(n, p.Name)+in(p.Colour))
	}
	for _, g := range s.Spec.Gems {
		parts = append(parts, times(g.Count, "gem")+in(g.Colour))
	}
	if n := s.Spec.Studs; n > 0 {
		parts = append(parts, times(n, "stud"))
	}
	if len(s.Grooves) > 0 {
		length := 0.0
		for _, g := range s.Grooves {
			length += g.Length / 1000
		}
		parts = append(parts, fmt.Sprintf("%.1f m of carved lines", length))
	}
	if len(parts) == 0 {
		return ""
	}
	return "On the face: " + strings.Join(parts, ", ") + "."
}

func grip(g shield.Grip, h shield.Hold) string {
	what := map[string]string{
		"bar": "a bar on foam stacks", "straps": times(h.Straps, "strap"), "strap and bar": "a bar on foam stacks and " + times(h.Straps, "strap"), "rope": "a rope grip",
	}[g.Kind]
	if what == "" {
		return ""
	}
	if g.ThumbGuard {
		what += ", with a thumb guard"
	}
	hand := "for the " + g.Hand + " hand"
	if g.Hand == "either" {
		hand = "for either hand"
	}
	return "Held by " + what + ", " + hand + "."
}

func finish(s shield.Spec) []string {
	var lines []string
	switch s.Coat.System {
	case "latex":
		lines = append(lines, fmt.Sprintf("%s of natural rubber latex.", coats(s.Coat.Coats)))
	case "primer":
		lines = append(lines, fmt.Sprintf("%s of flexible primer; no latex in the coating.", coats(s.Coat.Coats)))
	}
	var colours []string
	for _, p := range s.Paint {
		colours = append(colours, p.Where+" "+p.Colour)
	}
	if len(colours) > 0 {
		lines = append(lines, "Painted: "+strings.Join(colours, ", ")+".")
	}
	if s.Weathering > 0 {
		lines = append(lines, []string{"Lightly", "Visibly", "Heavily"}[s.Weathering-1]+" weathered.")
	}
	if s.ClearCoats > 0 {
		lines = append(lines, fmt.Sprintf("%s of flexible clear.", coats(s.ClearCoats)))
	}
	return lines
}

func coats(n int) string {
	if n == 1 {
		return "One coat"
	}
	return fmt.Sprintf("%d coats", n)
}

// times counts a thing in words. A piece goes by its own name, which has no plural that could be known.
func times(n int, what string) string {
	if n == 1 {
		return "one " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func named(n int, name string) string {
	if n == 1 {
		return name
	}
	return fmt.Sprintf("%s (%d times)", name, n)
}

func in(colour string) string {
	if colour == "" {
		return ""
	}
	return " in " + colour
}

// Cautions are the usual ones that go with what the shield is made of. Local codes, product data sheets and
// the event's own check come first.
func Cautions(e pricing.Estimate) []string {
	s := e.Shield.Spec
	list := []string{"Built to the size rule as it was stated to us; the event's own check decides on the day."}
	switch {
	case s.Kind == shield.Repair:
		list = []string{"The price holds for the damage described here. What shows only on the bench is told to you, with its price, before anything more is done."}
	case s.Kind == shield.Prop:
		list = []string{"The event's own check decides whether and how it may be used."}
	}
	if s.Caveat != "" {
		list = append(list, s.Caveat)
	}
	if s.Coat.System == "latex" {
		list = append(list, "Contains natural rubber latex, which some people are allergic to. Tell us before work starts if anyone who will handle it is.")
	}
	if strings.Contains(s.Grip.Kind, "bar") {
		list = append(list, "There is a wooden bar in the grip. Ask your event whether it allows hard parts there.")
	}
	return append(list, "Keep it dry, dark and between 15 and 25 °C, away from oil and heaters; never leave it in a hot car.")
}
