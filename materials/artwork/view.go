package artwork

import (
	"strings"

	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// mmPerPx: an inch is 25.4 mm and, by the standard, 96 px.
const mmPerPx = 25.4 / 96

// place is where in the drawing the reader is: what a group hands down to what is in it.
type place struct {
	toMM   geom.Matrix
	unit   float64 // mm of one unit of the view, transforms aside
	width  float64 // of the nearest view in its units, what percentages are of; 0 where it is not known
	height float64
	depth  int
	role   Role
	copied bool // the role is that of the place a copy is put; marks in it say nothing
	name   string
	paint  paint
}

// within is the place in a view that shows a box of x, y, width and height on w × h units of this place.
func (p place) within(box []float64, w, h float64, align string) place {
	m := fit(box, w, h, align)
	p.toMM, p.width, p.height = m.Then(p.toMM), box[2], box[3]
	p.unit *= min(m.A, m.D)
	return p
}

// fit maps a view box on w × h, by preserveAspectRatio.
func fit(box []float64, w, h float64, align string) geom.Matrix {
	sx, sy := w/box[2], h/box[3]
	words := strings.Fields(strings.TrimPrefix(align, "defer"))
	if len(words) == 0 {
		words = []string{"xMidYMid"}
	}
	if words[0] != "none" {
		sx = min(sx, sy)
		if len(words) > 1 && words[1] == "slice" {
			sx = max(w/box[2], h/box[3])
		}
		sy = sx
	}
	share := func(axis string) float64 {
		switch {
		case strings.Contains(words[0], axis+"Min"):
			return 0
		case strings.Contains(words[0], axis+"Max"):
			return 1
		}
		return 0.5
	}
	dx, dy := (w-sx*box[2])*share("x"), (h-sy*box[3])*share("Y")
	return geom.Translate(-box[0], -box[1]).Then(geom.Scale(sx, sy)).Then(geom.Translate(dx, dy))
}

// viewBox of an element; nil when it has none.
func (r *reader) viewBox(e *element) []float64 {
	v := e.attr("viewBox")
	if v == "" {
		return nil
	}
	box, ok := numbers(v)
	if !ok || len(box) != 4 || box[2] <= 0 || box[3] <= 0 {
		r.refuse(e.line, v, "The viewBox needs four numbers: left, top, width and height, the last two over 0.")
		return nil
	}
	return box
}

// page is the outermost place: how many mm its units are, by width, height and viewBox.
func (r *reader) page(unit measure.Length) (place, error) {
	root := r.root
	box := r.viewBox(root)
	w, wReal := r.side(root, "width")
	h, hReal := r.side(root, "height")
	p := place{toMM: geom.Scale(mmPerPx, mmPerPx), unit: mmPerPx, width: w, height: h, depth: 1, paint: black.under(r.sheet.of(root))}
	stated := box != nil && (wReal || hReal)
	switch {
	case !stated && unit > 0:
		p.toMM, p.unit = geom.Scale(unit.MM(), unit.MM()), unit.MM()
		if box != nil {
			p = p.within(box, box[2], box[3], "")
		}
	case box != nil:
		if w == 0 && h == 0 {
			w, h = box[2], box[3]
		} else if w == 0 {
			w = h * box[2] / box[3]
		} else if h == 0 {
			h = w * box[3] / box[2]
		}
		p = p.within(box, w, h, root.attr("preserveAspectRatio"))
	}
	r.guessed = !stated && unit == 0
	if stated && unit > 0 {
		r.note("The file states its own size in mm or inches; the unit that was given beside it was not used.", 0)
	}
	if t := root.attr("transform"); t != "" && t != "none" {
		r.refuse(root.line, t, "The whole page is transformed. Put what is on it into a group and transform that.")
	}
	return p, r.err()
}

// side is the width or height of the page in px, 0 where it is left open, and whether a ruler would measure it.
func (r *reader) side(root *element, name string) (float64, bool) {
	v := root.attr(name)
	size, unit, ok := cutNumber(v)
	unit = strings.TrimSpace(unit)
	if v == "" || v == "auto" || ok && unit == "%" {
		return 0, false
	}
	k, known := px(unit)
	if !ok || !known || size <= 0 {
		r.refuse(root.line, v, "The "+name+" of the page has to be a number over 0 with mm, cm, in, pt, pc or px.")
	}
	return size * k, physical(unit)
}
