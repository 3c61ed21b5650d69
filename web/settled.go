package web

import (
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/pricing/workshop"
)

// settled is a form of the workshop's settings: as they are, or as they were typed with what is wrong.
type settled struct {
	Edit     string     // count of the settings, as the form was shown with
	v        url.Values // as typed; nil until then
	problems map[string]string
}

func asKept(w workshop.Workshop) settled { return settled{Edit: strconv.Itoa(w.Edit)} }

// Text is an entry as it was typed; is stands there until then.
func (s settled) Text(name, label, is string) entry {
	if s.v != nil {
		is = s.v.Get(name)
	}
	return entry{Name: name, Label: label, Value: is, Problem: s.problems[name], ID: id(name)}
}

// Whole is what is wrong with all of it.
func (s settled) Whole() string { return s.problems[""] }

// Problem is what is wrong with an entry.
func (s settled) Problem(name string) string { return s.problems[name] }

// settle keeps settings that were typed and goes on to their page; what cannot be kept is put down to the entries, and
// again shows the form.
func (p *Pages) settle(c *fiber.Ctx, t *typing, w workshop.Workshop, s *settled, at func(field string) (name, remedy string), again func(status int) error) error {
	s.v, s.Edit, w.Edit = t.v, t.v.Get("edit"), t.count("edit")
	err := t.problems.Err()
	if err == nil {
		if err = p.sales.SetWorkshop(c.UserContext(), w, by(c)); err == nil {
			return c.Redirect(c.Path()+"?kept=1", fiber.StatusSeeOther)
		}
	}
	status := problem.Status(err)
	if err := s.blame(err, at); err != nil {
		return err
	}
	return again(status)
}

// asNamed is for a form whose entries are named as the fields are.
func asNamed(field string) (name, remedy string) { return field, "" }

// blame puts what is wrong down to the entries of the form. at says which entry a field is shown at, and what to say
// there when that is not the field's own remedy; what the form has no entry for is said of the whole. An error that is
// no fault of the person comes back.
func (s *settled) blame(err error, at func(field string) (name, remedy string)) error {
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	s.problems = map[string]string{}
	for field, remedy := range problems {
		name, instead := at(field)
		if instead != "" {
			remedy = instead
		}
		if name != "" && instead == "" && !s.v.Has(name) && !slices.Contains([]string{"after", "factors", "cautions"}, name) { // of ticks the last
			name, remedy = "", fmt.Sprintf("%s: %s", spoken(field), remedy)
		}
		if was := s.problems[name]; was != "" && was != remedy {
			remedy = was + " " + remedy
		}
		s.problems[name] = remedy
	}
	return nil
}

// rows numbers the rows of a list anew, without those in which nothing is typed, and tells how many are left: row 2 is
// list.2.name. What is wrong with a row is then found beside it.
func rows(v url.Values, list string, fields ...string) int {
	n := 0
	for i := 0; i < mostRows; i++ {
		at, to := fmt.Sprintf("%s.%d.", list, i), fmt.Sprintf("%s.%d.", list, n)
		typed := map[string]string{}
		for _, f := range fields {
			if t := strings.TrimSpace(v.Get(at + f)); t != "" {
				typed[f] = t
			}
			v.Del(at + f)
		}
		if len(typed) == 0 {
			continue
		}
		for _, f := range fields {
			v.Set(to+f, typed[f])
		}
		n++
	}
	return n
}
