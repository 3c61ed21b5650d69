package sales

import (
	"fmt"
	"strconv"
	"strings"

	"foamwright/materials"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing/words"
)

// Figures that suggestions write: common practice, no source.
const (
	usualLatex   = "4"     // coats, where primer gives way to latex
	usualEmblem  = "1.5 m" // of carved line
	usualStraps  = "2"
	usualStack   = "5" // layers under a bar
	mostByName   = 3   // pieces that are offered to be left out one by one
	fewestPrimer = 2   // coats
)

// Suggestion is a change that is often asked for, ready to be offered: what it does in the customer's words is its
// Name, Says is the same in English for the maker. Its Key lasts as long as the spec it was made for.
type Suggestion struct {
	Option
	Says string
}

// Suggestions are the ready changes for a spec that the catalogue can serve, what saves most first as a rule of thumb.
// Each changes something; whether it can be made shows when it is priced.
func Suggestions(f orderform.Form, c materials.Catalogue, t words.Tongue) []Suggestion {
	names, english := suggest(f, c, t), suggest(f, c, words.Tongue{})
	var all []Suggestion
	for i, o := range names {
		if with, err := f.With(o.Changes); err == nil && changes(f, with) {
			all = append(all, Suggestion{o, english[i].Name})
		}
	}
	return all
}

func suggest(f orderform.Form, c materials.Catalogue, t words.Tongue) []Option {
	spec, err := f.Spec()
	if err != nil {
		return nil
	}
	s := suggesting{t: t}
	fields := f.Fields()
	if n := spec.Core.Layers; n > 1 {
		s.add("one-layer-fewer", t.Say("one layer of foam fewer"), "core.layers", strconv.Itoa(n-1))
	}
	if len(spec.Gems) > 0 {
		s.add("no-gems", t.Say("without gems"), "gems", "")
	}
	s.pieces(f)
	if spec.Rim != nil {
		s.add("no-rim", t.Say("without the rim"), "rim", "")
	}
	if _, ok := c.Liquid(materials.UsePrimer); ok && spec.Coat.System == "latex" {
		s.add("primer", t.Say("flexible primer instead of latex"), "coat.system", "primer", "coat.coats", strconv.Itoa(fewestPrimer))
	}
	if _, ok := c.Liquid(materials.UseLatex); ok && spec.Coat.System == "primer" {
		s.add("latex", t.Say("latex instead of primer"), "coat.system", "latex", "coat.coats", usualLatex)
	}
	if n := spec.Coat.Coats; n > fewestLatex && spec.Coat.System == "latex" || n > fewestPrimer && spec.Coat.System == "primer" {
		s.add("one-coat-fewer", t.Say("one coat fewer"), "coat.coats", strconv.Itoa(n-1))
	}
	if spec.ClearCoats > 0 {
		s.add("no-clear", t.Say("without clear coats"), "clear_coats", "")
	}
	if spec.Back.Finish == "planks" {
		if spec.Back.Tool == "rotary" {
			s.add("knife-planks", t.Say("planks cut by knife instead of the rotary tool"), "back.tool", "knife")
		}
		if spec.Back.GrainPitch > 0 {
			s.add("no-grain", t.Say("planks without wood grain"), "back.grain_pitch", "", "back.grain_depth", "")
		}
		s.add("plain-back", t.Say("plain back"), "back.finish", "plain", "back.plank_width", "", "back.grain_pitch", "", "back.grain_depth", "", "back.tool", "")
	}
	for i, g := range spec.Grooves[:min(len(spec.Grooves), len(f.Grooves))] {
		if g.Tool == "rotary" {
			s.add("knife-carving", t.Say("carving by knife instead of the rotary tool"), fmt.Sprintf("grooves.%d.tool", i), "knife")
			break
		}
	}
	if spec.Weathering > 0 {
		s.add("no-weathering", t.Say("without weathering"), "weathering", "")
	} else if len(spec.Paint) > 0 {
		s.add("weathering", t.Say("lightly weathered"), "weathering", "1")
	}
	s.grip(spec.Grip.Kind, fields, c)
	if spec.Core.Former > 0 || spec.Core.FormerIs != "" || spec.Core.Depth > 0 {
		s.add("flat", t.Say("flat instead of curved"), "core.former_radius", "", "core.former", "", "core.depth", "")
	}
	if spec.Kind == shield.Made {
		row := fmt.Sprintf("grooves.%d.", len(f.Grooves))
		s.add("carved-emblem", t.Say("a carved emblem"), row+"tool", "knife", row+"length", usualEmblem)
		s.add("one-layer-more", t.Say("one layer of foam more"), "core.layers", strconv.Itoa(spec.Core.Layers+1))
	}
	if spec.Delivery.Ship {
		s.add("collected", t.Say("collected instead of shipped"), "delivery.ship", "")
	} else {
		s.add("shipped", t.Say("shipped"), "delivery.ship", "yes")
	}
	return s.all
}

type suggesting struct {
	t   words.Tongue
	all []Option
}

// add puts a change on the list; pairs are the entries it writes.
func (s *suggesting) add(key, name string, pairs ...string) {
	changes := map[string]string{}
	for i := 0; i < len(pairs); i += 2 {
		changes[pairs[i]] = pairs[i+1]
	}
	s.all = append(s.all, Option{key, name, changes})
}

// pieces leave out raised pieces, few by their names, many at once.
func (s *suggesting) pieces(f orderform.Form) {
	switch n := len(f.Pieces); {
	case n == 0:
	case n > mostByName:
		s.add("no-pieces", s.t.Say("without raised pieces"), "pieces", "")
	default:
		for i, p := range f.Pieces {
			name := strings.TrimSpace(p.Name.String())
			if name == "" {
				name = fmt.Sprint(i + 1)
			}
			s.add(fmt.Sprintf("no-piece-%d", i+1), s.t.Say("without the raised piece “%s”", name), fmt.Sprintf("pieces.%d", i), "")
		}
	}
}

// grip offers another way to hold it, with its guard and its hand left as they are.
func (s *suggesting) grip(kind string, fields map[string]string, c materials.Catalogue) {
	_, strap := c.Good(materials.UseStrap)
	_, bar := c.Good(materials.UseBar)
	hand := func(pairs ...string) []string {
		if h := fields["grip.hand"]; h != "" {
			pairs = append(pairs, "grip.hand", h)
		}
		return append(pairs, "grip", "")
	}
	if strap && (kind == "bar" || kind == "strap and bar") {
		s.add("straps", s.t.Say("held by straps instead of a bar"), hand("grip.kind", "straps", "grip.strap", usualStraps)...)
	}
	if bar && (kind == "straps" || kind == "rope") {
		s.add("bar", s.t.Say("held by a bar on foam stacks"), hand("grip.kind", "bar", "grip.block_layers", usualStack)...)
	}
}
