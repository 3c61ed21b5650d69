package orderform

import (
	"fmt"

	"foamwright/materials/artwork"
	"foamwright/materials/shield"
)

// Spec is the spec the form stands for, with the usual defaults where nothing was written. The fault names
// every entry that cannot be read; whether the shield can be made is shield's to say.
func (f Form) Spec() (shield.Spec, error) {
	r := &reader{}
	kind := r.choice("kind", f.Kind, shield.Made, shield.Prop, shield.Repair)
	s := shield.Spec{
		Kind:       kind,
		Name:       r.text("name", f.Name, "Unnamed shield", 80),
		Quantity:   r.count("quantity", f.Quantity, 1, 1, 500),
		Rule:       r.text("rule", f.Rule, "", 60),
		FirstTime:  r.yes("first_time", f.FirstTime),
		Complexity: r.count("complexity", f.Complexity, 0, 0, 5),
		Filler:     r.text("filler", f.Filler, "", 60),
		Caveat:     r.text("caveat", f.Caveat, "", 500),
		Studs:      r.count("studs", f.Studs, 0, 0, 500),
		ClearCoats: r.count("clear_coats", f.ClearCoats, 0, 0, 10),
		Weathering: r.count("weathering", f.Weathering, 0, 0, 3),
		Grip: shield.Grip{
			Kind:        r.choice("grip.kind", f.Grip.Kind, "none", "bar", "straps", "strap and bar", "rope"),
			BlockLayers: r.count("grip.block_layers", f.Grip.BlockLayers, 0, 0, 12),
			Straps:      r.count("grip.strap", f.Grip.Strap, 0, 0, 6),
			ThumbGuard:  r.yes("grip.thumb_guard", f.Grip.ThumbGuard),
			Hand:        r.choice("grip.hand", f.Grip.Hand, "right", "left", "either"),
			BlockLength: r.length("grip.block_length", f.Grip.BlockLength),
			BlockWidth:  r.length("grip.block_width", f.Grip.BlockWidth),
			Taper:       r.length("grip.taper", f.Grip.Taper),
			Bar:         r.text("grip.bar", f.Grip.Bar, "", 60),
			CoverLayers: r.count("grip.cover_layers", f.Grip.CoverLayers, 0, 0, 4),
			Adjustable:  r.yes("grip.adjustable", f.Grip.Adjustable),
		},
		Coat: shield.Coat{
			System: r.choice("coat.system", f.Coat.System, "none", "latex", "primer"),
			Coats:  r.count("coat.coats", f.Coat.Coats, 0, 0, 12),
		},
		Delivery: shield.Delivery{By: r.day("delivery.by", f.Delivery.By), Ship: r.yes("delivery.ship", f.Delivery.Ship)},
	}
	f.free(r, &s)
	if kind != shield.Made {
		return s, r.problems.Err()
	}
	s.Outline, s.Core, s.Back = f.outline(r), f.core(r), f.back(r)
	drawn := f.drawn(r, &s)
	if f.Rim != nil {
		s.Rim = &shield.Rim{
			Foam:   r.text("rim.foam", f.Rim.Foam, s.Core.Foam, 60),
			Width:  r.needed("rim.width", f.Rim.Width, "Write how wide the rim is, for example 45 mm."),
			Colour: r.text("rim.colour", f.Rim.Colour, "", 40),
			Prep:   r.prep("rim.prep", f.Rim.Prep),
		}
	}
	if f.Edge != nil {
		s.Edge = &shield.Edge{
			Foam:    r.required("edge.foam", f.Edge.Foam, "Name the foam of the edge strip, for example sheet-3."),
			Corners: r.choice("edge.corners", f.Edge.Corners, "met", "wrapped"),
			Prep:    r.prep("edge.prep", f.Edge.Prep),
		}
	}
	f.pieces(r, &s, drawn)
	f.gems(r, &s)
	f.grooves(r, &s)
	f.paint(r, &s)
	return s, r.problems.Err()
}

func (f Form) core(r *reader) shield.Core {
	c := f.Core
	s := shield.Core{
		Foam:      r.required("core.foam", c.Foam, "Name the foam of the layers, for example mat-10."),
		Layers:    r.count("core.layers", c.Layers, 2, 1, 12),
		Former:    r.length("core.former_radius", c.FormerRadius),
		FormerIs:  r.text("core.former", c.Former, "", 60),
		Depth:     r.length("core.depth", c.Depth),
		Templates: r.choice("core.templates", c.Templates, "same", "per layer"),
		Set:       r.choice("core.set", c.Set, "cold", "heat"),
		Joint:     r.choice("core.joint", c.Joint, "interlock", "butt"),
		JointGlue: r.text("core.joint_glue", c.JointGlue, "", 60),
		Prep:      r.prep("core.prep", c.Prep),
	}
	given := 0
	for _, is := range []bool{s.Former > 0, s.FormerIs != "", s.Depth > 0} {
		if is {
			given++
		}
	}
	if given > 1 {
		r.problems.Add("core.former_radius", c.FormerRadius.Typed, "Say how it is curved once: by a radius, by a former of the list, or by a depth.")
	}
	return s
}

