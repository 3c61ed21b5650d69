package orderform

import (
	"strings"

	"foamwright/materials/artwork"
	"foamwright/materials/shield"
)

// drawn reads the drawing file of an outline: its outline and grooves go into the spec, its pieces wait for a piece
// of their name, which says what foam they are made of.
func (f Form) drawn(r *reader, s *shield.Spec) artwork.Drawing {
	o := f.Outline
	if s.Outline.Shape != shield.Half && s.Outline.Shape != shield.Path || s.Outline.D != "" {
		return artwork.Drawing{}
	}
	if o.SVG.IsZero() {
		if !o.File.IsZero() {
			r.problems.Add("outline.file", o.File.Typed, "Only the command line reads files. Send the file's text as outline.svg.")
		}
		return artwork.Drawing{}
	}
	d, err := artwork.Read([]byte(o.SVG.Typed), artwork.Options{Unit: r.length("outline.unit", o.Unit), Half: s.Outline.Shape == shield.Half})
	if err != nil {
		_ = r.problems.Take("outline.svg", err) // every failure of artwork is a fault
		return artwork.Drawing{}
	}
	s.Outline.Shape, s.Outline.D = shield.Path, d.Outline().D()
	s.Notes = append(s.Notes, d.Notes...)
	for _, g := range d.With(artwork.Groove) {
		s.Grooves = append(s.Grooves, shield.Groove{Tool: "knife", D: g.Path.D(), Passes: 1})
	}
	return d
}

// take finds the first drawn piece of a name and gives the others back.
func take(pieces []artwork.Shape, name string) (d Text, left []artwork.Shape) {
	for i, p := range pieces {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return T(p.Path.D()), append(pieces[:i:i], pieces[i+1:]...)
		}
	}
	return Text{}, pieces
}
