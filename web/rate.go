package web

import (
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/pricing"
	"foamwright/pricing/workshop"
)

// ratePage is what an hour at the bench costs, as a sum, and the grades of labour beside it.
type ratePage struct {
	settled
	Kept          bool
	Sum           workshop.ShopRate // of what was typed
	Used          decimal.Decimal
	Currency      string
	w             workshop.Workshop
	costs, grades int // rows that are typed
}

func (p *Pages) rate(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.showRate(c, fiber.StatusOK, w, ratePage{settled: asKept(w), Kept: c.Query("kept") != "", costs: len(w.ShopRate.Costs), grades: len(w.Figures.Rates.Grades)})
}

// showRate shows settings as they are or as they were typed.
func (p *Pages) showRate(c *fiber.Ctx, status int, w workshop.Workshop, data ratePage) error {
	data.w, data.Sum, data.Used, data.Currency = w, w.ShopRate, w.Figures.Rates.Hour, string(w.Figures.Rates.Currency)
	return p.render(c, status, "rate", "Rates of labour", "workshop", data)
}

// Costs are what is paid in a year, and room for one more.
func (d ratePage) Costs() (all [][2]entry) {
	for i := range d.costs + 1 {
		name, amount := "", ""
		if i < len(d.w.ShopRate.Costs) {
			cost := d.w.ShopRate.Costs[i]
			name, amount = cost.Name, cost.Amount.String()
		}
		at := fmt.Sprintf("shop_rate.costs.%d.", i)
		all = append(all, [2]entry{d.Text(at+"name", ordinalOf("What is paid for", i), name), d.Text(at+"amount", ordinalOf("In a year", i), amount)})
	}
	return all
}

// Grades are the others than the shop rate, and room for one more.
func (d ratePage) Grades() (all [][2]entry) {
	for i := range d.grades + 1 {
		name, hour := "", ""
		if i < len(d.w.Figures.Rates.Grades) {
			g := d.w.Figures.Rates.Grades[i]
			name, hour = g.Name, g.Hour.String()
		}
		at := fmt.Sprintf("rates.grades.%d.", i)
		all = append(all, [2]entry{d.Text(at+"name", ordinalOf("Grade", i), name), d.Text(at+"hour", ordinalOf("An hour", i), hour)})
	}
	return all
}

func ordinalOf(what string, i int) string { return fmt.Sprint(what, ", row ", i+1) }

// Weeks, Hours and Billable are what the year is divided by.
func (d ratePage) Weeks() entry {
	return d.Text("shop_rate.weeks", "Weeks worked in a year", d.w.ShopRate.Weeks.String())
}

// Hours are those of a week.
func (d ratePage) Hours() entry {
	return d.Text("shop_rate.hours", "Hours in a week", d.w.ShopRate.Hours.String())
}

// Billable is the share that customers pay for.
func (d ratePage) Billable() entry {
	return d.Text("shop_rate.billable", "Of these customers pay for", d.w.ShopRate.Billable.Shift(2).String())
}

// Differs tells that another rate is used than the sum gives.
func (d ratePage) Differs() bool { return !d.Sum.Hour().Equal(d.Used) }

// editRate adds up what was typed, and keeps it, or uses the rate as well, as the pressed button says.
func (p *Pages) editRate(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	again := ratePage{costs: rows(t.v, "shop_rate.costs", "name", "amount"), grades: rows(t.v, "rates.grades", "name", "hour")}
	again.settled = settled{v: t.v, Edit: t.v.Get("edit")}
	w.ShopRate = workshop.ShopRate{Weeks: t.number("shop_rate.weeks"), Hours: t.number("shop_rate.hours"), Billable: t.number("shop_rate.billable").Shift(-2)}
	for i := range again.costs {
		at := fmt.Sprintf("shop_rate.costs.%d.", i)
		w.ShopRate.Costs = append(w.ShopRate.Costs, workshop.YearCost{Name: t.v.Get(at + "name"), Amount: t.number(at + "amount")})
	}
	w.Figures.Rates.Grades = nil
	for i := range again.grades {
		at := fmt.Sprintf("rates.grades.%d.", i)
		w.Figures.Rates.Grades = append(w.Figures.Rates.Grades, pricing.Grade{Name: t.v.Get(at + "name"), Hour: t.number(at + "hour")})
	}
	w.Edit = t.count("edit")
	kept := w
	if t.v.Get("do") == "use" {
		kept.Figures.Rates.Hour = w.ShopRate.Hour()
	}
	if err = t.problems.Err(); err == nil && t.v.Get("do") == recompute {
		return p.showRate(c, fiber.StatusOK, w, again)
	}
	if err == nil {
		if err = p.sales.SetWorkshop(c.UserContext(), kept, by(c)); err == nil {
			return c.Redirect("/workshop/rate?kept=1", fiber.StatusSeeOther)
		}
	}
	answer := problem.Status(err)
	if err := again.blame(err, func(field string) (string, string) {
		if strings.HasPrefix(field, "steps.") && strings.HasSuffix(field, ".grade") {
			return "", "A step names a grade that is not here any more. Give the step another one first."
		}
		return field, ""
	}); err != nil {
		return err
	}
	return p.showRate(c, answer, w, again)
}
