package web

import (
	"cmp"
	"errors"
	"net/url"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/fault"
)

// forms are the forms of a page that has several: one of them may have been refused, and is shown as it was typed.
type forms struct {
	Form     string // which one
	v        url.Values
	problems map[string]string
	cause    error
}

// act runs a form that was posted: on to where it leads, or to its page again when it was refused.
func act(c *fiber.Ctx, form string, do func(t *typing) (to string, err error), again func(status int, f forms) error) error {
	t := &typing{v: values(c)}
	to, err := do(t)
	if err == nil && t.problems.Empty() {
		return c.Redirect(to, fiber.StatusSeeOther)
	}
	f, status, err := refused(form, t, err)
	if err != nil {
		return err
	}
	return again(status, f)
}

// refused is a form that was not taken, with the status to answer with; an error that nobody can mend comes back.
func refused(form string, t *typing, err error) (forms, int, error) {
	if err == nil {
		err = t.problems.Err()
	}
	problems, wrong := problemsOf(err)
	return forms{form, t.v, problems, err}, problem.Status(err), wrong
}

// unlessChanged shows a form again, but passes a conflict on: what the form is about is not as it was, and may have no
// place for it any more.
func unlessChanged(again func(status int, f forms) error) func(status int, f forms) error {
	return func(status int, f forms) error {
		if fault.KindOf(f.cause) == fault.Conflict {
			return f.cause
		}
		return again(status, f)
	}
}

// about puts what was said of a whole form beside one of its entries.
func about(field string, err error) error {
	var f *fault.Fault
	if errors.As(err, &f) {
		f.Problems = fault.ProblemsOf(err)
		for i, p := range f.Problems {
			f.Problems[i].Field = cmp.Or(p.Field, field)
		}
	}
	return err
}

// Text is an entry as it was typed; usual stands there until then. Each form's entries have ids of their own.
func (f forms) Text(form, name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, ID: id(form + "." + name)}
	if f.Open(form) {
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

// Open tells that a form came back, and is shown open.
func (f forms) Open(form string) bool { return form == f.Form }

// Ticked tells that a box is ticked.
func (f forms) Ticked(form, name string, usual bool) bool {
	if f.Open(form) {
		return f.v.Get(name) != ""
	}
	return usual
}

// Whole is what is wrong with a form as a whole.
func (f forms) Whole(form string) string { return f.Problem(form, "") }

// Problem is what is wrong with an entry.
func (f forms) Problem(form, name string) string {
	if !f.Open(form) {
		return ""
	}
	return f.problems[name]
}

// Today is the usual day.
func (forms) Today() string { return iso(today()) }

// Problems are what is wrong by entry.
func (f forms) Problems() map[string]string { return f.problems }
