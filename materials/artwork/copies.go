package artwork

import (
	"slices"
	"strings"

	"foamwright/materials/geom"
)

// copy draws what a use element points to, where the use is. What is outside the file is not fetched.
func (r *reader) copy(e *element, p place) {
	href := e.find("href", true)
	id, here := strings.CutPrefix(href, "#")
	target := r.ids[id]
	if !here || id == "" || target == nil {
		r.note("A copy of something that is not in the file was left out.", e.line)
		return
	}
	if slices.Contains(r.copying, target) {
		r.refuse(e.line, href, "This is a copy of something that it is part of, which never ends. Remove it.")
		return
	}
	p.toMM = geom.Translate(r.length(e, "x", p, p.width), r.length(e, "y", p, p.height)).Then(p.toMM)
	p.copied = p.role != Unmarked
	r.copying = append(r.copying, target)
	r.enter(target, e, p)
	r.copying = r.copying[:len(r.copying)-1]
}

// view draws a drawing within the drawing, or a symbol as large as the copy of it says.
func (r *reader) view(e, by *element, p place) {
	box := r.viewBox(e)
	size := func(name string, whole float64, side int) float64 {
		if whole == 0 && box != nil {
			whole = box[side]
		}
		for _, from := range []*element{by, e} {
			if from == nil {
				continue
			}
			if v := from.attr(name); v != "" && v != "auto" {
				return r.length(from, name, p, whole)
			}
		}
		return whole
	}
	w, h := size("width", p.width, 2), size("height", p.height, 3)
	if !r.positive(e, w, h) {
		return
	}
	p.toMM = geom.Translate(r.length(e, "x", p, p.width), r.length(e, "y", p, p.height)).Then(p.toMM)
	switch {
	case box == nil:
		p.width, p.height = w, h
	case w*h == 0:
		r.note("What has no size was left out.", e.line)
		return
	default:
		p = p.within(box, w, h, e.attr("preserveAspectRatio"))
	}
	r.all(e.inside, p)
}
