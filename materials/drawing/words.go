package drawing

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"foamwright/materials/shield"
)

// faceWords says what the face shows.
func faceWords(s shield.Shield) string {
	w := []string{sizeWords(s)}
	for _, p := range s.Spec.Paint {
		w = append(w, fmt.Sprintf("The %s is painted %s.", p.Where, p.Colour))
	}
	if s.Rim != nil {
		w = append(w, strings.TrimSuffix(fmt.Sprintf("A rim %s mm wide, %s", mm(s.Rim.Width), s.Spec.Rim.Colour), ", ")+".")
	}
	if s.Strip > 0 {
		w = append(w, fmt.Sprintf("An edge strip %s mm thick.", mm(s.Strip)))
	}
	for _, p := range s.Spec.Pieces {
		w = append(w, strings.TrimSuffix(fmt.Sprintf("Raised: %s, %s", p.Name, p.Colour), ", ")+".")
	}
	for _, g := range s.Spec.Gems {
		w = append(w, strings.TrimSuffix(fmt.Sprintf("Gems: %d of %s × %s mm, %s", g.Count, mm(g.Width.MM()), mm(g.Height.MM()), g.Colour), ", ")+".")
	}
	if n := s.Spec.Studs; n > 0 {
		w = append(w, fmt.Sprintf("Studs: %d.", n))
	}
	carved := 0.0
	for _, g := range s.Grooves {
		carved += g.Length
	}
	if carved > 0 {
		w = append(w, fmt.Sprintf("Carved lines: %s m.", mm(carved/1000)))
	}
	return strings.Join(w, " ")
}

// sizeWords is shape and size in a sentence.
func sizeWords(s shield.Shield) string {
	shape := map[string]string{shield.Polygon: "A shield with equal sides", shield.Half: "A shield", shield.Path: "A shield", shield.Oval: "An oval shield"}[s.Spec.Outline.Shape]
	shape = cmp.Or(shape, "A "+s.Spec.Outline.Shape+" shield")
	wide := mm(s.Box.Width()) + " mm wide"
	if s.Curve != nil {
		wide = fmt.Sprintf("%s mm wide along the curve and %s mm straight across", mm(s.Box.Width()), mm(math.Round(s.Curve.Released.Chord)))
	}
	return fmt.Sprintf("%s, %s, %s mm high.", shape, wide, mm(s.Box.Height()))
}

// backWords says what the back shows.
func backWords(s shield.Shield) string {
	w := []string{"Seen from behind. " + sizeWords(s)}
	if n := len(s.Planks); n > 0 {
		w = append(w, fmt.Sprintf("%d planks, each %s mm wide.", n+1, mm(s.Spec.Back.PlankWidth.MM())))
	}
	if s.Spec.Back.GrainPitch > 0 {
		w = append(w, fmt.Sprintf("Wood grain every %s mm.", mm(s.Spec.Back.GrainPitch.MM())))
	}
	if s.Cover != nil {
		w = append(w, fmt.Sprintf("A cover strip %s mm wide follows the edge.", mm(s.Cover.Width)))
	}
	if g := gripWords(s); g != "" {
		w = append(w, "To hold it: "+g+".")
	}
	return strings.Join(w, " ")
}

// gripWords is what there is to hold, in words.
func gripWords(s shield.Shield) string {
	g := s.Grip
	var parts []string
	put := func(n int, one, more string) {
		switch {
		case n == 1:
			parts = append(parts, one)
		case n > 1:
			parts = append(parts, fmt.Sprintf("%d %s", n, more))
		}
	}
	put(g.Bars, "bar", "bars")
	put(g.Straps-g.Adjustable, "strap", "straps")
	put(g.Adjustable, "adjustable strap", "adjustable straps")
	put(g.Ropes, "rope", "ropes")
	put(g.ThumbGuards, "thumb guard", "thumb guards")
	if len(parts) == 0 {
		return ""
	}
	words := strings.Join(parts, ", ")
	if h := s.Spec.Grip.Hand; h == "left" || h == "right" {
		words += ", " + h + " hand"
	}
	return words
}

// sectionWords says what the section shows.
func sectionWords(s shield.Shield) string {
	w := fmt.Sprintf("Cut across at the widest line: %s mm, %s mm thick in all.", layerWords(s), mm(s.Total))
	if c := s.Curve; c != nil {
		w += fmt.Sprintf(" Off a former of %s mm radius it is %s mm straight across and %s mm deep; on the former it was %s mm and %s mm.", mm(c.Former), mm(math.Round(c.Released.Chord)), mm(math.Round(c.Released.Depth)), mm(math.Round(c.Bent.Chord)), mm(math.Round(c.Bent.Depth)))
	} else {
		w += fmt.Sprintf(" Flat, %s mm wide.", mm(s.Box.Width()))
	}
	return w
}

func layerWords(s shield.Shield) string {
	thick := mm(s.CoreFoam.Thickness.MM())
	if s.Spec.Core.Layers == 1 {
		return "1 layer of " + thick
	}
	return fmt.Sprintf("%d layers of %s", s.Spec.Core.Layers, thick)
}
