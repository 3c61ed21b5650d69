package sales

import (
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/words"
)

// Describe says in plain words what will be made, a sentence a line, in the order it is made. Names of pieces, parts,
// steps and colours are the maker's and stay as written.
func Describe(t words.Tongue, s shield.Shield) []string {
	spec := s.Spec
	lines := free(t, s)
	if s.Made() {
		lines = append([]string{shape(t, s), layers(t, s)}, lines...)
	}
	if r := spec.Rim; r != nil {
		lines = append(lines, t.Say("A rim round the face, %s.", in(t, t.Say("%s wide", t.Length(r.Width, 1)), r.Colour)))
	}
	if spec.Edge != nil {
		lines = append(lines, t.Say("The edge is covered with an edge strip of foam, %s thick.", t.Length(measure.FromMM(s.Strip), 1)))
	}
	if raised := raised(t, s); raised != "" {
		lines = append(lines, raised)
	}
	if spec.Back.Finish == "planks" {
		width := t.Length(spec.Back.PlankWidth, 1)
		if spec.Back.GrainPitch > 0 {
			lines = append(lines, t.Say("The back is scored into planks %s wide, with wood grain.", width))
		} else {
			lines = append(lines, t.Say("The back is scored into planks %s wide.", width))
		}
	}
	if grip := grip(t, spec.Grip, s.Grip); grip != "" {
		lines = append(lines, grip)
	}
	return append(lines, finish(t, spec)...)
}

func shape(t words.Tongue, s shield.Shield) string {
	name := t.Say("A shield of its own shape")
	switch o := s.Spec.Outline; o.Shape {
	case shield.Round:
		name = t.Say("A round shield")
	case shield.Oval:
		name = t.Say("An oval shield")
	case shield.Rectangle:
		name = t.Say("A rectangle shield")
	case shield.Heater:
		name = t.Say("A heater shield")
	case shield.Kite:
		name = t.Say("A kite shield")
	case shield.Polygon:
		name = t.Say("A %d-sided shield", o.Sides)
	}
	width, height := t.Length(measure.FromMM(s.Box.Width()), 0), t.Length(measure.FromMM(s.Box.Height()), 0)
	if s.Curve == nil {
		return t.Say("%s, flat, %s wide and %s high.", name, width, height)
	}
	bow := s.Curve.Released
	return t.Say("%s, curved, %s wide and %s high along the curve; straight across it is %s wide and stands %s deep.", name, width, height, t.Length(measure.FromMM(bow.Chord), 0), t.Length(measure.FromMM(bow.Depth), 0))
}

// free names the parts and steps that are the spec's own.
func free(t words.Tongue, s shield.Shield) []string {
	var lines []string
	var parts []string
	for _, p := range s.Free {
		parts = append(parts, in(t, named(t, p.Count, p.Name), p.Colour))
	}
	if len(parts) > 0 {
		lines = append(lines, t.Say("Parts: %s.", strings.Join(parts, ", ")))
	}
	for _, step := range s.Spec.Steps {
		lines = append(lines, step.Name+".")
	}
	return lines
}

func layers(t words.Tongue, s shield.Shield) string {
	return t.Say("%d layers of foam glued together, %s thick in all.", s.Spec.Core.Layers, t.Length(measure.FromMM(s.Core), 1))
}

func raised(t words.Tongue, s shield.Shield) string {
	var parts []string
	for _, p := range s.Spec.Pieces {
		n := p.Count
		if p.Mirror {
			n *= 2
		}
		parts = append(parts, in(t, named(t, n, p.Name), p.Colour))
	}
	for _, g := range s.Spec.Gems {
		parts = append(parts, in(t, t.Say("%d gems", g.Count), g.Colour))
	}
	if n := s.Spec.Studs; n > 0 {
		parts = append(parts, t.Say("%d studs", n))
	}
	if len(s.Grooves) > 0 {
		length := 0.0
		for _, g := range s.Grooves {
			length += g.Length / 1000
		}
		parts = append(parts, t.Say("%s m of carved lines", t.Number(decimal.NewFromFloat(length).Round(1))))
	}
	if len(parts) == 0 {
		return ""
	}
	return t.Say("On the face: %s.", strings.Join(parts, ", "))
}

