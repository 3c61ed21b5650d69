package web

import (
	"github.com/gofiber/fiber/v2"

	"foamwright/materials"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
	"foamwright/pricing/workshop"
)

// usagePage is what things take besides what the shield itself says: the figures of every take-off.
type usagePage struct {
	settled
	Kept bool
	w    workshop.Workshop
}

// usageGroup is part of them, each with the figure of common practice.
type usageGroup struct {
	Name    string
	Figures []usageFigure
}

type usageFigure struct {
	entry
	Unit, Usual string
}

func (p *Pages) registerUsage(r fiber.Router) {
	r.Get("/workshop/usage", p.usage)
	r.Post("/workshop/usage", p.editUsage)
}

func (p *Pages) usage(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "usage", "What things take", "workshop", usagePage{settled: asKept(w), Kept: c.Query("kept") != "", w: w})
}

// Groups are the figures in the order of making.
func (d usagePage) Groups() (all []usageGroup) {
	usually := figuresOfUse(&pricing.Snapshot{Bench: shield.UsualBench(), Usage: takeoff.UsualUsage()})
	for i, f := range figuresOfUse(&d.w.Figures) {
		if len(all) == 0 || all[len(all)-1].Name != f.Group {
			all = append(all, usageGroup{Name: f.Group})
		}
		last := &all[len(all)-1]
		last.Figures = append(last.Figures, usageFigure{d.Text("usage."+f.Name, f.What, f.Typed()), f.Unit, usually[i].Typed()})
	}
	return all
}

// figuresOfUse are the measures shields are built by, and what things take.
func figuresOfUse(s *pricing.Snapshot) []materials.Figure {
	return append(s.Bench.Figures(), s.Usage.Figures()...)
}

// editUsage keeps them; what cannot be kept comes back as typed.
func (p *Pages) editUsage(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	again := usagePage{w: w}
	for _, f := range figuresOfUse(&w.Figures) {
		name := "usage." + f.Name
		if f.Length != nil {
			l, err := measure.ParseLength(t.v.Get(name))
			_ = t.problems.Take(name, err) // always a fault
			*f.Length = l
		} else {
			*f.Number = t.number(name)
		}
	}
	return p.settle(c, &t, w, &again.settled, asNamed, func(status int) error {
		return p.render(c, status, "usage", "What things take", "workshop", again)
	})
}
