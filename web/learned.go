package web

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
)

// learnedPage is what logged jobs teach about the times of steps.
type learnedPage struct {
	sales.Learned
	Effects []sales.Effect
	Asked   bool // for the effect on open quotes
	Message string
	Done    string
	names   map[string]string
}

// Percent is how much longer, or less, a step takes by what was learned.
func (d learnedPage) Percent(o sales.Offer) string {
	change := o.Step.Times().To(o.Next).Sub(decimal.NewFromInt(1)).Shift(2).Round(0)
	switch {
	case change.IsPositive():
		return change.String() + " % longer"
	case change.IsNegative():
		return change.Neg().String() + " % less"
	}
	return "as long, closer or wider"
}

// Scatter is how far jobs lie from their middle, in percent.
func (d learnedPage) Scatter(o sales.Offer) string {
	return o.Lesson.Scatter.Shift(2).Round(0).String()
}

// Unit tells that a step is timed by the unit; else it is the set-up that was learned.
func (d learnedPage) Unit(o sales.Offer) bool { return !o.Step.Unit.Likely.IsZero() }

// Shown are the times of an offer as its form sends them back.
func (d learnedPage) Shown(o sales.Offer) string { return written(o.Next) }

// Name is what a step of a lesson is called today.
func (d learnedPage) Name(code string) string { return cmp.Or(d.names[code], code) }

// Sum is a difference of two prices in words.
func (d learnedPage) More(e sales.Effect) string {
	more := e.After.Sub(e.Before)
	if more.Sign() > 0 {
		return "+" + more.String()
	}
	return strings.Replace(more.String(), "-", "−", 1)
}

func (p *Pages) learned(c *fiber.Ctx) error {
	return p.showLearned(c, fiber.StatusOK, learnedPage{Asked: c.Query("effect") != "", Done: c.Query("done")})
}

func (p *Pages) showLearned(c *fiber.Ctx, status int, data learnedPage) error {
	ctx := c.UserContext()
	var err error
	if data.Learned, err = p.sales.Learned(ctx); err != nil {
		return err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	data.names = map[string]string{}
	for _, s := range w.Figures.Steps {
		data.names[s.Code] = s.Name
	}
	if data.Asked {
		if data.Effects, err = p.sales.Effects(ctx, data.Learned); err != nil {
			return err
		}
	}
	return p.render(c, status, "learned", "Learned times", "workshop", data)
}

// takeOver takes over one learned time, or all of them, or none for now, as the pressed button says.
func (p *Pages) takeOver(c *fiber.Ctx) error {
	v := values(c)
	do := v.Get("do")
	shown := map[string]labour.Times{}
	for name := range v {
		code, ok := strings.CutPrefix(name, "times.")
		if !ok || do != "all" && do != "one "+code {
			continue
		}
		times, err := readTimes(v.Get(name))
		if err != nil {
			return err
		}
		shown[code] = times
	}
	if do != "later" && len(shown) == 0 {
		return fault.New(fault.NotFound, "There is no such step in the list. Look at it again.")
	}
	err := p.sales.TakeOver(c.UserContext(), shown, by(c))
	if fault.KindOf(err) == fault.Conflict {
		return p.showLearned(c, problem.Status(err), learnedPage{Message: problem.Sentence(err, "")})
	}
	if err != nil {
		return err
	}
	return c.Redirect("/learned?done="+fmt.Sprint(len(shown)), fiber.StatusSeeOther)
}

// written is both spreads in a line, and readTimes takes it apart.
func written(t labour.Times) string {
	var figures []string
	for _, s := range []labour.Spread{t.Setup, t.Unit} {
		figures = append(figures, s.Low.String(), s.Likely.String(), s.High.String())
	}
	return strings.Join(figures, " ")
}

func readTimes(line string) (labour.Times, error) {
	var f [6]decimal.Decimal
	words := strings.Fields(line)
	if len(words) != len(f) {
		return labour.Times{}, fault.New(fault.Conflict, "This list is not the one that was shown. Look at it again.")
	}
	for i, w := range words {
		d, err := decimal.NewFromString(w)
		if err != nil || len(w) > 16 || strings.ContainsAny(w, "eE") {
			return labour.Times{}, fault.New(fault.Conflict, "This list is not the one that was shown. Look at it again.")
		}
		f[i] = d
	}
	return labour.Times{Setup: labour.Spread{Low: f[0], Likely: f[1], High: f[2]}, Unit: labour.Spread{Low: f[3], Likely: f[4], High: f[5]}}, nil
}