func grip(t words.Tongue, g shield.Grip, h shield.Hold) string {
	var held []string
	switch g.Kind {
	case "bar":
		held = []string{t.Say("a bar on foam stacks")}
	case "straps":
		held = []string{t.Say("%d straps", h.Straps)}
	case "strap and bar":
		held = []string{t.Say("a bar on foam stacks"), t.Say("%d straps", h.Straps)}
	case "rope":
		held = []string{t.Say("a rope grip")}
	default:
		return ""
	}
	if g.ThumbGuard {
		held = append(held, t.Say("with a thumb guard"))
	}
	switch g.Hand {
	case "left":
		held = append(held, t.Say("for the left hand"))
	case "either":
		held = append(held, t.Say("for either hand"))
	default:
		held = append(held, t.Say("for the right hand"))
	}
	return t.Say("Held by %s.", strings.Join(held, ", "))
}

func finish(t words.Tongue, s shield.Spec) []string {
	var lines []string
	switch s.Coat.System {
	case "latex":
		lines = append(lines, t.Say("%d coats of natural rubber latex.", s.Coat.Coats))
	case "primer":
		lines = append(lines, t.Say("%d coats of flexible primer; no latex in the coating.", s.Coat.Coats))
	}
	var colours []string
	for _, p := range s.Paint {
		where := map[string]string{"face": t.Say("face"), "rim": t.Say("rim"), "edge": t.Say("edge"), "back": t.Say("back")}[p.Where]
		colours = append(colours, strings.TrimSpace(where+" "+p.Colour))
	}
	if len(colours) > 0 {
		lines = append(lines, t.Say("Painted: %s.", strings.Join(colours, ", ")))
	}
	switch s.Weathering {
	case 0:
	case 1:
		lines = append(lines, t.Say("Lightly weathered."))
	case 2:
		lines = append(lines, t.Say("Visibly weathered."))
	default:
		lines = append(lines, t.Say("Heavily weathered."))
	}
	if s.ClearCoats > 0 {
		lines = append(lines, t.Say("%d coats of flexible clear.", s.ClearCoats))
	}
	return lines
}

// named is a thing by its own name, which has no plural that could be known.
func named(t words.Tongue, n int, name string) string {
	if n == 1 {
		return name
	}
	return t.Say("%s (%d times)", name, n)
}

func in(t words.Tongue, what, colour string) string {
	if colour == "" {
		return what
	}
	return t.Say("%s in %s", what, colour)
}

// Cautions are the usual ones that go with what the shield is made of. Local codes, product data sheets and
// the event's own check come first.
func Cautions(t words.Tongue, e pricing.Estimate) []string {
	s := e.Shield.Spec
	list := []string{t.Say("Built to the size rule as it was stated to us; the event's own check decides on the day.")}
	switch {
	case s.Kind == shield.Repair:
		list = []string{t.Say("The price holds for the damage described here. What shows only on the bench is told to you, with its price, before anything more is done.")}
	case s.Kind == shield.Prop, s.Rule == "": // built to no rule that we were told
		list = []string{t.Say("The event's own check decides whether and how it may be used.")}
	}
	if s.Caveat != "" {
		list = append(list, s.Caveat)
	}
	if s.Coat.System == "latex" {
		list = append(list, t.Say("Contains natural rubber latex, which some people are allergic to. Tell us before work starts if anyone who will handle it is."))
	}
	if strings.Contains(s.Grip.Kind, "bar") {
		list = append(list, t.Say("There is a wooden bar in the grip. Ask your event whether it allows hard parts there."))
	}
	return append(list,
		t.Say("Keep it dry, dark and between 15 and 25 °C, away from oil and heaters; never leave it in a hot car."),
		t.Say("Local codes, product data sheets and the event's own check come before anything said here."))
}
