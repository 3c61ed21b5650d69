package web

import (
	"cmp"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/orderform"
)

// values are the fields that were posted, without what nobody can see or type: it comes in with pasted text, and
// neither a page nor the books can hold it.
func values(c *fiber.Ctx) url.Values {
	v := url.Values{}
	for key, value := range c.Request().PostArgs().All() {
		v.Add(visible(key), visible(value))
	}
	return v
}

func visible(typed []byte) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) && r != '\n' && r != '\r' && r != '\t' {
			return -1
		}
		return r
	}, strings.ToValidUTF8(string(typed), ""))
}

// specValues are the posted fields that belong to the spec: all but the page's own.
func specValues(v url.Values) url.Values {
	spec := url.Values{}
	for name, typed := range v {
		if strings.HasPrefix(name, "options.") {
			continue
		}
		switch name {
		case "csrf", "do", "edit", "customer", "title", "digest", "gross", "note", "event":
		default:
			spec[name] = typed
		}
	}
	return spec
}

// entry is one field of a form: as it was typed, with what is wrong with it.
type entry struct {
	Name, Label, Value, Problem string
	Options                     []option
	Hint                        string
	ID                          string
	Asked                       string // what is still asked of the customer about it
}

// As is the entry under a label, with an example of what to write.
func (e entry) As(label, hint string) entry {
	e.Label, e.Hint = label, hint
	return e
}

type option struct{ Value, Label string }

// form is a written spec while it is edited.
type form struct {
	fields   map[string]string
	problems map[string]string
	choices  choices
	shown    map[string]bool   // entries the page has a place for
	notes    map[string]string // what is asked of the customer, by entry
}

// choices are what the catalogue and the rules offer in lists.
type choices struct {
	Foams, Colours, Rules, Formers []option
	Liquids, Goods                 map[string][]option // by use
}

func newForm(f orderform.Form, problems map[string]string, ch choices) form {
	return form{fields: f.Fields(), problems: problems, choices: ch, shown: map[string]bool{}}
}

// typed is a form whose entries could not even be read as one: shown as they were posted.
func typed(v url.Values, problems map[string]string, ch choices) form {
	fields, shown := map[string]string{}, map[string]bool{}
	for name := range v {
		fields[name] = v.Get(name)
	}
	for name := range problems {
		shown[name] = true // what has no place anywhere is not carried along
	}
	return form{fields: fields, problems: problems, choices: ch, shown: shown}
}

// Text is an entry to type in.
func (f form) Text(name, label, hint string) entry {
	f.shown[name] = true
	return entry{Name: name, Label: label, Value: f.fields[name], Problem: f.problems[name], Hint: hint, ID: id(name), Asked: f.notes[name]}
}

// Choice is an entry with words to choose from, each "value" or "value=label"; the first is the usual one.
func (f form) Choice(name, label string, words ...string) entry {
	e := f.Text(name, label, "")
	for _, w := range words {
		value, label, found := strings.Cut(w, "=")
		if !found {
			label = value
		}
		e.Options = append(e.Options, option{value, label})
	}
	return e.keep()
}

// Foam chooses a foam of the catalogue; none is the first word where it may be left out.
func (f form) Foam(name, label string, none ...string) entry {
	return f.list(name, label, f.choices.Foams, none)
}

// Colour chooses a paint of the catalogue.
func (f form) Colour(name, label string, none ...string) entry {
	return f.list(name, label, f.choices.Colours, none)
}

// Former chooses one of the workshop's formers.
func (f form) Former(name, label string) entry {
	return f.list(name, label, f.choices.Formers, []string{"none"})
}

// Liquid chooses a liquid of a use other than the usual one.
func (f form) Liquid(use, name, label string) entry {
	return f.list(name, label, f.choices.Liquids[use], []string{"the usual"})
}

// Good chooses a good of a use other than the usual one.
func (f form) Good(use, name, label string) entry {
	return f.list(name, label, f.choices.Goods[use], []string{"the usual"})
}

// Rule chooses a size rule.
func (f form) Rule(name, label string) entry {
	return f.list(name, label, f.choices.Rules, []string{"not stated"})
}

func (f form) list(name, label string, options []option, none []string) entry {
	e := f.Text(name, label, "")
	for _, n := range none {
		e.Options = append(e.Options, option{"", n})
	}
	e.Options = append(e.Options, options...)
	return e.keep()
}

