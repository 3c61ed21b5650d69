package web

import (
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials"
	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
	"foamwright/pricing/workshop"
)

// stepsPage is the table of steps in the order of making.
type stepsPage struct {
	Groups []stepGroup
	Kept   bool
	Grades bool // there are any
}

type stepGroup struct {
	Name  string
	Steps []stepRow
}

// stepRow is a step with the times that the program began with; nil for a step of the workshop's own.
type stepRow struct {
	labour.Step
	Usual *labour.Step
}

// Other tells that the workshop's times are not those of the program.
func (r stepRow) Other() bool { return r.Usual != nil && !r.Usual.Times().Equal(r.Times()) }

func (p *Pages) steps(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	usual, err := usualSteps()
	if err != nil {
		return err
	}
	data := stepsPage{Kept: c.Query("kept") != "", Grades: len(w.Figures.Rates.Grades) > 0}
	for _, s := range w.Figures.Steps {
		if n := len(data.Groups); n == 0 || data.Groups[n-1].Name != labour.GroupName(s.Group) {
			data.Groups = append(data.Groups, stepGroup{Name: labour.GroupName(s.Group)})
		}
		last := &data.Groups[len(data.Groups)-1]
		last.Steps = append(last.Steps, stepRow{s, usual[s.Code]})
	}
	return p.render(c, fiber.StatusOK, "steps", "Steps", "workshop", data)
}

// usualSteps are the program's own, by code.
func usualSteps() (map[string]*labour.Step, error) {
	seed, err := labour.Seed()
	usual := map[string]*labour.Step{}
	for i, s := range seed {
		usual[s.Code] = &seed[i]
	}
	return usual, err
}

// stepPage is one step while it is edited.
type stepPage struct {
	Step  labour.Step
	New   bool
	Usual *labour.Step
	Kept  bool
	settled
	known  labour.Known
	table  []labour.Step
	grades []string
}

// newStep is the code in the address of a step that is not there yet.
const newStep = "new"

func (p *Pages) step(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.showStep(c, fiber.StatusOK, w, stepPage{Kept: c.Query("kept") != "", settled: asKept(w)})
}

func (p *Pages) showStep(c *fiber.Ctx, status int, w workshop.Workshop, data stepPage) error {
	code := c.Params("code")
	data.New, data.table, data.grades = code == newStep, w.Figures.Steps, w.Figures.Rates.GradeNames()
	title := "New step"
	if data.New {
		data.Step = labour.Step{Scope: labour.PerItem, Resource: "bench"}
	} else {
		i := slices.IndexFunc(data.table, func(s labour.Step) bool { return s.Code == code })
		if i < 0 {
			return fiber.ErrNotFound
		}
		data.Step, title = data.table[i], data.table[i].Name
	}
	usual, err := usualSteps()
	if err != nil {
		return err
	}
	data.Usual = usual[code]
	seed, err := labour.Seed()
	if err != nil {
		return err
	}
	data.known = labour.KnownOf(seed)
	return p.render(c, status, "step", title, "workshop", data)
}

// editStep keeps a step; what cannot be kept comes back as typed, with what to change beside it.
func (p *Pages) editStep(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	step, at := labour.Step{}, slices.IndexFunc(w.Figures.Steps, func(s labour.Step) bool { return s.Code == c.Params("code") })
	switch {
	case at >= 0:
		step = w.Figures.Steps[at]
	case c.Params("code") != newStep:
		return fiber.ErrNotFound
	default:
		step.Code = labour.CodeOf(t.v.Get("name"), w.Figures.Steps)
	}
	seed, err := labour.Seed()
	if err != nil {
		return err
	}
	t.step(&step, labour.KnownOf(seed))
	w.Edit = t.count("edit")
	changed := w
	changed.Figures.Steps = placed(w.Figures.Steps, step, t.v.Get("behind"))
	if err = t.problems.Err(); err == nil {
		if err = p.sales.SetWorkshop(c.UserContext(), changed, by(c)); err == nil {
			return c.Redirect("/workshop/steps/"+step.Code+"?kept=1", fiber.StatusSeeOther)
		}
	}
	answer := problem.Status(err)
	again := stepPage{settled: settled{v: t.v, Edit: t.v.Get("edit")}}
	if err := again.blame(err, func(field string) (string, string) {
		own, mine := strings.CutPrefix(field, "steps."+step.Code+".")
		if !mine && strings.HasPrefix(field, "steps.") { // of a step that would stand above one it comes after
			return "behind", "Another step would stand above one that it comes after. Put this one elsewhere."
		}
		return own, ""
	}); err != nil {
		return err
	}
	return p.showStep(c, answer, w, again)
}

// step reads what was posted of a step into it.
func (t *typing) step(s *labour.Step, known labour.Known) {
	s.Name, s.Group, s.Note = strings.TrimSpace(t.v.Get("name")), t.v.Get("group"), strings.TrimSpace(t.v.Get("note"))
	s.Uses = strings.TrimSpace(t.v.Get("uses"))
	s.Driver, s.Scope, s.Grade = takeoff.Driver(t.v.Get("driver")), labour.Scope(t.v.Get("scope")), t.v.Get("grade")
	s.People, s.Crew, s.Repeats, s.Resource = takeoff.Driver(t.v.Get("people")), 0, takeoff.Driver(t.v.Get("repeats")), t.v.Get("resource")
	if crew, err := strconv.Atoi(t.v.Get("people")); err == nil {
		s.People, s.Crew = "", crew
	}
	s.Setup, s.Unit, s.Wait = t.spread("setup"), t.spread("unit"), t.spread("wait")
	s.Sets, s.Hidden = materials.Setting(t.v.Get("sets")), t.v.Get("hidden") != ""
	s.Factors, s.Cautions, s.After = nil, nil, nil
	for i, f := range known.Factors {
		if t.v.Get("factors."+strconv.Itoa(i)) != "" {
			s.Factors = append(s.Factors, f)
		}
	}
	for _, k := range known.Cautions {
		if t.v.Get("cautions."+k) != "" {
			s.Cautions = append(s.Cautions, k)
		}
	}
	for name := range t.v {
		if code, ok := strings.CutPrefix(name, "after."); ok {
			s.After = append(s.After, code)
		}
	}
	slices.Sort(s.After)
}

// spread reads a low, a likely and a high figure; left empty they are none.
func (t *typing) spread(name string) labour.Spread {
	return labour.Spread{Low: t.optional(name + ".low"), Likely: t.optional(name + ".likely"), High: t.optional(name + ".high")}
}

// placed is a table with a step behind another; behind none it is the first.
func placed(table []labour.Step, step labour.Step, behind string) []labour.Step {
	rest := slices.DeleteFunc(slices.Clone(table), func(s labour.Step) bool { return s.Code == step.Code })
	at := slices.IndexFunc(rest, func(s labour.Step) bool { return s.Code == behind })
	return slices.Insert(rest, at+1, step)
}
