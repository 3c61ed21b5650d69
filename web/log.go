package web

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"
	"github.com/shopspring/decimal"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/pricing/labour"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
)

// logDoors: time is logged by those who work at the bench.
func logDoors() []guard.Door { return []guard.Door{guard.For("/log", people.Helper)} }

func (p *Pages) registerLog(r fiber.Router) {
	r.Get("/log", p.logPage)
	r.Post("/log/stop", p.stopClock)
	r.Get("/log/:order", p.logPage)
	r.Post("/log/:order", p.logTime)
	r.Get("/log/:order/take", func(c *fiber.Ctx) error { return c.Redirect("/log/"+c.Params("order"), fiber.StatusSeeOther) })
	r.Post("/log/:order/take", p.takeMaterial)
}

// logPage is the time log of the bench, kept small: it is opened on a phone with a wet thumb, and without a net. No
// price is on it, since a phone keeps it.
type logPage struct {
	Orders  []sales.Order // still to be made
	Order   sales.Order   // the one that is chosen; none on the list's own page
	Groups  []option
	Steps   []option // one by one, for who wants it finer
	Clock   labour.Clock
	Runs    bool
	At      string // the order's name that the clock runs for
	Logged  []logged
	Earlier []logged
	Person  int64
	Next    string   // id of the next log, so that a form sent twice is one log
	Takes   []taking // the material of the one that is chosen
	forms            // of no name for the log, "take", "stop", else the log that is corrected
	steps   []labour.Step
	titles  map[string]string
}

// logged is a log that stands, with those it corrects, the newest first.
type logged struct {
	labour.Log
	Was []labour.Log
}

// listed are logs with the page they stand on.
type listed struct {
	Page page
	Of   []logged
}

func (p *Pages) logPage(c *fiber.Ctx) error {
	return p.showLog(c, fiber.StatusOK, c.Params("order"), logPage{})
}

func (p *Pages) showLog(c *fiber.Ctx, status int, order string, data logPage) error {
	ctx := c.UserContext()
	var err error
	if data.Orders, err = p.sales.AtBench(ctx); err != nil {
		return err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return err
	}
	data.steps, data.Next, data.titles = w.Figures.Steps, uuid.NewString(), map[string]string{}
	if person, ok := guard.Person(c); ok {
		data.Person = person.ID
	}
	for _, o := range data.Orders {
		data.titles[o.ID] = cmp.Or(o.Title, "Untitled")
	}
	title, logs := "Log time", []labour.Log(nil)
	if order != "" {
		t, err := p.sales.Order(ctx, order)
		if err != nil {
			return err
		}
		data.Order, title = t.Order, "Log time: "+cmp.Or(t.Order.Title, "Untitled")
		data.titles[order] = cmp.Or(t.Order.Title, "Untitled")
		data.Groups, data.Steps = groupsOf(t, data.steps), stepsOf(t, data.steps)
		data.Takes = slices.DeleteFunc(takes(t), func(k taking) bool { return k.Unit == "" }) // of the quote alone
		if logs, err = p.sales.Logs(ctx, order); err != nil {
			return err
		}
	} else if logs, err = p.sales.LoggedSince(ctx, today()); err != nil {
		return err
	}
	for _, l := range trails(logs) {
		if l.Day.Before(today()) {
			data.Earlier = append(data.Earlier, l)
		} else {
			data.Logged = append(data.Logged, l)
		}
	}
	if data.Clock, data.Runs, err = p.sales.Clock(ctx, by(c)); err != nil {
		return err
	}
	if data.Runs {
		at, err := p.sales.Order(ctx, data.Clock.Order)
		if err != nil {
			return err
		}
		data.At = cmp.Or(at.Order.Title, "Untitled")
	}
	return p.render(c, status, "log", title, "log", data)
}

// groupsOf are the groups of steps that an order has, in the order of making; and what may come on top of any.
func groupsOf(t sales.Taken, steps []labour.Step) (groups []option) {
	has := map[string]bool{"general": true, "own": true}
	for _, task := range t.Quote.Printed.Tasks {
		has[labour.LoggedOn(steps, task.Code)] = true
	}
	for _, g := range append(labour.Groups(steps), "own") {
		if has[g] && !slices.ContainsFunc(groups, func(o option) bool { return o.Value == g }) {
			groups = append(groups, option{g, labour.GroupName(g)})
		}
	}
	return groups
}

// stepsOf are the steps that an order has, in the order of making; one that is called as a group is logged as that.
func stepsOf(t sales.Taken, steps []labour.Step) (all []option) {
	for _, s := range steps {
		if labour.LoggedOn(steps, s.Code) != s.Code && slices.ContainsFunc(t.Quote.Printed.Tasks, func(task schedule.Task) bool { return task.Code == s.Code }) {
			all = append(all, option{s.Code, s.Name})
		}
	}
	return all
}

