package web

import (
	"cmp"
	"net/url"
	"strconv"
	"strings"
	"time"
	"unicode"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// typing reads posted entries and gathers what is wrong with them, so that a person sees all of it at once.
type typing struct {
	v        url.Values
	problems fault.List
}

// number reads a decimal of at most 16 signs, with a point or a comma, and with the blanks between thousands that pages
// print. An entry left empty is wrong.
func (t *typing) number(field string) decimal.Decimal {
	typed := t.v.Get(field)
	s := strings.Replace(together(strings.TrimSpace(typed)), ",", ".", 1)
	d, err := decimal.NewFromString(s)
	if err != nil || len(s) > 16 || strings.ContainsAny(s, "eE") {
		t.problems.Add(field, typed, "Write a number, for example 2.5.")
		return decimal.Zero
	}
	return d
}

// together is a number without the blanks between its thousands; what has blanks elsewhere stays as it is.
func together(s string) string {
	parts := strings.FieldsFunc(s, unicode.IsSpace)
	if len(parts) < 2 || len(strings.Trim(parts[0], "+-")) > 3 {
		return s
	}
	for i, part := range parts[1:] {
		whole, _, _ := strings.Cut(strings.Replace(part, ",", ".", 1), ".")
		if len(whole) != 3 || whole != part && i < len(parts)-2 {
			return s
		}
	}
	return strings.Join(parts, "")
}

// optional is a number that may be left empty, which is nothing.
func (t *typing) optional(field string) decimal.Decimal {
	if d := t.maybe(field); d != nil {
		return *d
	}
	return decimal.Zero
}

// maybe is a number that may be left empty; nil then.
func (t *typing) maybe(field string) *decimal.Decimal {
	if strings.TrimSpace(t.v.Get(field)) == "" {
		return nil
	}
	d := t.number(field)
	return &d
}

// count reads a whole number; an entry left empty is 0.
func (t *typing) count(field string) int {
	typed := strings.TrimSpace(t.v.Get(field))
	if typed == "" {
		return 0
	}
	n, err := strconv.Atoi(typed)
	if err != nil {
		t.problems.Add(field, typed, "Write a whole number, for example 2.")
	}
	return n
}

// day reads a date as date entries send it; an entry left empty is no day.
func (t *typing) day(field string) time.Time {
	typed := strings.TrimSpace(t.v.Get(field))
	if typed == "" {
		return time.Time{}
	}
	d, err := time.Parse(time.DateOnly, typed)
	switch {
	case err != nil:
		t.problems.Add(field, typed, "Write a day, for example 2027-03-14.")
	case d.Year() < 2000 || d.Year() > 2200:
		t.problems.Add(field, typed, "Write a day between the years 2000 and 2200.")
	default:
		return d
	}
	return time.Time{}
}

// must is a day that has to be there.
func (t *typing) must(field string) time.Time {
	d := t.day(field)
	if strings.TrimSpace(t.v.Get(field)) == "" {
		t.problems.Add(field, "", "Write a day, for example 2027-03-14.")
	}
	return d
}

// under notes the problems of what was refused, a sentence about the whole at a field.
func (t *typing) under(field string, err error) error {
	if kind := fault.KindOf(err); err != nil && kind != fault.Invalid && kind != fault.Shortage && kind != fault.State {
		return err
	}
	for _, p := range fault.ProblemsOf(err) {
		p.Field = cmp.Or(p.Field, field)
		t.problems.Add(p.Field, p.Value, p.Remedy)
	}
	return nil
}

// byField are the problems beside their entries.
func (t *typing) byField() map[string]string {
	byField, _ := problemsOf(t.problems.Err()) // a list gives nothing but Invalid
	return byField
}