// keep adds what was typed to the list when it is not on it: nothing typed is lost.
func (e entry) keep() entry {
	for _, o := range e.Options {
		if o.Value == e.Value {
			return e
		}
	}
	if e.Value != "" {
		e.Options = append(e.Options, option{e.Value, e.Value + " (unknown)"})
	}
	return e
}

// Tick is an entry to tick.
func (f form) Tick(name, label string) entry { return f.Text(name, label, "") }

// mostRows and mostRemedies are how many a page shows; a form of ours has no more.
const mostRows, mostRemedies = 61, 100

// Rows are the numbers of a list's rows, with one more to fill in: "pieces" gives 0, 1 and 2 where two are there.
func (f form) Rows(list string) []string {
	seen := map[int]bool{}
	for name := range f.fields {
		if rest, ok := strings.CutPrefix(name, list+"."); ok {
			number, _, _ := strings.Cut(rest, ".")
			if n, err := strconv.Atoi(number); err == nil {
				seen[n] = true
			}
		}
	}
	at := []int{}
	for n := range seen {
		at = append(at, n)
	}
	sort.Ints(at)
	at = at[:min(len(at), mostRows-1)]
	rows := []string{}
	next := 0
	for _, n := range at {
		rows = append(rows, fmt.Sprintf("%s.%d.", list, n))
		next = n + 1
	}
	return append(rows, fmt.Sprintf("%s.%d.", list, next))
}

// Rest are the entries that were written elsewhere, by a program or in a file, and that the page had no place for:
// it carries them along unseen, so that keeping a spec loses nothing of it. Ask after all others.
func (f form) Rest() []entry {
	var rest []entry
	for _, name := range slices.Sorted(maps.Keys(f.fields)) {
		if !f.shown[name] {
			rest = append(rest, entry{Name: name, Value: f.fields[name]})
		}
	}
	return rest
}

// Places are the rows of a gem's places, with one more to fill in.
func (f form) Places(gem string) []string { return f.Rows(strings.TrimSuffix(gem, ".") + ".at") }

// Sections are those with a sentence, in the order of making.
func (f form) Sections() []string {
	return []string{"outline", "core", "rim", "edge", "face", "back", "grip", "coat", "own", "delivery"}
}

// Remedies are the problems in the order of their names, each with the field it is about.
func (f form) Remedies() []entry {
	var all []entry
	for _, name := range slices.SortedFunc(maps.Keys(f.problems), inRows) {
		if len(all) == mostRemedies {
			return append(all, entry{Problem: fmt.Sprintf("and %d more.", len(f.problems)-mostRemedies)})
		}
		all = append(all, entry{Name: name, Label: spoken(name), Problem: f.problems[name], ID: id(name)})
	}
	return all
}

// inRows orders fields by name, and rows by number: pieces.2 before pieces.10.
func inRows(a, b string) int {
	return slices.CompareFunc(strings.Split(a, "."), strings.Split(b, "."), func(a, b string) int {
		n, errA := strconv.Atoi(a)
		m, errB := strconv.Atoi(b)
		if errA == nil && errB == nil {
			return cmp.Compare(n, m)
		}
		return cmp.Compare(a, b)
	})
}

// spoken is a field as one says it: pieces.0.at.x is "piece 1, at, x".
func spoken(name string) string {
	one := map[string]string{"pieces": "piece", "grooves": "carving", "paint": "colour", "at": "place"}
	var said []string
	for _, part := range strings.Split(strings.ReplaceAll(name, "_", " "), ".") {
		if n, err := strconv.Atoi(part); err == nil && len(said) > 0 {
			last := &said[len(said)-1]
			*last = fmt.Sprint(cmp.Or(one[*last], *last), " ", n+1)
			continue
		}
		said = append(said, part)
	}
	return strings.Join(said, ", ")
}

// Wrong tells how many entries below a path have a problem, to open their section.
func (f form) Wrong(paths ...string) int {
	n := 0
	for field := range f.problems {
		for _, p := range paths {
			if field == p || strings.HasPrefix(field, p+".") {
				n++
			}
		}
	}
	return n
}

// Value is an entry as typed.
func (f form) Value(name string) string { return f.fields[name] }

// id makes a field's name fit for an id.
func id(name string) string { return "f-" + strings.NewReplacer(".", "-", " ", "_").Replace(name) }
