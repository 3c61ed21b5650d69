package fault

import "unicode/utf8"

// shown is how much of a typed value is repeated in a message.
const shown = 60

// List gathers problems so that a person sees all of them at once.
type List struct{ problems []Problem }

// Add notes one problem.
func (l *List) Add(field, value, remedy string) {
	l.problems = append(l.problems, Problem{Field: field, Value: Shorten(value), Remedy: remedy})
}

// Take notes the problems of err under a field prefix; an error that is no fault is returned untouched.
func (l *List) Take(field string, err error) error {
	if err == nil {
		return nil
	}
	if KindOf(err) == Internal {
		return err
	}
	for _, p := range ProblemsOf(err) {
		switch {
		case p.Field == "":
			p.Field = field
		case field != "":
			p.Field = field + "." + p.Field
		}
		l.problems = append(l.problems, p)
	}
	return nil
}

// Len is how many problems were noted.
func (l *List) Len() int { return len(l.problems) }

// Empty tells whether nothing was noted.
func (l *List) Empty() bool { return len(l.problems) == 0 }

// Err is nil when nothing was noted, else an Invalid fault with every problem.
func (l *List) Err() error {
	if l.Empty() {
		return nil
	}
	return &Fault{Kind: Invalid, Message: "Some entries need another look.", Problems: l.problems}
}

// Shorten cuts a typed value to what fits in a message, between characters.
func Shorten(s string) string {
	if utf8.RuneCountInString(s) <= shown {
		return s
	}
	r := []rune(s)
	return string(r[:shown-1]) + "…"
}
