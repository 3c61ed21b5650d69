package artwork

// enough tells whether to stop here: too much was read, or too much is wrong.
func (r *reader) enough(e *element, p place) bool {
	r.elements++
	r.work += e.size
	if r.elements > mostElements || r.work > mostWork || r.segments > mostSegments || p.depth >= deepest {
		r.over = tooMuch(e.line)
	}
	return r.over != nil || r.problems.Len() >= mostProblems
}

// visit reads an element and what is in it. What SVG does not draw by itself (definitions, clip paths, markers,
// patterns, symbols, words about the file) is passed over, and so is what is not SVG's.
func (r *reader) visit(e *element, p place) { r.enter(e, nil, p) }

// enter is visit, by way of the copy that leads here if one does: that may show a symbol too.
func (r *reader) enter(e, by *element, p place) {
	if r.enough(e, p) || !drawable(e.name) && (by == nil || e.name != "symbol") {
		return
	}
	own := r.sheet.of(e)
	if own["display"].value == "none" {
		r.note("Hidden parts were left out.", e.line)
		return
	}
	p.depth++
	p.paint = p.paint.under(own)
	p.mark(e)
	if !r.move(e, &p, own) {
		return
	}
	switch e.name {
	case "text":
		r.note("Lettering is not read. To have it, turn it into paths.", e.line)
	case "image", "foreignObject":
		r.note("Pictures are not read. To have one, trace it into paths.", e.line)
	case "g", "a":
		r.all(e.inside, p)
	case "switch":
		r.all(chosen(e.inside), p)
	case "svg", "symbol":
		r.view(e, by, p)
	case "use":
		r.copy(e, p)
	default:
		r.draw(e, p)
	}
}

// drawable tells whether a viewer draws an element of this name where it stands.
func drawable(name string) bool {
	switch name {
	case "g", "a", "svg", "switch", "use", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "image", "foreignObject":
		return true
	}
	return false
}

func (r *reader) all(inside []*element, p place) {
	for _, e := range inside {
		r.visit(e, p)
	}
}

// chosen is the one of a switch's elements that a viewer without extensions shows.
func chosen(inside []*element) []*element {
	for i, e := range inside {
		if e.name != "" && e.attr("requiredExtensions") == "" {
			return inside[i : i+1]
		}
	}
	return nil
}

// move does what an element's transform does. False when it was noted that nothing can come of it.
func (r *reader) move(e *element, p *place, own properties) bool {
	for _, name := range []string{"transform", "transform-origin"} {
		if v := own[name].value; v != "" && v != "none" {
			r.refuse(e.line, v, name+" in a style is not read. Write the transform as an attribute of its own.")
			return false
		}
	}
	for _, name := range []string{"clip-path", "mask"} {
		if v := own[name].value; v != "" && v != "none" {
			r.note("A clip path or mask was not applied: what is clipped was taken whole.", e.line)
		}
	}
	m, wrong := transform(e.attr("transform"))
	if wrong != "" {
		r.refuse(e.line, wrong, "The transform goes wrong here. Use matrix, translate, scale, rotate, skewX and skewY with plain numbers.")
		return false
	}
	p.toMM = m.Then(p.toMM)
	if area(p.toMM) == 0 {
		r.note("What has no size was left out.", e.line)
		return false
	}
	return true
}

// draw adds a shape.
func (r *reader) draw(e *element, p place) {
	if p.paint.hidden {
		r.note("Hidden parts were left out.", e.line)
		return
	}
	path := r.path(e, p)
	if len(path) == 0 {
		return
	}
	for _, s := range path {
		r.segments += len(s.Segments)
	}
	r.shapes = append(r.shapes, drawn{
		Shape{Role: p.role, Name: p.name, Path: path, Fill: p.paint.fill, Line: e.line},
		p.paint.filled && !p.paint.evenOdd,
	})
}