// free reads the parts and steps that are the spec's own.
func (f Form) free(r *reader, s *shield.Spec) {
	for i, p := range f.Parts {
		at := fmt.Sprintf("parts.%d.", i)
		part := shield.FreePart{
			Name:   r.text(at+"name", p.Name, fmt.Sprintf("part %d", i+1), 60),
			Foam:   r.required(at+"foam", p.Foam, "Name the foam of this part, for example sheet-10."),
			D:      r.text(at+"d", p.D, "", MaxBytes),
			Width:  r.length(at+"width", p.Width),
			Height: r.length(at+"height", p.Height),
			Count:  r.count(at+"count", p.Count, 1, 1, 100),
			Layers: r.count(at+"layers", p.Layers, 1, 1, 12),
			Colour: r.text(at+"colour", p.Colour, "", 40),
			Loose:  r.yes(at+"loose", p.Loose),
		}
		if (part.D == "") == (part.Width == 0 || part.Height == 0) {
			r.problems.Add(at+"width", p.Width.Typed, "Give either the part's path, or its width and height.")
		}
		s.Parts = append(s.Parts, part)
	}
	for i, p := range f.Steps {
		at := fmt.Sprintf("steps.%d.", i)
		s.Steps = append(s.Steps, shield.FreeStep{
			Name:    r.text(at+"name", p.Name, fmt.Sprintf("step %d", i+1), 80),
			Minutes: r.count(at+"minutes", p.Minutes, 0, 1, 6000),
		})
	}
	if s.Kind != shield.Made && len(s.Parts)+len(s.Steps)+s.Grip.Straps == 0 {
		r.problems.Add("parts", "", "Say what is to be made or done: at least one part or one step.")
	}
}

func (f Form) outline(r *reader) shield.Outline {
	o := f.Outline
	s := shield.Outline{
		Shape:    r.choice("outline.shape", o.Shape, "", shield.Round, shield.Oval, shield.Rectangle, shield.Heater, shield.Kite, shield.Polygon, shield.Half, shield.Path),
		Is:       r.choice("outline.is", o.Is, "core", "finished"),
		WidthIs:  r.choice("outline.width_is", o.WidthIs, shield.AlongCurve, shield.StraightAcross, shield.Flat),
		Template: r.choice("outline.template", o.Template, "new", "have"),
	}
	wide := "Write how wide it is, for example 56 cm."
	switch s.Shape {
	case shield.Round:
		s.Diameter = r.needed("outline.diameter", o.Diameter, "Write the diameter, for example 58 cm.")
	case shield.Oval, shield.Rectangle, shield.Heater, shield.Kite:
		s.Width = r.needed("outline.width", o.Width, wide)
		s.Height = r.needed("outline.height", o.Height, "Write how high it is, for example 88 cm.")
		s.Corner = r.length("outline.corner", o.Corner)
		if s.Shape == shield.Heater || s.Shape == shield.Kite {
			s.Shoulder = r.needed("outline.shoulder", o.Shoulder, "Write how far down from the top the shoulder is, for example 20 cm.")
		}
	case shield.Polygon:
		s.Width = r.needed("outline.width", o.Width, wide)
		s.Sides = r.count("outline.sides", o.Sides, 6, 3, 24)
	case shield.Half, shield.Path:
		if o.SVG.IsZero() && o.File.IsZero() {
			s.D = r.required("outline.d", o.D, "Give the outline as SVG path data in millimetres, or a whole SVG file.")
		}
	}
	return s
}

func (f Form) back(r *reader) shield.Back {
	b := shield.Back{
		Finish:     r.choice("back.finish", f.Back.Finish, "plain", "planks"),
		Tool:       r.choice("back.tool", f.Back.Tool, "knife", "rotary"),
		PlankWidth: r.length("back.plank_width", f.Back.PlankWidth),
		GrainPitch: r.length("back.grain_pitch", f.Back.GrainPitch),
		GrainDepth: r.length("back.grain_depth", f.Back.GrainDepth),
	}
	if s := f.Back.SeamStrip; s != nil {
		b.Cover = &shield.Strip{
			Foam:  r.required("back.seam_strip.foam", s.Foam, "Name the foam of the cover strip, for example sheet-2."),
			Width: r.needed("back.seam_strip.width", s.Width, "Write how wide the cover strip is, for example 30 mm."),
		}
	}
	return b
}

