package web

import (
	"cmp"
	"errors"
	"html/template"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/pricing"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
)

// variantsPage is a draft beside what it could be instead, and what fits a budget.
type variantsPage struct {
	Quote      sales.Quote
	Candidates []sales.Suggestion
	Ticked     []string // what stands beside the draft, each a set of keys
	Columns    []variantColumn
	Budget     entry
	Within     *sales.Within
	Message    string
	Wrong      string // why nothing can be estimated
	Edit       string // count of the draft, as it was shown
	Full       bool   // no option more may be offered
}

// variantColumn is one of them, with its picture.
type variantColumn struct {
	sales.Variant
	Picture template.HTML // made by package drawing
	With    string        // its keys
	Chosen  bool          // it is no single candidate of the list
}

// variants shows the columns that were asked for: the draft's own options to begin with, or the first suggestions.
func (p *Pages) variants(c *fiber.Ctx) error {
	var sets []string
	for _, b := range c.Context().QueryArgs().PeekMulti("with") {
		sets = append(sets, visible(b))
	}
	return p.showVariants(c, fiber.StatusOK, sets, c.Query("budget"), "")
}

func (p *Pages) showVariants(c *fiber.Ctx, status int, sets []string, budget, message string) error {
	ctx := c.UserContext()
	q, err := p.sales.Quote(ctx, c.Params("id"))
	if err != nil {
		return err
	}
	if q.State != sales.Draft {
		return fault.New(fault.State, "Quote %s has been issued. Make a new version of it to hold variants of it against each other.", q.Number)
	}
	d := variantsPage{Quote: q, Ticked: sets, Message: message, Edit: strconv.Itoa(q.Edit), Full: len(q.Options) >= 8}
	d.Budget = entry{Name: "budget", Label: "Budget, tax included", Value: budget, ID: "budget", Hint: "300"}
	if d.Candidates, err = p.sales.Candidates(ctx, q); err != nil {
		return err
	}
	if len(sets) == 0 && budget == "" {
		first := d.Candidates
		if n := len(q.Options); n > 0 {
			first = first[:n]
		}
		for _, one := range first[:min(len(first), 3)] {
			d.Ticked = append(d.Ticked, one.Key)
		}
	}
	sum, err := budgetOf(budget)
	if err != nil {
		d.Budget.Problem, status = fault.ProblemsOf(err)[0].Remedy, fiber.StatusUnprocessableEntity
	} else if sum.IsPositive() {
		leave, ok := p.searches.turn(ctx)
		defer leave()
		if !ok {
			return fault.New(fault.Unavailable, "Others are searching just now. Try again in a moment.")
		}
		within, err := p.sales.Fitting(ctx, q, sum)
		if fault.KindOf(err) == fault.Invalid {
			d.Wrong, status = "The spec itself needs another look before anything can be estimated.", fiber.StatusUnprocessableEntity
		} else if err != nil {
			return err
		} else {
			d.Within = &within
			if len(d.Ticked) == 0 {
				d.Ticked = besides(within)
			}
		}
	}
	if err := p.columns(c, &d); err != nil {
		problems, err := problemsOf(err)
		if err != nil {
			return err
		}
		status = fiber.StatusUnprocessableEntity
		if d.Message = problems["with"]; d.Message == "" {
			d.Wrong = "The spec itself needs another look before anything can be estimated."
		}
	}
	return p.render(c, status, "variants", "Variants of "+cmp.Or(q.Title, "a quote"), "quotes", d)
}

// besides are the columns of what fits: each set that was found, or what is the least.
func besides(w sales.Within) (sets []string) {
	for _, s := range append(slices.Clone(w.Fits), w.Least)[:max(1, len(w.Fits))] {
		if len(s.Options) > 0 {
			sets = append(sets, strings.Join(s.Keys(), ","))
		}
	}
	return sets
}

