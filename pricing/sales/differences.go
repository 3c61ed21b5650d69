package sales

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"foamwright/materials"
	"foamwright/materials/orderform"
	"foamwright/pricing/words"
)

// Differences are the entries that two written specs differ in, in words: what was written and what is. An entry that is
// written differently and means the same is none. A row that came or went is one difference, told by what is in it.
func Differences(t words.Tongue, c materials.Catalogue, from, to orderform.Form) []MovedEntry {
	var all []MovedEntry
	was, is := from.Fields(), to.Fields()
	for _, path := range slices.SortedFunc(maps.Keys(merged(was, is)), inOrder) {
		if isRow(path) || same(path, was[path], is[path]) || !tells(to, path, was[path]) {
			continue
		}
		all = append(all, MovedEntry{EntryName(t, path), written(t, c, path, was[path]), written(t, c, path, is[path])})
	}
	for _, list := range []string{"pieces", "gems", "grooves", "paint", "parts", "steps"} {
		all = append(all, rowDifferences(t, c, list, was, is)...)
	}
	return once(all)
}

// tells is false where an entry could as well be written as it was: what is made would be the same. A page sends the
// usual words of entries that were left empty before.
func tells(f orderform.Form, path, was string) bool {
	other, err := f.With(map[string]string{path: was})
	if err != nil {
		return true
	}
	spec, err := f.Spec()
	if err != nil {
		return true
	}
	then, err := other.Spec()
	return err != nil || !reflect.DeepEqual(spec, then)
}

// ChangesIn are the differences that some changes make.
func ChangesIn(c materials.Catalogue, f orderform.Form, changes map[string]string) []MovedEntry {
	to, err := f.With(changes)
	if err != nil {
		return nil
	}
	return Differences(words.Tongue{}, c, f, to)
}

// In is the difference as a sentence for the customer.
func (m MovedEntry) In(t words.Tongue) string {
	switch {
	case m.Was == "":
		return t.Say("New: %s, %s.", m.What, m.Now)
	case m.Now == "":
		return t.Say("Left out: %s (%s).", m.What, m.Was)
	}
	return t.Say("%s: %s instead of %s.", Sentence(m.What), m.Now, m.Was)
}

// String is the difference in a few words.
func (m MovedEntry) String() string {
	switch {
	case m.Was == "":
		return m.What + ": " + m.Now
	case m.Now == "":
		return m.What + ": none, not " + m.Was
	}
	return m.What + ": " + m.Now + ", not " + m.Was
}

// once puts entries of one name together, as pitch and depth are of one grain, and leaves out what is no difference.
func once(all []MovedEntry) []MovedEntry {
	var kept []MovedEntry
	join := func(a, b string) string {
		if a == "" || b == "" || a == b {
			return a + strings.TrimPrefix(b, a)
		}
		return a + ", " + b
	}
	for _, m := range all {
		if m.Was == m.Now {
			continue
		}
		if i := slices.IndexFunc(kept, func(k MovedEntry) bool { return k.What == m.What }); i >= 0 {
			kept[i].Was, kept[i].Now = join(kept[i].Was, m.Was), join(kept[i].Now, m.Now)
			continue
		}
		kept = append(kept, m)
	}
	return kept
}

func merged(a, b map[string]string) map[string]string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

// same tells that two entries of a path say the same: nothing is as good as no, none and the usual.
func same(path, a, b string) bool {
	plain := func(s string) string {
		switch s = strings.ToLower(strings.TrimSpace(s)); s {
		case "no", "false", "off", "none", "0", usual(path):
			return ""
		case "true", "on":
			return "yes"
		}
		return s
	}
	return plain(a) == plain(b)
}

// usual is what an entry is where nothing is written; pages write it all the same.
func usual(path string) string {
	switch path {
	case "kind":
		return "shield"
	case "outline.is":
		return "core"
	case "outline.width_is":
		return "along the curve"
	case "outline.template":
		return "new"
	case "core.layers", "gems.layers", "paint.coats":
		return "2"
	case "core.templates":
		return "same"
	case "core.set":
		return "cold"
	case "core.joint":
		return "interlock"
	case "edge.corners":
		return "met"
	case "back.finish":
		return "plain"
	case "back.tool", "grooves.tool":
		return "knife"
	case "grip.hand":
		return "right"
	case "paint.where":
		return "face"
	case "quantity", "pieces.count", "pieces.layers", "gems.count", "grooves.passes", "parts.count", "parts.layers":
		return "1"
	}
	if strings.HasSuffix(path, ".prep") {
		return "keyed"
	}
	return ""
}

