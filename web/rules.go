package web

import (
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing/workshop"
)

// rulesPage is the size rules of the games that shields are made for.
type rulesPage struct {
	settled
	Kept bool
	w    workshop.Workshop
	rows int // rules that are typed
}

// ruleRow is a rule as entries; without a name it is the room for one more.
type ruleRow struct {
	Code, Title             string
	Name, Edition, Measured entry
	Either                  entry
	Sizes, More             []entry
}

// ruleFields are the entries of a rule in a form; the last three are there even where nothing is written.
func ruleFields() []string {
	return []string{"name", "edition", "width", "height", "circle", "side", "min_face", "area", "thickness", "weight", "measured", "either", "code"}
}

func (p *Pages) registerRules(r fiber.Router) {
	r.Get("/workshop/rules", p.rules)
	r.Post("/workshop/rules", p.editRules)
}

func (p *Pages) rules(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.showRules(c, fiber.StatusOK, rulesPage{settled: asKept(w), Kept: c.Query("kept") != "", w: w, rows: len(w.Figures.Rules)})
}

func (p *Pages) showRules(c *fiber.Ctx, status int, d rulesPage) error {
	return p.render(c, status, "rules", "Size rules", "workshop", d)
}

// Rows are the rules, and room for one more.
func (d rulesPage) Rows() (all []ruleRow) {
	for i := range d.rows + 1 {
		var r shield.Rule
		if i < len(d.w.Figures.Rules) {
			r = d.w.Figures.Rules[i]
		}
		at := fmt.Sprintf("rules.%d.", i)
		length := func(name, label string, l measure.Length) entry { return d.Text(at+name, label, lengthTyped(l)) }
		number := func(name, label string, n decimal.Decimal) entry { return d.Text(at+name, label, numberTyped(n)) }
		row := ruleRow{
			Code: d.Text(at+"code", "", r.Code).Value, Name: d.Text(at+"name", "Game and class", r.Name), Edition: d.Text(at+"edition", "Edition", r.Edition),
			Measured: d.Text(at+"measured", "Width is measured", r.Measured), Either: d.Text(at+"either", "Rectangle or circle is enough", ""),
			Sizes: []entry{length("width", "Rectangle, width", r.Width), length("height", "and height", r.Height), length("circle", "Circle, across", r.Circle)},
			More: []entry{length("side", "Longest side at most", r.Side), length("min_face", "Shortest side at least", r.MinFace), number("area", "Area at most, m²", r.Area),
				length("thickness", "Thick at least", r.Thickness), number("weight", "Weight at most, kg", r.Weight)},
		}
		if d.v == nil && r.Either {
			row.Either.Value = "yes"
		}
		row.Measured.Options = []option{{shield.StraightAcross, "straight across"}, {shield.AlongCurve, "along the curve"}, {shield.Flat, "flat, before it is bent"}}
		if row.Title = row.Name.Value; row.Title == "" && i == d.rows {
			row.Title = "One more"
		}
		all = append(all, row)
	}
	return all
}

func lengthTyped(l measure.Length) string {
	if l == 0 {
		return ""
	}
	return l.String()
}

func numberTyped(n decimal.Decimal) string {
	if n.IsZero() {
		return ""
	}
	return n.String()
}

// editRules keeps the rules; what cannot be kept comes back as typed.
func (p *Pages) editRules(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	fields := ruleFields()
	for i := range mostRows {
		at := fmt.Sprintf("rules.%d.", i)
		written := false
		for _, f := range fields[:len(fields)-3] {
			written = written || strings.TrimSpace(t.v.Get(at+f)) != ""
		}
		for _, f := range fields[len(fields)-3:] {
			if !written {
				t.v.Del(at + f)
			}
		}
	}
	again := rulesPage{rows: rows(t.v, "rules", fields...), w: w}
	w.Figures.Rules = t.rules(again.rows)
	return p.settle(c, &t, w, &again.settled, asNamed, func(status int) error { return p.showRules(c, status, again) })
}

// rules reads so many rules. One without a code is new.
func (t *typing) rules(n int) (all []shield.Rule) {
	taken := map[string]bool{}
	for i := range n {
		taken[t.v.Get(fmt.Sprintf("rules.%d.code", i))] = true
	}
	for i := range n {
		at := fmt.Sprintf("rules.%d.", i)
		said := func(name string) string { return strings.TrimSpace(t.v.Get(at + name)) }
		r := shield.Rule{
			Code: said("code"), Name: said("name"), Edition: said("edition"), Measured: said("measured"), Either: said("either") != "",
			Width: t.length(at + "width"), Height: t.length(at + "height"), Circle: t.length(at + "circle"), Side: t.length(at + "side"), MinFace: t.length(at + "min_face"),
			Thickness: t.length(at + "thickness"), Area: t.optional(at + "area"), Weight: t.optional(at + "weight"),
		}
		if r.Code == "" {
			r.Code = materials.CodeOf(r.Name, func(code string) bool { return taken[code] })
			taken[r.Code] = true
		}
		all = append(all, r)
	}
	return all
}

// length reads a length with its unit; left empty it is none.
func (t *typing) length(field string) measure.Length {
	typed := strings.TrimSpace(t.v.Get(field))
	if typed == "" {
		return 0
	}
	l, err := measure.ParseLength(typed)
	_ = t.problems.Take(field, err) // always a fault
	return l
}