// columns estimates what is ticked.
func (p *Pages) columns(c *fiber.Ctx, d *variantsPage) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	keys := make([][]string, len(d.Ticked))
	for i, set := range d.Ticked {
		keys[i] = strings.Split(set, ",")
	}
	all, err := p.sales.Variants(c.UserContext(), d.Quote, keys)
	if err != nil {
		return err
	}
	for i, v := range all {
		col := variantColumn{Variant: v}
		if i > 0 {
			col.With = d.Ticked[i-1]
		}
		if v.Estimate != nil {
			col.Picture = template.HTML(drawing.SVG(drawing.Face(v.Estimate.Shield, w.Figures.Catalogue.Swatches()).Plain()))
		}
		col.Chosen = !slices.ContainsFunc(d.Candidates, func(s sales.Suggestion) bool { return s.Key == col.With })
		d.Columns = append(d.Columns, col)
	}
	return nil
}

// Beside tells whether a candidate stands beside the draft.
func (d variantsPage) Beside(key string) bool { return slices.Contains(d.Ticked, key) }

// Sets are the ticked sets that are no single candidate: they stay when others are ticked.
func (d variantsPage) Sets() []string {
	var all []string
	for _, set := range d.Ticked {
		if strings.Contains(set, ",") {
			all = append(all, set)
		}
	}
	return all
}

// Extra is a difference with its sign.
func (d variantsPage) Extra(a money.Amount) string { return extra(a) }

// Under is how much of the budget a set leaves.
func (d variantsPage) Under(s sales.Set) money.Amount { return d.Within.Budget.Sub(s.Gross()) }

// Over is how much the least of all is above the budget.
func (d variantsPage) Over() money.Amount { return d.Within.Least.Gross().Sub(d.Within.Budget) }

// With is a set as a link and a form name it.
func (d variantsPage) With(s sales.Set) string { return strings.Join(s.Keys(), ",") }

// Saves is what a set costs less than the draft.
func (d variantsPage) Saves(s sales.Set) money.Amount {
	return d.Within.Base.Price.Gross.Sub(s.Gross())
}

// Mats are the sheets that an estimate opens, by foam.
func (d variantsPage) Mats(e *pricing.Estimate) []string {
	var all []string
	for _, f := range e.Foam {
		all = append(all, strconv.Itoa(f.Sheets)+" × "+f.Foam.Name)
	}
	return all
}

// budgetOf reads a sum of money; nothing typed is none.
func budgetOf(typed string) (decimal.Decimal, error) {
	if strings.TrimSpace(typed) == "" {
		return decimal.Zero, nil
	}
	t := typing{v: url.Values{"budget": {typed}}}
	sum := t.number("budget")
	if t.problems.Empty() && (!sum.IsPositive() || !sum.Equal(sum.Round(2))) {
		t.problems.Add("budget", typed, "Write what the customer wants to pay in all, above 0 and to the cent.")
	}
	return sum, t.problems.Err()
}

// actOnVariant makes one variant the draft, or offers it.
func (p *Pages) actOnVariant(c *fiber.Ctx) error {
	v := values(c)
	edit, err := strconv.Atoi(v.Get("edit"))
	if err != nil {
		edit = -1
	}
	keys := strings.FieldsFunc(v.Get("with"), func(r rune) bool { return r == ',' })
	id := c.Params("id")
	switch v.Get("do") {
	case "draft":
		_, err = p.sales.TakeVariant(c.UserContext(), id, edit, keys)
	case "option":
		_, err = p.sales.Offer(c.UserContext(), id, edit, keys, true)
	case "options":
		_, err = p.sales.Offer(c.UserContext(), id, edit, keys, false)
	default:
		return fiber.ErrBadRequest
	}
	if err == nil {
		return c.Redirect("/quotes/"+id+map[bool]string{true: "", false: "#options"}[v.Get("do") == "draft"], fiber.StatusSeeOther)
	}
	answer := problem.Status(err)
	problems, err := problemsOf(err)
	if err != nil {
		return err
	}
	var refused *fiber.Error
	if err := p.showVariants(c, answer, v["shown"], v.Get("budget"), message(problems)); err != nil && !errors.As(err, &refused) {
		return err
	}
	return nil
}
