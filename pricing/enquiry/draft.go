package enquiry

import (
	"cmp"
	"strings"

	"foamwright/materials/measure"
	"foamwright/materials/orderform"
)

// Draft is the spec that a reading comes to, on top of the workshop's usual one: what was found is filled in, and notes
// say beside an entry, by its path, what is asked or was taken as usual. What is not known stays empty.
func (r Reading) Draft(usual orderform.Form, questions []Question) (f orderform.Form, notes map[string]string) {
	f, notes = usual, map[string]string{}
	f.Outline = orderform.Outline{}
	f.Name = orderform.T(r.Title())
	r.outline(&f, notes)
	r.stack(&f, notes)
	r.face(&f, notes)
	r.finish(&f)
	set(&f.Quantity, r.Value(Quantity))
	set(&f.Rule, r.Value(Rule))
	set(&f.Delivery.By, r.Value(Date))
	if v := r.Value(Ship); v != "" {
		set(&f.Delivery.Ship, v)
	}
	for _, q := range questions {
		for _, field := range r.fields(q.About) {
			notes[field] = strings.TrimSpace(notes[field] + " " + q.Text)
		}
	}
	return f, notes
}

// Title is what a quote of it is called until the maker gives it a better name.
func (r Reading) Title() string {
	shape := r.Value(Shape)
	if shape == "" || shape == "path" {
		return "Shield"
	}
	return strings.ToUpper(shape[:1]) + shape[1:] + " shield"
}

func set(t *orderform.Text, value string) {
	if value != "" {
		*t = orderform.T(value)
	}
}

func size(value string) orderform.Size { return orderform.Size{Text: orderform.T(value)} }

// Where the shoulder usually sits, in hundredths of the height; common practice, no source.
const heaterShoulder, kiteShoulder = 30, 23

func (r Reading) outline(f *orderform.Form, notes map[string]string) {
	o, shape := &f.Outline, r.Value(Shape)
	set(&o.Shape, shape)
	width, height, diameter := r.Value(Width), r.Value(Height), r.Value(Diameter)
	if shape == "round" {
		diameter = cmp.Or(diameter, width) // however it is called, it is the same
		o.Diameter = size(diameter)
		return
	}
	if width == "" && diameter != "" { // "60 cm across"
		width = diameter
		o.WidthIs = orderform.T("straight across")
	}
	o.Width, o.Height = size(width), size(height)
	set(&o.Sides, r.Value(Sides))
	set(&o.WidthIs, r.Value(Measured))
	share := measure.Length(heaterShoulder)
	if shape == "kite" {
		share = kiteShoulder
	}
	if h, err := measure.ParseLength(height); err == nil && (shape == "heater" || shape == "kite") {
		o.Shoulder = size((h * share / 100 / measure.Millimetre * measure.Millimetre).String())
		notes["outline.shoulder"] = "As usual for this outline: look at the drawing."
	}
}

// stack is the layers: two flat ones or three over the usual former, where nothing was said; common practice, no source.
func (r Reading) stack(f *orderform.Form, notes map[string]string) {
	layers := "2"
	if r.Value(Curve) == "yes" {
		layers = "3"
		if depth := r.Value(Depth); depth != "" {
			f.Core.Depth = size(depth)
		} else {
			f.Core.FormerRadius = size("50 cm")
			notes["core.former_radius"] = "The usual former."
		}
	}
	f.Core.Layers = orderform.T(layers)
	set(&f.Core.Layers, r.Value(Layers))
	if width, colour := r.Value(RimWidth), r.Value(RimColour); width != "" || colour != "" {
		if width == "" {
			width, notes["rim.width"] = "45 mm", "As usual."
		}
		f.Rim = &orderform.Rim{Width: size(width), Colour: orderform.T(colour)}
	}
	if r.Value(Back) == "planks" {
		f.Back.Finish, f.Back.PlankWidth = orderform.T("planks"), size("70 mm")
		notes["back.plank_width"] = "As usual."
	}
	set(&f.Grip.Kind, r.Value(Grip))
	set(&f.Grip.Hand, r.Value(Hand))
}

// face is gems and studs; a gem is of the usual size where none was said.
func (r Reading) face(f *orderform.Form, notes map[string]string) {
	if n := r.Value(Gems); n != "" && n != "0" {
		f.Gems = []orderform.Gem{{Count: orderform.T(n), Width: size("60 mm"), Height: size("80 mm")}}
		notes["gems.0.width"] = "As usual."
	}
	set(&f.Studs, r.Value(Studs))
}

// finish is the skin and the colours. Latex only where nobody is allergic to it; whoever is reads that it was kept away.
func (r Reading) finish(f *orderform.Form) {
	switch {
	case r.Value(Latex) == "yes":
		f.Coat = orderform.Coat{System: orderform.T("primer"), Coats: orderform.T("2")}
		f.Caveat = orderform.T("Told to us: an allergy to natural rubber latex. Coat and glue are to be without it.")
	case r.Value(Coat) == "none":
		f.Coat = orderform.Coat{System: orderform.T("primer"), Coats: orderform.T("2")}
	case r.Value(Latex) == "no":
		f.Coat = orderform.Coat{System: orderform.T("latex"), Coats: orderform.T("4")}
	}
	for _, p := range []struct {
		about Topic
		where string
	}{{FaceColour, "face"}, {BackColour, "back"}} {
		if colour := r.Value(p.about); colour != "" {
			f.Paint = append(f.Paint, orderform.Paint{Colour: orderform.T(colour), Where: orderform.T(p.where), Coats: orderform.T("2")})
		}
	}
}

// fields are the entries of a spec that a topic fills.
func (r Reading) fields(about Topic) []string {
	switch about {
	case Width:
		return []string{"outline.width"}
	case Height:
		return []string{"outline.height"}
	case Diameter:
		return []string{"outline.diameter"}
	case Size:
		if r.Value(Shape) == "round" {
			return []string{"outline.diameter"}
		}
		return []string{"outline.width", "outline.height"}
	case Thickness, Layers:
		return []string{"core.layers"}
	case Depth:
		return []string{"core.depth"}
	case Measured:
		return []string{"outline.width_is"}
	case RimWidth:
		return []string{"rim.width"}
	case Shape, Sides:
		return []string{"outline.shape"}
	case Curve:
		return []string{"core.former_radius"}
	case Gems:
		return []string{"gems.0.count"}
	case Studs:
		return []string{"studs"}
	case Emblem:
		return []string{"pieces.0.name"}
	case Hand:
		return []string{"grip.hand"}
	case Grip:
		return []string{"grip.kind"}
	case Colour, FaceColour:
		return []string{"paint.0.colour"}
	case RimColour:
		return []string{"rim.colour"}
	case Rule, Edition, Event:
		return []string{"rule"}
	case Date:
		return []string{"delivery.by"}
	case Ship:
		return []string{"delivery.ship"}
	case Quantity:
		return []string{"quantity"}
	case Latex, Coat:
		return []string{"coat.system"}
	}
	return nil
}
