package labour

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/takeoff"
)

// How many rows a table may have, and people a step.
const (
	mostSteps = 200
	mostCrew  = 10
)

// Known is what a row of a table may say: the words of the seed, which uses everything the take-off counts.
type Known struct {
	Groups                            []string
	Drivers, Factors, People, Repeats []takeoff.Driver
	Waits                             []takeoff.Driver
	Places, Cautions                  []string
}

// KnownOf gathers the words of a table, in the order they come up.
func KnownOf(table []Step) (k Known) {
	for _, s := range table {
		k.Groups, k.Places = once(k.Groups, s.Group), once(k.Places, s.Resource)
		k.Drivers, k.People, k.Repeats = once(k.Drivers, s.Driver), once(k.People, s.People), once(k.Repeats, s.Repeats)
		k.Waits = once(k.Waits, s.WaitOf)
		k.Factors, k.Cautions = once(k.Factors, s.Factors...), once(k.Cautions, s.Cautions...)
	}
	return k
}

func once[T ~string](list []T, words ...T) []T {
	for _, w := range words {
		if w != "" && !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

// Merged is a stored table with the steps of a newer program that it does not have yet, each behind the one it follows
// in the program's and behind all it comes after. What is stored stays as it is; what is hidden stays hidden. A step
// that does not know yet what its wait goes by has it from the program's, or goes by itself.
func Merged(table, program []Step) []Step {
	merged, before := slices.Clone(table), -1
	at := func(code string) int {
		return slices.IndexFunc(merged, func(s Step) bool { return s.Code == code })
	}
	for _, s := range program {
		if i := at(s.Code); i >= 0 {
			merged[i].Sets = cmp.Or(merged[i].Sets, s.Sets)
			before = i
			continue
		}
		for _, code := range s.After {
			before = max(before, at(code))
		}
		before++
		merged = slices.Insert(merged, before, s)
	}
	for i := range merged {
		merged[i].Sets = cmp.Or(merged[i].Sets, materials.ByItself)
	}
	return merged
}

// CodeOf is the code of a new step: its name in small letters, with a number where a table has it already.
func CodeOf(name string, table []Step) string {
	return materials.CodeOf("step "+name, func(code string) bool { return slices.ContainsFunc(table, func(s Step) bool { return s.Code == code }) })
}

// CheckTable is nil when work can be planned with a table, else a fault with everything that is wrong; its fields are
// the code of a step and an entry, "cut.unit.low". grades are those that a step may name.
func CheckTable(table []Step, grades []string) error {
	var l fault.List
	seed, err := Seed()
	if err != nil {
		return err
	}
	known := KnownOf(seed)
	if len(table) > mostSteps {
		l.Add("", strconv.Itoa(len(table)), fmt.Sprintf("These are too many steps. Keep at most %d.", mostSteps))
		return l.Err()
	}
	above := map[string]bool{}
	for _, s := range table {
		s.check(&l, known, grades, above)
		above[s.Code] = true
	}
	for _, s := range seed {
		if !above[s.Code] {
			l.Add(s.Code, "", fmt.Sprintf("%s is a step of the program and cannot be taken away. Hide it.", s.Name))
		}
	}
	return l.Err()
}

// check adds what is wrong with a step below those above it.
func (s Step) check(l *fault.List, known Known, grades []string, above map[string]bool) {
	wrong := func(entry, value, remedy string) { l.Add(s.Code+"."+entry, value, remedy) }
	if !regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`).MatchString(s.Code) || len(s.Code) > 40 || strings.HasPrefix(s.Code, "own-") {
		wrong("code", s.Code, "Write a code of small letters and digits with hyphens between, up to 40; those that begin with own- are taken.")
	}
	if above[s.Code] {
		wrong("code", s.Code, "Another step has this code. Choose another.")
	}
	if n := utf8.RuneCountInString(strings.TrimSpace(s.Name)); n == 0 || n > 80 {
		wrong("name", s.Name, "Write what is done, in up to 80 letters.")
	}
	if utf8.RuneCountInString(s.Uses) > 200 {
		wrong("uses", s.Uses, "This is too long. Shorten it.")
	}
	if utf8.RuneCountInString(s.Note) > 400 {
		wrong("note", s.Note, "This is too long. Shorten it.")
	}
	among(l, s.Code+".group", s.Group, known.Groups)
	among(l, s.Code+".driver", s.Driver, known.Drivers)
	among(l, s.Code+".scope", s.Scope, []Scope{PerJob, PerBatch, PerItem})
	among(l, s.Code+".resource", s.Resource, append([]string{""}, known.Places...))
	among(l, s.Code+".people", s.People, append([]takeoff.Driver{""}, known.People...))
	if s.Crew < 0 || s.Crew > mostCrew {
		wrong("crew", strconv.Itoa(s.Crew), fmt.Sprintf("Write how many work on it at once, up to %d, or 0 where the piece decides it.", mostCrew))
	}
	among(l, s.Code+".repeats", s.Repeats, append([]takeoff.Driver{""}, known.Repeats...))
	among(l, s.Code+".wait_of", s.WaitOf, append([]takeoff.Driver{""}, known.Waits...))
	among(l, s.Code+".sets", s.Sets, materials.Settings())
	among(l, s.Code+".grade", s.Grade, append([]string{""}, grades...))
	for _, f := range s.Factors {
		among(l, s.Code+".factors", f, known.Factors)
	}
	for _, c := range s.Cautions {
		among(l, s.Code+".cautions", c, known.Cautions)
	}
	for _, a := range s.After {
		if !above[a] {
			wrong("after", a, "A step comes after steps that stand above it. Move it down, or take this one out.")
		}
	}
	s.Setup.check(l, s.Code+".setup", 1440, "minutes")
	s.Unit.check(l, s.Code+".unit", 1440, "minutes")
	s.Wait.check(l, s.Code+".wait", 720, "hours")
}

// check adds what is wrong with a spread.
func (s Spread) check(l *fault.List, field string, most int64, unit string) {
	figures := []struct {
		name  string
		value decimal.Decimal
	}{{"low", s.Low}, {"likely", s.Likely}, {"high", s.High}}
	for i, f := range figures {
		switch {
		case f.value.IsNegative() || f.value.GreaterThan(decimal.NewFromInt(most)) || !f.value.Equal(f.value.Round(2)):
			l.Add(field+"."+f.name, f.value.String(), fmt.Sprintf("Write %s from 0 to %d, with at most two places.", unit, most))
		case i > 0 && f.value.LessThan(figures[i-1].value):
			l.Add(field+"."+f.name, f.value.String(), fmt.Sprintf("This is less than what is %s. Low, likely and high go up.", figures[i-1].name))
		}
	}
}

func among[T ~string](l *fault.List, field string, value T, known []T) {
	if slices.Contains(known, value) {
		return
	}
	var words []string
	for _, k := range known {
		if k != "" {
			words = append(words, string(k))
		}
	}
	remedy := "Choose one of: " + strings.Join(words, ", ") + "."
	if len(words) == 0 {
		remedy = "There is none to choose yet. Leave it empty."
	}
	l.Add(field, string(value), remedy)
}