// pieces are those of a drawing file and those with a path of their own.
func (f Form) pieces(r *reader, s *shield.Spec, drawn artwork.Drawing) {
	left := drawn.With(artwork.Piece)
	for i, p := range f.Pieces {
		at := fmt.Sprintf("pieces.%d.", i)
		if p.D.IsZero() {
			p.D, left = take(left, p.Name.Typed)
		}
		piece := shield.Piece{
			Name:   r.text(at+"name", p.Name, fmt.Sprintf("piece %d", i+1), 60),
			Foam:   r.required(at+"foam", p.Foam, "Name the foam of this piece, for example sheet-5."),
			D:      r.required(at+"d", p.D, "Give the shape as SVG path data in millimetres, or the name of a piece in the drawing file."),
			Mirror: r.yes(at+"mirror", p.Mirror),
			Count:  r.count(at+"count", p.Count, 1, 1, 60),
			Layers: r.count(at+"layers", p.Layers, 1, 1, 6),
			Colour: r.text(at+"colour", p.Colour, "", 40),
			Turn:   r.degrees(at+"turn", p.Turn),
			Prep:   r.prep(at+"prep", p.Prep),
		}
		if p.At != nil {
			piece.At = r.place(at+"at", *p.At)
		}
		s.Pieces = append(s.Pieces, piece)
	}
	for _, shape := range left {
		s.Notes = append(s.Notes, fmt.Sprintf("The piece %q of the drawing is not made. Add a piece of that name and choose its foam.", shape.Name))
	}
}

func (f Form) gems(r *reader, s *shield.Spec) {
	for i, g := range f.Gems {
		at := fmt.Sprintf("gems.%d.", i)
		gem := shield.Gem{
			Width:   r.needed(at+"width", g.Width, "Write how wide the gem is, for example 60 mm."),
			Height:  r.needed(at+"height", g.Height, "Write how high the gem is, for example 80 mm."),
			Layers:  r.count(at+"layers", g.Layers, 2, 1, 6),
			Count:   r.count(at+"count", g.Count, 1, 1, 60),
			Foam:    r.text(at+"foam", g.Foam, s.Core.Foam, 60),
			Colour:  r.text(at+"colour", g.Colour, "", 40),
			Faceted: r.yes(at+"faceted", g.Facets),
			Turn:    r.degrees(at+"turn", g.Turn),
			Prep:    r.prep(at+"prep", g.Prep),
		}
		for j, p := range g.At {
			spot := fmt.Sprintf("%sat.%d", at, j)
			gem.At = append(gem.At, *r.place(spot, p))
		}
		s.Gems = append(s.Gems, gem)
	}
}

func (f Form) grooves(r *reader, s *shield.Spec) {
	for i, g := range f.Grooves {
		at := fmt.Sprintf("grooves.%d.", i)
		groove := shield.Groove{
			Tool:   r.choice(at+"tool", g.Tool, "knife", "rotary"),
			Length: r.length(at+"length", g.Length),
			D:      r.text(at+"d", g.D, "", MaxBytes),
			Passes: r.count(at+"passes", g.Passes, 1, 1, 5),
			Knots:  r.yes(at+"knotwork", g.Knots),
		}
		if g.At != nil {
			groove.At = r.place(at+"at", *g.At)
			if groove.D == "" {
				r.problems.Add(at+"at.x", g.At.X.Typed, "Only a groove with a path has a place. Give its path, or leave the place empty.")
			}
		}
		if (groove.Length == 0) == (groove.D == "") {
			r.problems.Add(at+"length", g.Length.Typed, "Give either the length of the grooves or their path, not both.")
		}
		s.Grooves = append(s.Grooves, groove)
	}
}

func (f Form) paint(r *reader, s *shield.Spec) {
	for i, p := range f.Paint {
		at := fmt.Sprintf("paint.%d.", i)
		s.Paint = append(s.Paint, shield.Paint{
			Colour: r.required(at+"colour", p.Colour, "Name the colour as the catalogue has it."),
			Where:  r.choice(at+"where", p.Where, "face", "rim", "edge", "back"),
			Coats:  r.count(at+"coats", p.Coats, 2, 1, 8),
		})
	}
}

// Read is Parse and Spec in one: the way of a file and of a request.
func Read(data []byte) (shield.Spec, error) {
	f, err := Parse(data)
	if err != nil {
		return shield.Spec{}, err
	}
	return f.Spec()
}
