package web

import (
	"net/url"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// outcome is how an issued quote ended, or the forms that note it.
type outcome struct {
	Answer  *sales.Answer
	Chosen  []string // names of the options that were
	Groups  []sales.OptionGroup
	AreAll  string // how the amounts of options are meant
	Act     string // the form that came back
	Message string
	Typed   url.Values
	Total   *tax.Totals // of what is ticked
	quote   sales.Quote
}

// pairedOption is an option with the outcome it stands in, for its line on the page.
type pairedOption struct {
	Outcome outcome
	Option  sales.PrintedOption
}

// Ticked tells whether an option is.
func (o outcome) Ticked(key string) bool { return slices.Contains(ticked(o.Typed, "one."), key) }

// Extra is what an option adds.
func (o outcome) Extra(p sales.PrintedOption) string {
	return sales.Extra(words.Tongue{}, p, o.quote.Gross.Currency())
}

// Notes are what goes with an option.
func (o outcome) Notes(p sales.PrintedOption) []string {
	return sales.OptionNotes(words.Tongue{}, o.quote.Printed.Options, p, o.quote.Asked())
}

// outcomeOf fills the outcome of an issued quote.
func (p *Pages) outcomeOf(c *fiber.Ctx, d *issuedPage) error {
	o := &d.Outcome
	q := d.Quote
	o.quote, o.Groups, o.AreAll = q, sales.OptionGroups(q.Printed.Options), sales.ExtraIs(words.Tongue{}, q.Printed.Terms.Regime)
	a, found, err := p.sales.Answer(c.UserContext(), q.ID)
	if err != nil || !found {
		return err
	}
	o.Answer = &a
	for _, one := range q.Printed.Options {
		if slices.Contains(a.Options, one.Key) {
			o.Chosen = append(o.Chosen, one.Name)
		}
	}
	return nil
}

// accept makes an order of an issued quote with the ticked options, or says what they come to.
func (p *Pages) accept(c *fiber.Ctx) error {
	v := values(c)
	if v.Get("do") == "total" {
		return p.showOutcome(c, "accept", v, nil)
	}
	t, err := p.sales.Accept(c.UserContext(), c.Params("id"), sales.Choice{Options: ticked(v, "one."), Name: v.Get("name"), Document: v.Get("document"), Note: v.Get("note")}, by(c))
	if err == nil {
		return c.Redirect("/orders/"+t.Order.ID, fiber.StatusSeeOther)
	}
	return p.showOutcome(c, "accept", v, err)
}

// decline notes that the customer does not want it.
func (p *Pages) decline(c *fiber.Ctx) error {
	v := values(c)
	_, err := p.sales.Decline(c.UserContext(), c.Params("id"), sales.Choice{Name: v.Get("name"), Document: v.Get("document"), Note: v.Get("reason")}, by(c))
	if err == nil {
		return c.Redirect("/quotes/"+c.Params("id"), fiber.StatusSeeOther)
	}
	return p.showOutcome(c, "decline", v, err)
}

// showOutcome shows a form again as it was typed, with what it comes to or why it was not done.
func (p *Pages) showOutcome(c *fiber.Ctx, act string, v url.Values, cause error) error {
	if kind := fault.KindOf(cause); cause != nil && kind != fault.Invalid && kind != fault.Conflict && kind != fault.State {
		return cause
	}
	q, err := p.sales.Quote(c.UserContext(), c.Params("id"))
	if err != nil {
		return err
	}
	if q.State == sales.Draft {
		return cause
	}
	again, status := outcome{Act: act, Typed: v}, fiber.StatusOK
	if cause == nil {
		var total tax.Totals
		if total, cause = q.With(ticked(v, "one.")); cause == nil {
			again.Total = &total
		}
	}
	if cause != nil {
		status = problem.Status(cause)
		problems, err := problemsOf(cause)
		if err != nil {
			return err
		}
		again.Message = message(problems)
	}
	return p.showIssuedWith(c, status, q, talkBox{}, again)
}

// movedRow is a line of the price before and now, and what moved it.
type movedRow struct {
	Label                  string
	Was, Prices, Spec, Now string
	Sum                    bool
}

// MovedRows are the lines of the price that moved since the version before.
func (d issuedPage) MovedRows() []movedRow {
	m := d.Quote.Printed.Moved
	if m == nil {
		return nil
	}
	c := d.Quote.Gross.Currency()
	var rows []movedRow
	for _, l := range m.Lines {
		row := movedRow{l.Label, words.Money(money.Round(l.Was, c)), "", "", words.Money(money.Round(l.Now, c)), l.Key == "gross" || l.Key == "net" || l.Key == "cost" || l.Key == "direct"}
		if !l.Prices.IsZero() {
			row.Prices = extra(money.Round(l.Prices, c))
		}
		if !l.Spec.IsZero() {
			row.Spec = extra(money.Round(l.Spec, c))
		}
		rows = append(rows, row)
	}
	return rows
}

// MovedBy says in a sentence what moved the price since the version before.
func (d issuedPage) MovedBy() string {
	m := d.Quote.Printed.Moved
	c := d.Quote.Gross.Currency()
	by := func(a money.Amount) string { return extra(a) }
	said := "From " + words.Price(money.Round(m.Was, c)) + " to " + words.Price(money.Round(m.Now, c)) + ", " + by(money.Round(m.By(), c))
	switch {
	case m.Untold != "":
		return said + ". What prices and spec did cannot be told apart. " + m.Untold
	case m.By().IsZero() && m.Prices.IsZero():
		return "The price is what it was, " + words.Price(money.Round(m.Now, c)) + "."
	}
	var parts []string
	for _, part := range []struct {
		amount money.Amount
		what   string
	}{{money.Round(m.Prices, c), "by prices, rates and steps"}, {money.Round(m.Spec, c), "by the spec"}} {
		if part.amount.Sign() != 0 {
			parts = append(parts, by(part.amount)+" "+part.what)
		}
	}
	return said + ": " + strings.Join(parts, ", ") + "."
}
