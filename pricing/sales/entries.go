package sales

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"foamwright/materials"
	"foamwright/materials/orderform"
	"foamwright/pricing/words"
)

// entryName is what an entry of the spec is called, by its path without the numbers of rows.
func entryName(t words.Tongue, path string) string {
	switch path {
	case "name":
		return t.Say("name")
	case "quantity":
		return t.Say("how many")
	case "rule":
		return t.Say("size rule")
	case "kind":
		return t.Say("what it is")
	case "first_time":
		return t.Say("made for the first time")
	case "complexity":
		return t.Say("how fine the drawing is")
	case "outline", "outline.shape", "outline.d", "outline.svg", "outline.file", "outline.unit":
		return t.Say("shape")
	case "outline.diameter":
		return t.Say("diameter")
	case "outline.width":
		return t.Say("width")
	case "outline.height":
		return t.Say("height")
	case "outline.shoulder":
		return t.Say("height of the shoulder")
	case "outline.corner":
		return t.Say("corner radius")
	case "outline.sides":
		return t.Say("number of sides")
	case "outline.width_is":
		return t.Say("how the width is measured")
	case "outline.is":
		return t.Say("what the size is of")
	case "outline.template":
		return t.Say("template")
	case "core.foam":
		return t.Say("foam of the layers")
	case "core.layers":
		return t.Say("layers")
	case "core.former_radius", "core.former", "core.depth":
		return t.Say("curve")
	case "core.templates":
		return t.Say("templates of the layers")
	case "core.set":
		return t.Say("how the curve is set")
	case "core.joint", "core.joint_glue":
		return t.Say("joints")
	case "core.prep", "rim.prep", "edge.prep", "pieces.prep", "gems.prep":
		return t.Say("faces before gluing")
	case "rim", "rim.width":
		return t.Say("width of the rim")
	case "rim.foam":
		return t.Say("foam of the rim")
	case "rim.colour":
		return t.Say("colour of the rim")
	case "edge", "edge.foam":
		return t.Say("edge strip")
	case "edge.corners":
		return t.Say("corners of the edge strip")
	case "studs":
		return t.Say("studs")
	case "back", "back.finish":
		return t.Say("back")
	case "back.tool":
		return t.Say("tool for the planks")
	case "back.plank_width":
		return t.Say("width of the planks")
	case "back.grain_pitch", "back.grain_depth":
		return t.Say("wood grain")
	case "back.seam_strip", "back.seam_strip.width", "back.seam_strip.foam":
		return t.Say("cover strip on the back")
	case "grip", "grip.kind":
		return t.Say("grip")
	case "grip.block_layers", "grip.block_length", "grip.block_width", "grip.taper", "grip.cover_layers":
		return t.Say("stack under the grip")
	case "grip.strap":
		return t.Say("straps")
	case "grip.thumb_guard":
		return t.Say("thumb guard")
	case "grip.hand":
		return t.Say("hand")
	case "grip.bar":
		return t.Say("bar of the grip")
	case "grip.adjustable":
		return t.Say("adjustable grip")
	case "coat", "coat.system":
		return t.Say("coat")
	case "coat.coats":
		return t.Say("coats")
	case "clear_coats":
		return t.Say("clear coats")
	case "weathering":
		return t.Say("weathering")
	case "filler":
		return t.Say("filler")
	case "caveat":
		return t.Say("what the price leaves open")
	case "delivery.by":
		return t.Say("wanted by")
	case "delivery.ship":
		return t.Say("shipped")
	}
	return leafName(t, path)
}

// leafName is what an entry of a row is called, "count" of "gems.count".
func leafName(t words.Tongue, path string) string {
	switch path[strings.LastIndexByte(path, '.')+1:] {
	case "name":
		return t.Say("name")
	case "foam":
		return t.Say("foam")
	case "d", "mirror":
		return t.Say("shape")
	case "count":
		return t.Say("how many")
	case "layers":
		return t.Say("layers")
	case "colour":
		return t.Say("colour")
	case "x", "y", "turn", "at":
		return t.Say("place")
	case "width":
		return t.Say("width")
	case "height":
		return t.Say("height")
	case "faceted":
		return t.Say("faceted")
	case "tool":
		return t.Say("tool")
	case "length":
		return t.Say("length")
	case "passes":
		return t.Say("passes")
	case "knotwork":
		return t.Say("knotwork")
	case "where":
		return t.Say("painted on")
	case "coats":
		return t.Say("coats")
	case "minutes":
		return t.Say("minutes")
	}
	return strings.ReplaceAll(path, "_", " ")
}

