package web

import (
	"cmp"
	"strings"
	"time"

	"foamwright/pricing/words"
)

// The folded line of each section reads as a sentence of what was typed.

// Summary is the sentence of a section.
func (f form) Summary(section string) string {
	v := f.Value
	var parts []string
	add := func(text ...string) {
		for _, t := range text {
			if t == "" {
				return
			}
		}
		parts = append(parts, strings.Join(text, ""))
	}
	switch section {
	case "outline":
		add(cmp.Or(v("outline.shape"), "no shape yet"))
		switch v("outline.shape") {
		case "round":
			add(v("outline.diameter"))
		case "half", "path":
			add("as drawn")
		case "polygon":
			add(v("outline.sides"), " sides")
			add(v("outline.width"))
		default:
			add(v("outline.width"), " × ", v("outline.height"))
		}
	case "core":
		add(cmp.Or(v("core.layers"), "2"), " × ", f.foam("core.foam"))
		add("over ", v("core.former_radius"))
		add("over ", v("core.former"))
		add(v("core.depth"), " deep")
		if v("core.former_radius")+v("core.former")+v("core.depth") == "" {
			add("flat")
		}
	case "rim":
		add(v("rim.width"))
		if v("rim.width") != "" {
			add(f.foam("rim.foam"))
		}
		add(v("rim.colour"))
	case "edge":
		add("strip of ", f.foam("edge.foam"))
		if v("edge.foam") != "" {
			add("corners ", cmp.Or(v("edge.corners"), "met"))
		}
	case "face":
		f.face(add)
	case "back":
		add(cmp.Or(v("back.finish"), "plain"))
		if v("back.grain_pitch") != "" {
			add("wood grain")
		}
		if v("back.seam_strip.width") != "" {
			add("cover strip")
		}
	case "grip":
		add(cmp.Or(v("grip.kind"), "none"))
		if v("grip.kind") != "" && v("grip.kind") != "none" {
			add(cmp.Or(v("grip.hand"), "right"), " hand")
		}
	case "coat":
		add(cmp.Or(v("coat.system"), "no coat"))
		add(v("coat.coats"), " coats")
		if n := len(f.Rows("paint")) - 1; n > 0 {
			add(number(n, "colour"))
		}
	case "own":
		if n := len(f.Rows("parts")) - 1; n > 0 {
			add(number(n, "part"))
		}
		if n := len(f.Rows("steps")) - 1; n > 0 {
			add(number(n, "step"))
		}
	case "delivery":
		by := v("delivery.by")
		if day, err := time.Parse(time.DateOnly, by); err == nil {
			by = words.Date(day)
		}
		add("by ", by)
		if v("delivery.ship") != "" && v("delivery.ship") != "false" {
			add("shipped")
		} else {
			add("collected")
		}
	}
	if len(parts) == 0 {
		return "none"
	}
	return strings.Join(parts, ", ")
}

// few is how many pieces are named, with the empty row; more are counted.
const few = 4

// face names pieces, gems, studs and carving.
func (f form) face(add func(...string)) {
	if pieces := f.Rows("pieces"); len(pieces) > few {
		add(number(len(pieces)-1, "piece"))
	} else {
		for _, row := range pieces {
			add(f.Value(row + "name"))
		}
	}
	for _, row := range f.Rows("gems") {
		if f.Value(row+"width") != "" {
			add(cmp.Or(f.Value(row+"count"), "1"), " gems")
		}
	}
	add(f.Value("studs"), " studs")
	if n := len(f.Rows("grooves")) - 1; n > 0 {
		add("carving")
	}
}

// foam is a chosen foam by its name.
func (f form) foam(field string) string {
	for _, o := range f.choices.Foams {
		if o.Value == f.Value(field) {
			return o.Label
		}
	}
	return f.Value(field)
}
