package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"pgregory.net/rapid"

	"foamwright/materials"
)

// writer draws specs that can be made, of every kind of entry that the order form has.
type writer struct {
	*rapid.T
	catalogue materials.Catalogue
}

type entries = map[string]any

func (w writer) number(least, most int) int { return rapid.IntRange(least, most).Draw(w.T, "number") }
func (w writer) mm(least, most int) string  { return fmt.Sprintf("%d mm", w.number(least, most)) }
func (w writer) maybe() bool                { return rapid.Bool().Draw(w.T, "maybe") }
func (w writer) one(of ...string) string    { return rapid.SampledFrom(of).Draw(w.T, "one of") }
func (w writer) colour() string             { return w.one(w.catalogue.Colours()...) }
func (w writer) thin() string               { return w.one("sheet-2", "sheet-3", "half-3", "sheet-5") }
func (w writer) place() entries             { return entries{"x": w.number(-100, 100), "y": w.number(50, 250)} }

// rows are up to two rows, so that most specs have some of everything.
func (w writer) rows(one func() entries) []entries {
	var all []entries
	for range w.number(0, 2) {
		all = append(all, one())
	}
	return all
}

// star is path data of a star about so large, of lines or curves, always the right way round and never crossing itself.
func (w writer) star(x, y, size int) string {
	n, d := w.number(3, 7), strings.Builder{}
	for i := range 2 * n {
		s, c := math.Sincos(math.Pi * float64(i) / float64(n))
		r := float64(size) / 2
		if i%2 == 1 {
			r *= float64(w.number(50, 90)) / 100
		}
		fmt.Fprintf(&d, "%c%.3f %.3f", "ML"[min(i, 1)], float64(x)+r*c, float64(y)+r*s)
	}
	return d.String() + "Z"
}

func (w writer) outline() entries {
	o := entries{"shape": w.one("round", "oval", "rectangle", "heater", "kite", "polygon", "half", "path", "path"),
		"is": w.one("core", "finished"), "width_is": w.one("along the curve", "straight across", "flat"), "template": w.one("new", "have")}
	switch o["shape"] {
	case "round":
		o["diameter"] = w.mm(400, 700)
	case "polygon":
		o["width"], o["sides"] = w.mm(400, 700), w.number(4, 12)
	case "half":
		o["d"] = fmt.Sprintf("M0 0H%d V%d Q%d %d 0 %d", w.number(200, 300), w.number(200, 300), w.number(200, 300), w.number(400, 500), w.number(600, 800))
	case "path":
		if o["d"] = w.star(300, 300, 600); w.maybe() {
			o["svg"] = fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg"><path id="outline" d="%s"/><path id="pieces-boss" d="M-40 200h80v80h-80z"/></svg>`, o["d"])
			o["unit"] = "1 mm"
			delete(o, "d")
		}
	default:
		o["width"], o["height"], o["shoulder"], o["corner"] = w.mm(400, 700), w.mm(700, 1000), w.mm(150, 250), w.mm(0, 100)
	}
	return o
}

func (w writer) core() entries {
	c := entries{"foam": w.one(w.catalogue.FoamCodes()...), "layers": w.number(1, 4), "templates": w.one("same", "per layer"), "set": w.one("cold", "heat"),
		"joint": w.one("interlock", "butt"), "prep": w.one("keyed", "flat", "smooth"), "joint_glue": w.one("", "contact")}
	switch w.number(0, 5) {
	case 3:
		c["former"] = "Standard 500"
	case 0, 1:
		c["former_radius"] = w.mm(400, 900)
	case 2:
		c["depth"] = w.mm(80, 110)
	}
	return c
}

