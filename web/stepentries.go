package web

import (
	"cmp"
	"slices"
	"strconv"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/pricing/labour"
)

// Name, Note and the choices are the entries of the step.
func (d stepPage) Name() entry { return d.Text("name", "What is done", d.Step.Name) }

// Note is a line for the job sheet.
func (d stepPage) Note() entry { return d.Text("note", "Note, on the job sheet too", d.Step.Note) }

// Uses is what lies ready for it.
func (d stepPage) Uses() entry {
	return d.Text("uses", "Consumables, on the job sheet too", d.Step.Uses)
}

// Group chooses what it is logged with.
func (d stepPage) Group() entry {
	e := d.Text("group", "Group, as time is logged", d.Step.Group)
	for _, g := range d.known.Groups {
		e.Options = append(e.Options, option{g, labour.GroupName(g)})
	}
	return e.keep()
}

// Driver chooses what the work is counted by.
func (d stepPage) Driver() entry {
	return oneOf(d.Text("driver", "Counted by", string(d.Step.Driver)), d.known.Drivers)
}

// Scope chooses how often it is set up.
func (d stepPage) Scope() entry {
	e := d.Text("scope", "Set up once per", string(d.Step.Scope))
	e.Options = []option{{"job", "order"}, {"batch", "batch of six"}, {"item", "piece"}}
	return e.keep()
}

// People chooses how many work on it.
func (d stepPage) People() entry {
	is := string(d.Step.People)
	if d.Step.Crew > 1 {
		is = strconv.Itoa(d.Step.Crew)
	}
	return oneOf(d.Text("people", "People at once", is), d.known.People, option{"", "one"}, option{"2", "two"}, option{"3", "three"}, option{"4", "four"})
}

// Repeats chooses how often work and wait come again.
func (d stepPage) Repeats() entry {
	return oneOf(d.Text("repeats", "Done and waited for again, for each of", string(d.Step.Repeats)), d.known.Repeats, option{"", "once"})
}

// Place chooses where it is done.
func (d stepPage) Place() entry {
	return oneOf(d.Text("resource", "Takes a place at", d.Step.Resource), d.known.Places)
}

// Grade chooses whose hours they are; nothing where there is but the shop rate.
func (d stepPage) Grade() *entry {
	if len(d.grades) == 0 {
		return nil
	}
	e := oneOf(d.Text("grade", "Grade of labour", d.Step.Grade), d.grades, option{"", "the shop rate"})
	return &e
}

// Behind chooses its place in the order of making.
func (d stepPage) Behind() entry {
	is := ""
	if at := slices.IndexFunc(d.table, func(s labour.Step) bool { return s.Code == d.Step.Code }); at > 0 {
		is = d.table[at-1].Code
	} else if at < 0 {
		is = d.table[len(d.table)-1].Code
	}
	e := d.Text("behind", "Stands in the list behind", is)
	e.Options = []option{{"", "none: it is the first"}}
	for _, s := range d.table {
		if s.Code != d.Step.Code {
			e.Options = append(e.Options, option{s.Code, s.Name})
		}
	}
	return e.keep()
}

// Sets chooses what the wait goes by.
func (d stepPage) Sets() entry {
	e := d.Text("sets", "The wait goes by", string(cmp.Or(d.Step.Sets, materials.ByItself)))
	e.Options = []option{{"air", "warmth and damp: water dries"}, {"warmth", "warmth alone: glue sets"}, {"itself", "neither: it cools, or is left"}}
	return e.keep()
}

// Hidden keeps a step without counting it.
func (d stepPage) Hidden() entry {
	return d.tick("hidden", "Hidden: kept, and not counted", d.Step.Hidden)
}

func (d stepPage) tick(name, label string, is bool) entry {
	value := ""
	if is {
		value = "yes"
	}
	return d.Text(name, label, value)
}

// Factors are ratios that multiply the work.
func (d stepPage) Factors() (all []entry) {
	for i, f := range d.known.Factors {
		all = append(all, d.tick("factors."+strconv.Itoa(i), string(f), slices.Contains(d.Step.Factors, f)))
	}
	return all
}

// Cautions go onto the job sheet.
func (d stepPage) Cautions() (all []entry) {
	for _, k := range d.known.Cautions {
		all = append(all, d.tick("cautions."+k, k, slices.Contains(d.Step.Cautions, k)))
	}
	return all
}

// After are the steps it can come after: those above it, and those it does.
func (d stepPage) After() (all []entry) {
	at := slices.IndexFunc(d.table, func(s labour.Step) bool { return s.Code == d.Step.Code })
	for i, s := range d.table {
		if i != at && (at < 0 || i < at) {
			all = append(all, d.tick("after."+s.Code, s.Name, slices.Contains(d.Step.After, s.Code)))
		}
	}
	return all
}

// Comes says after what it comes, in names.
func (d stepPage) Comes() (names []string) {
	for _, s := range d.table {
		if slices.Contains(d.Step.After, s.Code) {
			names = append(names, s.Name)
		}
	}
	return names
}

// spreadRow is a spread to edit, with the program's own beside it.
type spreadRow struct {
	Label, Unit string
	Cells       [3]entry
	Usual       *labour.Spread
}

// Spreads are set-up, unit and wait.
func (d stepPage) Spreads() []spreadRow {
	row := func(name, label, unit string, is labour.Spread, of func(labour.Step) labour.Spread) spreadRow {
		r := spreadRow{Label: label, Unit: unit}
		for i, figure := range []struct {
			name  string
			value decimal.Decimal
		}{{"low", is.Low}, {"likely", is.Likely}, {"high", is.High}} {
			r.Cells[i] = d.Text(name+"."+figure.name, label+", "+figure.name, figure.value.String())
		}
		if d.Usual != nil {
			usual := of(*d.Usual)
			r.Usual = &usual
		}
		return r
	}
	return []spreadRow{
		row("setup", "Set-up", "min", d.Step.Setup, func(s labour.Step) labour.Spread { return s.Setup }),
		row("unit", "Each of what it is counted by", "min", d.Step.Unit, func(s labour.Step) labour.Spread { return s.Unit }),
		row("wait", "Wait afterwards", "h", d.Step.Wait, func(s labour.Step) labour.Spread { return s.Wait }),
	}
}

// oneOf offers a few words, and none first where it may be left out.
func oneOf[T ~string](e entry, words []T, none ...option) entry {
	e.Options = append(e.Options, none...)
	for _, w := range words {
		e.Options = append(e.Options, option{string(w), string(w)})
	}
	return e.keep()
}
