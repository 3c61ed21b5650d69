package web

import (
	"net/url"
	"strings"

	"foamwright/api/problem"
)

// forms are the forms of a page that has several: one of them may have been refused, and is shown as it was typed.
type forms struct {
	Form     string // which one
	v        url.Values
	problems map[string]string
}

// refused is a form that was not taken, with the status to answer with; an error that nobody can mend comes back.
func refused(form string, t *typing, err error) (forms, int, error) {
	if err == nil {
		err = t.problems.Err()
	}
	status := problem.Status(err)
	problems, err := problemsOf(err)
	return forms{form, t.v, problems}, status, err
}

// Text is an entry as it was typed; usual stands there until then.
func (f forms) Text(form, name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, ID: "f-" + form + "-" + strings.NewReplacer(".", "-", " ", "_").Replace(name)}
	if form == f.Form {
		e.Value, e.Problem = f.v.Get(name), f.problems[name]
	}
	return e
}

// Choose is an entry with a list to choose from.
func (f forms) Choose(form, name, label, usual string, options []option) entry {
	e := f.Text(form, name, label, usual)
	e.Options = options
	return e
}

// Ticked tells that a box is ticked.
func (f forms) Ticked(form, name string, usual bool) bool {
	if form == f.Form {
		return f.v.Get(name) != ""
	}
	return usual
}

// Whole is what is wrong with a form as a whole.
func (f forms) Whole(form string) string {
	if form != f.Form {
		return ""
	}
	return f.problems[""]
}

// Today is the usual day.
func (forms) Today() string { return iso(today()) }

// Problems are what is wrong by entry.
func (f forms) Problems() map[string]string { return f.problems }