// trails are the logs that stand, the newest first, each with what it corrects.
func trails(logs []labour.Log) (all []logged) {
	byID := map[string]labour.Log{}
	for _, l := range logs {
		byID[l.ID] = l
	}
	for _, l := range labour.Standing(logs) {
		one := logged{Log: l}
		for was, ok := byID[l.Corrects]; ok; was, ok = byID[was.Corrects] {
			one.Was = append(one.Was, was)
		}
		all = append(all, one)
	}
	slices.Reverse(all)
	return all
}

// logTime keeps minutes, or starts the clock.
func (p *Pages) logTime(c *fiber.Ctx) error {
	order := c.Params("order")
	return act(c, values(c).Get("corrects"), func(t *typing) (string, error) {
		to, step := "/log/"+order+"#logged", t.v.Get("step")
		if step == "" {
			t.problems.Add("step", "", "Choose what was worked on.")
		}
		start := t.v.Get("do") == "start"
		l := labour.Log{ID: t.v.Get("id"), Order: order, Step: step, Rework: t.v.Get("rework"), Note: t.v.Get("note"), By: by(c), Corrects: t.v.Get("corrects")}
		if !start {
			l.Minutes, l.Day = t.number("minutes"), cmp.Or(t.day("day"), today())
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		if start {
			return to, p.sales.StartClock(c.UserContext(), labour.Clock{By: by(c), Order: order, Step: step})
		}
		_, err := p.sales.LogTime(c.UserContext(), l)
		return to, err
	}, unlessChanged(func(status int, f forms) error { return p.showLog(c, status, order, logPage{forms: f}) }))
}

// stopClock logs what the clock ran for.
func (p *Pages) stopClock(c *fiber.Ctx) error {
	return act(c, "stop", func(t *typing) (string, error) {
		l, err := p.sales.StopClock(c.UserContext(), by(c), strings.TrimSpace(t.v.Get("note")), strings.TrimSpace(t.v.Get("rework")))
		if fault.KindOf(err) == fault.NotFound { // stopped already, by another tab or the same thumb
			return "/log#logged", nil
		}
		return "/log/" + l.Order + "#logged", err
	}, unlessChanged(func(status int, f forms) error { return p.showLog(c, status, "", logPage{forms: f}) }))
}

// Chosen tells that an order is the one.
func (d logPage) Chosen(o sales.Order) bool { return o.ID == d.Order.ID }

// New is an id for one more log.
func (d logPage) New() string { return uuid.NewString() }

// In is what a log is counted in: a group, or a step of the order.
func (d logPage) In(step string) string {
	if slices.ContainsFunc(d.Steps, func(o option) bool { return o.Value == step }) {
		return step
	}
	return labour.LoggedOn(d.steps, step)
}

// Finer tells that one step alone was chosen.
func (d logPage) Finer() bool {
	chosen := d.Entry("", "step", "", "").Value
	return slices.ContainsFunc(d.Steps, func(o option) bool { return o.Value == chosen })
}

// Title is what an order is called.
func (d logPage) Title(order string) string { return cmp.Or(d.titles[order], "an order that ended") }

// Group is what was worked on, in words.
func (d logPage) Group(step string) string {
	return labour.LoggedName(d.steps, step)
}

// Entry is an entry of a form: as it was typed where that form was refused.
func (d logPage) Entry(form, name, label, usual string) entry {
	e := entry{Name: name, Label: label, Value: usual, ID: strings.TrimSuffix(id(name+"."+form), "-"), Options: slices.Concat(d.Groups, d.Steps)}
	if form == d.Form && len(d.problems) > 0 {
		e.Value, e.Problem = d.v.Get(name), d.problems[name]
	}
	return e.keep()
}

// Whole is what is wrong with a form as a whole, or with what nobody types.
func (d logPage) Whole(form string) string {
	if form != d.Form {
		return ""
	}
	rest := map[string]string{}
	for field, remedy := range d.problems {
		if !slices.Contains([]string{"step", "minutes", "day", "rework", "note"}, field) && !strings.HasPrefix(field, "used.") {
			rest[field] = remedy
		}
	}
	return message(rest)
}

// Usual is today.
func (d logPage) Usual() string { return iso(today()) }

// Since is when the clock began, by the clock of the workshop.
func (d logPage) Since() string { return d.Clock.Began.Local().Format("15:04") }

// For is how long the clock runs.
func (d logPage) For() string {
	return decimal.NewFromInt(int64(time.Since(d.Clock.Began) / time.Minute)).String()
}