func (w writer) face(s entries) {
	s["pieces"] = w.rows(func() entries {
		p := entries{"name": w.one("boss", "crest"), "foam": w.thin(), "d": w.star(0, 0, w.number(60, 160)), "mirror": w.maybe(), "count": w.number(1, 3),
			"layers": w.number(1, 3), "colour": w.colour(), "turn": w.number(-180, 180), "prep": w.one("keyed", "flat", "smooth")}
		if w.maybe() {
			p["at"] = w.place()
		}
		return p
	})
	s["gems"] = w.rows(func() entries {
		g := entries{"width": w.mm(20, 90), "height": w.mm(20, 90), "layers": w.number(1, 4), "count": w.number(1, 4), "foam": w.thin(), "colour": w.colour(), "faceted": w.maybe(),
			"turn": w.number(-180, 180), "prep": w.one("keyed", "flat", "smooth")}
		if w.maybe() {
			g["at"] = []entries{w.place()}
		}
		return g
	})
	s["grooves"] = w.rows(func() entries {
		g := entries{"tool": w.one("knife", "rotary"), "passes": w.number(1, 3), "knotwork": w.maybe(), "length": w.mm(100, 3000)}
		if w.maybe() {
			g["d"] = "M-100 100C-50 200 50 0 100 100"
			delete(g, "length")
			if w.maybe() {
				g["at"] = w.place()
			}
		}
		return g
	})
	s["paint"] = w.rows(func() entries {
		return entries{"colour": w.colour(), "where": w.one("face", "face", "edge", "back"), "coats": w.number(1, 4)}
	})
	if w.maybe() {
		s["rim"] = entries{"foam": w.thin(), "width": w.mm(20, 50), "colour": w.colour(), "prep": w.one("keyed", "flat", "smooth")}
	}
	if w.maybe() {
		s["edge"] = entries{"foam": w.thin(), "corners": w.one("met", "wrapped"), "prep": w.one("keyed", "flat", "smooth")}
	}
}

// spec is a whole order: mostly a shield, now and then a prop or a repair of free parts.
func (w writer) spec() []byte {
	s := entries{
		"kind": w.one("shield", "shield", "shield", "prop", "repair"), "name": "Any shield", "quantity": w.number(1, 7), "rule": w.one("", "marsh-medium", "fen-round"),
		"first_time": w.maybe(), "complexity": w.number(0, 5), "studs": w.number(0, 12), "clear_coats": w.number(0, 3), "weathering": w.number(0, 3),
		"filler": w.one("", "filler", "filler-hot-melt", "filler-clay"), "caveat": w.one("", "What lies under the coat is seen only then."),
		"grip": entries{"kind": w.one("none", "bar", "straps", "strap and bar", "rope"), "block_layers": w.number(0, 5), "strap": w.number(0, 3), "thumb_guard": w.maybe(),
			"hand": w.one("right", "left", "either"), "block_length": w.mm(80, 160), "block_width": w.mm(40, 80), "cover_layers": w.number(0, 2), "adjustable": w.maybe(),
			"taper": w.mm(0, 5), "bar": w.one("", "bar-tube")},
		"coat":     entries{"system": w.one("none", "latex", "primer"), "coats": w.number(1, 6)},
		"delivery": entries{"by": w.one("", "2026-03-16", "2026-09-01"), "ship": w.maybe()},
		"parts": w.rows(func() entries {
			p := entries{"name": "plate", "foam": w.thin(), "count": w.number(1, 3), "layers": w.number(1, 3), "colour": w.colour(), "loose": w.maybe(), "width": w.mm(50, 400), "height": w.mm(50, 400)}
			if w.maybe() {
				p["d"] = w.star(0, 0, 200)
				delete(p, "width")
				delete(p, "height")
			}
			return p
		}),
		"steps": []entries{{"name": "Sign it", "minutes": w.number(1, 40)}},
	}
	if s["kind"] == "shield" {
		s["outline"], s["core"] = w.outline(), w.core()
		s["back"] = entries{"finish": w.one("plain", "planks"), "tool": w.one("knife", "rotary"), "plank_width": w.mm(50, 100), "grain_pitch": w.mm(5, 20), "grain_depth": w.one("0 mm", "0.5 mm")}
		if w.maybe() {
			s["back"].(entries)["seam_strip"] = entries{"foam": "sheet-2", "width": w.mm(20, 40)}
		}
		w.face(s)
	}
	data, err := json.Marshal(s)
	if err != nil {
		w.Fatal(err)
	}
	return data
}