// rowName is what a row of a list is called, "gems 2".
func rowName(t words.Tongue, list string, n int) string {
	switch list {
	case "pieces":
		return t.Say("piece %d", n)
	case "gems":
		return t.Say("gems %d", n)
	case "grooves":
		return t.Say("carving %d", n)
	case "paint":
		return t.Say("paint %d", n)
	case "parts":
		return t.Say("part %d", n)
	case "steps":
		return t.Say("work %d", n)
	}
	return fmt.Sprint(list, " ", n)
}

// EntryName is what the entry of a path is called: "gems 1, how many" for gems.0.count.
func EntryName(t words.Tongue, path string) string {
	list, rest, _ := strings.Cut(path, ".")
	number, leaf, _ := strings.Cut(rest, ".")
	n, err := strconv.Atoi(number)
	switch {
	case err != nil:
		return entryName(t, path)
	case leaf == "":
		return rowName(t, list, n+1)
	}
	return rowName(t, list, n+1) + ", " + entryName(t, list+"."+leaf)
}

// Changeable is an entry of a written spec that an option may write, with what is written there now.
type Changeable struct{ Path, What, Now string }

// single are the entries outside lists that a customer has an opinion on, in the order of making.
func single() []string {
	return []string{
		"outline.diameter", "outline.width", "outline.height", "outline.shoulder", "core.layers", "core.foam", "core.former_radius", "core.set",
		"rim.width", "rim.foam", "rim.colour", "edge.foam", "edge.corners", "studs", "back.finish", "back.tool", "back.plank_width", "back.grain_pitch",
		"grip.kind", "grip.hand", "grip.block_layers", "grip.strap", "grip.thumb_guard", "grip.adjustable", "coat.system", "coat.coats",
		"clear_coats", "weathering", "delivery.by", "delivery.ship",
	}
}

// Changeables are the entries of a spec to pick from when an option is made by hand: all that a customer has an opinion
// on, and those of the rows that are there.
func Changeables(f orderform.Form, c materials.Catalogue) []Changeable {
	fields := f.Fields()
	var all []Changeable
	add := func(path string) {
		all = append(all, Changeable{path, EntryName(words.Tongue{}, path), written(words.Tongue{}, c, path, fields[path])})
	}
	for _, path := range single() {
		// Of the shape only its own measures.
		if strings.HasPrefix(path, "outline.") && fields[path] == "" {
			continue
		}
		add(path)
	}
	for _, list := range []struct {
		name   string
		rows   int
		leaves []string
	}{
		{"pieces", len(f.Pieces), []string{"count", "layers", "foam", "colour"}},
		{"gems", len(f.Gems), []string{"count", "width", "height", "layers", "colour"}},
		{"grooves", len(f.Grooves), []string{"tool", "length", "passes"}},
		{"paint", len(f.Paint), []string{"colour", "where", "coats"}},
	} {
		for i := range min(list.rows, 12) {
			for _, leaf := range list.leaves {
				add(fmt.Sprintf("%s.%d.%s", list.name, i, leaf))
			}
		}
	}
	return all
}

// written is what is written in an entry, in words: a foam by its name, a drawing as such.
func written(t words.Tongue, c materials.Catalogue, path, typed string) string {
	leaf := path[strings.LastIndexByte(path, '.')+1:]
	switch {
	case typed == "":
		return ""
	case leaf == "foam":
		if f, ok := c.Foam(typed); ok {
			return f.Name
		}
	case slices.Contains([]string{"d", "svg", "file"}, leaf) || len([]rune(typed)) > 60:
		return t.Say("as drawn")
	case path == "weathering":
		switch typed {
		case "1":
			return t.Say("light")
		case "2":
			return t.Say("visible")
		case "3":
			return t.Say("heavy")
		case "0":
			return t.Say("none")
		}
	case path == "delivery.by":
		if day, err := dayOf(typed); err == nil {
			return t.Date(day)
		}
	}
	return said(t, typed)
}

// said is a word that entries are written with.
func said(t words.Tongue, typed string) string {
	switch strings.ToLower(strings.TrimSpace(typed)) {
	case "yes", "true", "on":
		return t.Say("yes")
	case "no", "false", "off":
		return t.Say("no")
	case "none":
		return t.Say("none")
	case "latex":
		return t.Say("latex")
	case "primer":
		return t.Say("flexible primer")
	case "plain":
		return t.Say("plain")
	case "planks":
		return t.Say("planks")
	case "knife":
		return t.Say("knife")
	case "rotary":
		return t.Say("rotary tool")
	case "bar":
		return t.Say("a bar on foam stacks")
	case "straps":
		return t.Say("by straps")
	case "strap and bar":
		return t.Say("strap and bar")
	case "rope":
		return t.Say("a rope grip")
	case "left":
		return t.Say("left")
	case "right":
		return t.Say("right")
	case "either":
		return t.Say("either")
	case "face":
		return t.Say("face")
	case "rim":
		return t.Say("rim")
	case "edge":
		return t.Say("edge")
	case "back":
		return t.Say("back")
	}
	return typed
}
