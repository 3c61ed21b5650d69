package web

import (
	"bytes"
	"context"
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// templates are the pages by name, each parsed with the layout and the shared parts.
type templates map[string]*template.Template

func loadTemplates(static map[string]asset) (templates, error) {
	functions := template.FuncMap{
		"asset":     func(name string) string { return "/static/" + name + "?v=" + static[name].version },
		"money":     func(a money.Amount) string { return words.Money(a) },
		"price":     func(a money.Amount) string { return words.Price(a) },
		"date":      words.Date,
		"billed":    billName,
		"ago":       func(t time.Time) string { return words.Ago(time.Since(t)) },
		"qty":       quantity,
		"signed":    signed,
		"worth":     worth,
		"iso":       iso,
		"in":        away,
		"step":      mailStep,
		"pair":      func(p page, of []logged) listed { return listed{p, of} },
		"taxes":     func(page answerView, said []sales.SaidEntry, sums tax.Totals) taxes { return taxes{page, said, sums} },
		"slug":      func(key string) string { return strings.ReplaceAll(key, " ", "-") },
		"eve":       func(t time.Time) time.Time { return t.Add(-time.Nanosecond) },
		"ordinal":   func(what string, i int) string { return fmt.Sprint(what, " ", i+1) },
		"papername": paperName,
		"orderline": func(l sales.OrderLine) string { return l.In(words.Tongue{}) },
		"part":      func(d answerView, form, name, label string) answerPart { return answerPart{d, form, name, label} },
		"shorten":   fault.Shorten,
		"optioned":  func(o outcome, p sales.PrintedOption) pairedOption { return pairedOption{o, p} },
		"standing":  func(q sales.Quote) string { return string(q.Standing(time.Now())) },
		"ways":      func(path string, list []people.Token) ways { return ways{path, list} },
		"field": func(problems map[string]string, blamed, name, label, value string) entry {
			return entry{Name: name, Label: label, Value: value, Problem: problems[blamed], ID: id(name)}
		},
		"secret": func(problems map[string]string, blamed, name, label, autocomplete string) entry {
			return entry{Name: name, Label: label, Hint: autocomplete, Problem: problems[blamed], ID: id(name)}
		},
	}
	maps.Copy(functions, itemWords())
	maps.Copy(functions, showWords())
	maps.Copy(functions, plotWords())
	maps.Copy(functions, monthWords())
	return pages(functions)
}

// page is what the layout needs around any page's own data.
type page struct {
	Title    string
	Section  string // which entry of the menu is lit
	Path     string // of the page itself
	Refused  string // which page is shown again because an entry of a form was refused
	Workshop string
	Person   *people.Person
	CSRF     string
	Words    string // what was searched for
	Data     any
}

// by is who asks, as it stands in the books.
func by(c *fiber.Ctx) string {
	if person, ok := guard.Person(c); ok {
		return person.Name
	}
	return "somebody"
}

// render writes a page.
func (p *Pages) render(c *fiber.Ctx, status int, name, title, section string, data any) error {
	v := page{Title: title, Section: section, Path: c.Path(), Workshop: "foamwright", CSRF: p.guard.CSRFToken(c), Data: data}
	if c.Method() == fiber.MethodPost {
		v.Refused = name
	}
	if section == "quotes" {
		v.Words = c.Query("words")
	}
	if person, ok := guard.Person(c); ok {
		v.Person = &person
		if name, err := p.sales.Name(c.UserContext()); err == nil {
			v.Workshop = name
		}
	}
	c.Set(fiber.HeaderCacheControl, "no-store")
	return p.write(c, status, name, "layout", v)
}

// write runs one template into the answer; nothing is sent when it fails half way.
func (p *Pages) write(c *fiber.Ctx, status int, name, part string, data any) error {
	t, ok := p.templates[name]
	if !ok {
		return fmt.Errorf("there is no page %q", name)
	}
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, part, data); err != nil {
		return fmt.Errorf("page %s: %w", name, err)
	}
	c.Set(fiber.HeaderContentType, fiber.MIMETextHTMLCharsetUTF8)
	return c.Status(status).Send(b.Bytes())
}

// Error answers a failed request with a page: what happened and where to go from there.
func (p *Pages) Error(c *fiber.Ctx, err error) error {
	p.problems.Note(c, err)
	if isAnswer(c) {
		return p.answerError(c, err)
	}
	// The request's own time is over by now; the page still wants the workshop's name.
	ctx, cancel := context.WithTimeout(context.WithoutCancel(c.UserContext()), time.Second)
	defer cancel()
	c.SetUserContext(ctx)
	data := struct {
		Sentence string
		Problems []fault.Problem
	}{problem.Sentence(err, problem.RequestID(c)), nil}
	if fault.KindOf(err) == fault.Invalid {
		data.Problems = fault.ProblemsOf(err)
	}
	return p.render(c, problem.Status(err), "error", "Something is in the way", "", data)
}

// problems are what is wrong by field; the empty field is about the whole. An error that is no fault of the person
// comes back.
func problemsOf(err error) (map[string]string, error) {
	switch fault.KindOf(err) {
	case fault.Invalid, fault.TooLarge, fault.TooMany, fault.Conflict, fault.State, fault.Shortage:
	default:
		return nil, err
	}
	byField := map[string]string{}
	for _, p := range fault.ProblemsOf(err) {
		if byField[p.Field] != "" {
			p.Remedy = byField[p.Field] + " " + p.Remedy
		}
		byField[p.Field] = p.Remedy
	}
	return byField, nil
}

// statusOf is what a page is answered with that says so much is wrong.
func statusOf(problems map[string]string) int {
	if len(problems) > 0 {
		return fiber.StatusUnprocessableEntity
	}
	return fiber.StatusOK
}

// inOne is the same for a file, which has no place to say it beside an entry; nil when nothing is wrong.
func inOne(problems map[string]string) error {
	if len(problems) == 0 {
		return nil
	}
	return fault.New(fault.Invalid, "%s", message(problems))
}

// message is all that is wrong in one paragraph, what is about the whole first.
func message(problems map[string]string) string {
	var all []string
	for _, field := range slices.Sorted(maps.Keys(problems)) {
		all = append(all, problems[field])
	}
	return strings.Join(all, " ")
}
