package web

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"runtime/debug"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
	"foamwright/pricing/words"
)

// mostSearch is how long a page waits for a better plan, its turn and the search; a plan that takes longer is found on
// issuing. It ends before the program's patience when it stops.
const mostSearch = 4 * time.Second

// told is one line of the answer, JSON: how far the search is, then, at the end, what was found.
type told struct {
	Spent int    `json:"spent"`          // per cent
	Gain  string `json:"gain,omitempty"` // what is better; empty while searching, and when nothing is
	HTML  string `json:"html,omitempty"` // the live fragments of the better plan
}

// between is how often a page is told at most; it is also how soon a page that is gone is noticed.
const between = 30 * time.Millisecond

// Better is where the page asks for a better plan.
func (b board) Better() string { return strings.TrimSuffix(b.Live, "/live") + "/better" }

// better searches further for what is typed, as far as issuing will, while the page shows the first plan. Nothing is
// stored.
func (p *Pages) better(c *fiber.Ctx) error {
	v := values(c)
	f, err := orderform.FromValues(specValues(v))
	if err != nil {
		return err
	}
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	live, customer := strings.TrimSuffix(c.Path(), "/better")+"/live", v.Get("customer")
	p.tell(c, p.guard.CSRFToken(c), mostSearch, func(ctx context.Context, say func(told)) told {
		return p.search(ctx, customer, f, w.Figures, live, say)
	})
	return nil
}

// tell answers line by line while work goes on, at most so long; the last line is what it returns. A line that nobody
// takes ends it, as does the browser's next one.
func (p *Pages) tell(c *fiber.Ctx, browser string, most time.Duration, work func(ctx context.Context, say func(told)) told) {
	ctx, done := p.searches.begin(browser, most)
	c.Set(fiber.HeaderCacheControl, "no-store")
	c.Set(fiber.HeaderContentType, "application/x-ndjson")
	c.Context().SetBodyStreamWriter(func(out *bufio.Writer) {
		defer done()
		defer func() { // nothing else stands between a panic here and the end of the program
			if value := recover(); value != nil {
				p.log.Error("what a page waits for broke off", "panic", fmt.Sprint(value), "stack", string(debug.Stack()))
			}
		}()
		ctx, cancel := context.WithCancel(ctx)
		defer cancel()
		say := teller(out, cancel)
		say(told{})
		if last := work(ctx, say); ctx.Err() == nil {
			say(last)
		}
	})
}

// teller writes lines that are read as they come; when one cannot be written nobody reads any more.
func teller(out *bufio.Writer, gone func()) func(told) {
	return func(t told) {
		line, err := json.Marshal(t)
		if err == nil {
			_, err = out.Write(append(line, '\n'))
		}
		if err == nil {
			err = out.Flush()
		}
		if err != nil {
			gone()
		}
	}
}

// search gives what is better, empty for nothing, and tells how far it is.
func (p *Pages) search(ctx context.Context, customer string, f orderform.Form, figures pricing.Snapshot, live string, say func(told)) told {
	leave, ok := p.searches.turn(ctx)
	defer leave()
	if !ok {
		return told{}
	}
	last := time.Now()
	first, better, err := p.sales.Better(ctx, customer, f, func(percent int) {
		if now := time.Now(); now.Sub(last) >= between {
			last = now
			say(told{Spent: percent})
		}
	})
	if err != nil {
		if ctx.Err() == nil && fault.KindOf(err) != fault.Invalid {
			p.log.Error("no better plan could be looked for", "cause", err)
		}
		return told{}
	}
	g := gain(first, better)
	if g == "" {
		return told{Spent: 100}
	}
	b := drawn(f, better, figures, live)
	b.Unsaved, b.Found = true, true
	if b.Odds, err = p.sales.Odds(ctx); err != nil {
		p.log.Error("the logged jobs could not be counted", "cause", err)
	}
	if err := p.days(ctx, &b); err != nil {
		p.log.Error("the days of a better plan could not be looked up", "cause", err)
		return told{}
	}
	var html bytes.Buffer
	if err := p.templates["quote"].ExecuteTemplate(&html, "live", b); err != nil {
		p.log.Error("a better plan could not be shown", "cause", err)
		return told{}
	}
	return told{Spent: 100, Gain: g, HTML: html.String()}
}

// gain says in what one estimate is better than the first one of the same spec: sheets, else what they cost less their
// offcuts, else the remnant of the last one. Empty when in nothing.
func gain(first, better pricing.Estimate) string {
	var parts []string
	remnant := false
	for i, f := range better.Foam {
		switch fewer := first.Foam[i].Sheets - f.Sheets; {
		case fewer == 1:
			parts = append(parts, "1 sheet of "+f.Foam.Name+" fewer")
		case fewer > 1:
			parts = append(parts, fmt.Sprintf("%d sheets of %s fewer", fewer, f.Foam.Name))
		}
		remnant = remnant || f.Job.Score(f.Plan).Better(f.Job.Score(first.Foam[i].Plan))
	}
	if less := first.Price.Gross.Sub(better.Price.Gross); less.Sign() > 0 {
		parts = append(parts, words.Price(less)+" less")
	}
	if len(parts) == 0 && remnant {
		parts = append(parts, "more is left over")
	}
	if len(parts) == 0 {
		return ""
	}
	return "A better cut plan: " + strings.Join(parts, ", ") + "."
}
