package web

import (
	"bytes"
	"context"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
)

// mostWhatIf is how long a page waits for everything to be worked out, its turn with it.
const mostWhatIf = 50 * time.Second

// whatIfTold is what comes of a move line by line: how far it is, then the result.
func (p *Pages) whatIfTold(c *fiber.Ctx) error {
	d, err := p.whatIfAsked(c, func(name string) string { return c.Query(name) })
	if err == nil {
		err = d.problems.Err()
	}
	if err != nil {
		return err
	}
	p.tell(c, "what if "+d.CSRF, mostWhatIf, func(ctx context.Context, say func(told)) told { return p.workedOut(ctx, d, say) })
	return nil
}

// workedOut is the last line: the result, or why there is none.
func (p *Pages) workedOut(ctx context.Context, d whatIfPage, say func(told)) told {
	last := time.Time{}
	effect, err := p.figures.WhatIf(ctx, d.Move, func(n, of int) {
		if now := time.Now(); now.Sub(last) >= between {
			last = now
			say(told{Spent: min(99, 100*n/of), Gain: fmt.Sprintf("%d of %d worked out", n, of)})
		}
	})
	if err != nil {
		if fault.KindOf(err) == fault.Internal {
			p.log.Error("what if could not be worked out", "cause", err)
			return told{Spent: 100, Gain: "This could not be worked out. Nothing was changed. Try again in a moment."}
		}
		return told{Spent: 100, Gain: err.Error()}
	}
	d.Asked, d.Effect = true, effect
	var html bytes.Buffer
	if err := p.templates["what-if"].ExecuteTemplate(&html, "what-if-result", d.whatIfResult); err != nil {
		p.log.Error("the result of what if could not be shown", "cause", err)
		return told{Spent: 100, Gain: "This could not be shown. Nothing was changed."}
	}
	return told{Spent: 100, HTML: html.String()}
}

// whatIfCSV is the same for a spreadsheet, shares as fractions.
func (p *Pages) whatIfCSV(c *fiber.Ctx) error {
	d, err := p.whatIfAsked(c, func(name string) string { return c.Query(name) })
	if err == nil {
		err = d.problems.Err()
	}
	if err != nil {
		return err
	}
	effect, err := p.figures.WhatIf(c.UserContext(), d.Move, func(int, int) {})
	if err != nil {
		return err
	}
	head := []string{"kind", "number", "version", "name", "customer", "net", "price", "cost_now", "cost_then", "margin_now", "margin_then", "margin_aimed_at", "below", "restoring_net", "restoring_price"}
	var rows [][]string
	for _, s := range effect.All {
		number, version := "", s.Was.Version
		if s.Kind != figures.ADesign {
			version = s.Quote.Version
		}
		if s.Quote.Number.No != 0 {
			number = s.Quote.Number.String()
		}
		rows = append(rows, []string{string(s.Kind), number, strconv.Itoa(version), stock.Guarded(s.Was.Name), stock.Guarded(s.Quote.Customer), s.Was.Net.String(), s.Was.Price.String(), s.Was.Cost().String(), s.Now.Cost().String(),
			s.Before.Share.StringFixed(4), s.Held.Share.StringFixed(4), effect.Target.Share.StringFixed(4), strconv.FormatBool(s.Below), s.Now.Net.String(), s.Now.Price.String()})
	}
	return sendTable(c, "what-if.csv", head, rows)
}

// mostRevised is how many new versions are opened at once.
const mostRevised = 500

// whatIfRevise opens new versions of chosen quotes as drafts, at today's figures: a move is not made by it. Asked twice,
// the drafts that are open stay. Of one quote it leads to its draft, of several back to what was asked.
func (p *Pages) whatIfRevise(c *fiber.Ctx) error {
	v := values(c)
	asked, err := url.ParseQuery(v.Get("asked"))
	if err != nil {
		asked = url.Values{}
	}
	d, err := p.whatIfAsked(c, asked.Get)
	if err != nil {
		return err
	}
	chosen := v["quote"]
	if one := v.Get("one"); one != "" {
		chosen = []string{one}
	}
	slices.Sort(chosen)
	if chosen = slices.Compact(chosen); len(chosen) == 0 || len(chosen) > mostRevised {
		d.Refused = []string{fmt.Sprintf("Tick the quotes that are to have a new version, at most %d at once.", mostRevised)}
		d.Told, d.Asked = true, true
		return p.render(c, fiber.StatusUnprocessableEntity, "what-if", "What if", "figures", d)
	}
	last, status := "", fiber.StatusOK
	for _, id := range chosen {
		q, err := p.sales.Revise(c.UserContext(), id)
		switch kind := fault.KindOf(err); {
		case err == nil:
			last = q.ID
		case kind == fault.State || kind == fault.NotFound || kind == fault.Conflict || kind == fault.Invalid:
			d.Refused, status = append(d.Refused, err.Error()), problem.Status(err)
		default:
			return err
		}
	}
	switch {
	case len(d.Refused) > 0:
		d.Told, d.Asked = true, true
		return p.render(c, status, "what-if", "What if", "figures", d)
	case len(chosen) == 1:
		return c.Redirect("/quotes/"+last, fiber.StatusSeeOther)
	}
	return c.Redirect("/figures/what-if?"+d.Query, fiber.StatusSeeOther)
}