func isRow(path string) bool {
	_, rest, _ := strings.Cut(path, ".")
	number, _, _ := strings.Cut(rest, ".")
	_, err := strconv.Atoi(number)
	return err == nil
}

// inOrder is the order of making, as the entries stand in the form.
func inOrder(a, b string) int {
	order := []string{"kind", "name", "quantity", "rule", "first_time", "complexity", "outline", "core", "rim", "edge", "studs", "back", "grip", "coat", "clear_coats", "weathering", "filler", "caveat", "delivery"}
	place := func(path string) int {
		group, _, _ := strings.Cut(path, ".")
		return slices.Index(order, group)
	}
	if d := place(a) - place(b); d != 0 {
		return d
	}
	return strings.Compare(a, b)
}

// rowDifferences holds the rows of a list against each other: equal ones are the same wherever they stand, the others
// in their order.
func rowDifferences(t words.Tongue, c materials.Catalogue, list string, was, is map[string]string) []MovedEntry {
	old, now := rowsOf(list, was), rowsOf(list, is)
	for i := 0; i < len(old); i++ {
		if k := slices.IndexFunc(now, func(r row) bool { return r.same(list, old[i]) }); k >= 0 {
			old, now = slices.Delete(old, i, i+1), slices.Delete(now, k, k+1)
			i--
		}
	}
	var all []MovedEntry
	for i := range max(len(old), len(now)) {
		switch {
		case i >= len(now):
			all = append(all, MovedEntry{rowName(t, list, old[i].n+1), old[i].in(t, c, list), ""})
		case i >= len(old):
			all = append(all, MovedEntry{rowName(t, list, now[i].n+1), "", now[i].in(t, c, list)})
		default:
			for _, leaf := range slices.Sorted(maps.Keys(merged(old[i].fields, now[i].fields))) {
				path := list + "." + leaf
				if a, b := old[i].fields[leaf], now[i].fields[leaf]; !same(path, a, b) {
					all = append(all, MovedEntry{rowName(t, list, now[i].n+1) + ", " + entryName(t, path), written(t, c, path, a), written(t, c, path, b)})
				}
			}
		}
	}
	return all
}

// row is one row of a list: its number and its entries by their names in it.
type row struct {
	n      int
	fields map[string]string
}

// same tells that two rows say the same.
func (r row) same(list string, other row) bool {
	for leaf := range merged(r.fields, other.fields) {
		if !same(list+"."+leaf, r.fields[leaf], other.fields[leaf]) {
			return false
		}
	}
	return true
}

func rowsOf(list string, fields map[string]string) []row {
	at := map[int]map[string]string{}
	for path, typed := range fields {
		rest, ok := strings.CutPrefix(path, list+".")
		number, leaf, _ := strings.Cut(rest, ".")
		n, err := strconv.Atoi(number)
		if !ok || err != nil {
			continue
		}
		if at[n] == nil {
			at[n] = map[string]string{}
		}
		at[n][leaf] = typed
	}
	all := make([]row, 0, len(at))
	for n, f := range at {
		all = append(all, row{n, f})
	}
	sort.Slice(all, func(i, k int) bool { return all[i].n < all[k].n })
	return all
}

// in tells what a row is, by its name or by its measures.
func (r row) in(t words.Tongue, c materials.Catalogue, list string) string {
	if name := r.fields["name"]; name != "" {
		return name
	}
	var parts []string
	for _, leaf := range []string{"count", "width", "height", "colour", "tool", "length", "where", "coats", "minutes"} {
		if typed := r.fields[leaf]; typed != "" {
			said := written(t, c, list+"."+leaf, typed)
			if leaf == "count" {
				said += " ×"
			}
			parts = append(parts, said)
		}
	}
	if len(parts) == 0 {
		return t.Say("as drawn")
	}
	return strings.Join(parts, " ")
}

func dayOf(typed string) (time.Time, error) {
	day, err := time.Parse(time.DateOnly, strings.TrimSpace(typed))
	if err != nil {
		return day, fmt.Errorf("day %q: %w", typed, err)
	}
	return day, nil
}
