package web

import (
	"context"
	"fmt"
	"html/template"
	"net/url"
	"strconv"
	"strings"

	"foamwright/materials/drawing"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// recompute is what a button does that works out what was typed and keeps nothing; a section's name may follow.
const recompute = "recompute"

// board is the heart of the quote and the design page: the spec, the drawing and the price slip of what was typed.
type board struct {
	Form     form
	Estimate *pricing.Estimate // nil while what was typed cannot be made
	Shares   []pricing.Share
	Views    []view
	Made     []string
	Wrong    int // entries with a problem
	Live     string
	Open     string    // section to leave open: there was asked for more room
	Unsaved  bool      // what is shown was typed and is not kept
	Days     sales.Fit // as the bench is booked now
	Garbled  bool      // what was posted is no spec at all: nothing of it may be kept
	Odds     bool      // enough jobs were logged to speak of chances
	Breaks   []priceBreak
	Found    bool // by searching further for what is shown: the table of prices by number stays
}

// Fits tells whether the size rule, if one was stated, is kept.
func (b board) Fits() bool {
	return b.Estimate != nil && b.Estimate.Verdict.Answer == shield.Fits
}

// Verdict says how it stands to the size rule.
func (b board) Verdict() string {
	if b.Estimate == nil {
		return ""
	}
	return sales.Judged(words.Tongue{}, b.Estimate.Verdict)
}

// view is one drawing of the shield.
type view struct {
	Key, Name string
	SVG       template.HTML // made by package drawing, which escapes every text
}

// board works out what was typed, for a customer or for nobody in particular. The problems of the spec end up beside its fields; only what is not the person's
// to mend is an error.
func (p *Pages) board(ctx context.Context, customer string, f orderform.Form, live string) (board, error) {
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return board{}, err
	}
	e, err := p.sales.Estimate(ctx, customer, f)
	if err != nil {
		problems, err := problemsOf(err)
		if err != nil {
			return board{}, err
		}
		return board{Form: newForm(f, problems, offered(w.Figures)), Wrong: len(problems), Live: live}, nil
	}
	b := drawn(f, e, w.Figures, live)
	if err := p.days(ctx, &b); err != nil {
		return board{}, err
	}
	b.Odds, err = p.sales.Odds(ctx)
	return b, err
}

// drawn is the board of an estimate.
func drawn(f orderform.Form, e pricing.Estimate, figures pricing.Snapshot, live string) board {
	return board{
		Form: newForm(f, nil, offered(figures)), Estimate: &e, Shares: e.Shares(), Made: sales.Describe(words.Tongue{}, e.Shield), Live: live,
		Views: views(e, figures.Catalogue.Swatches()),
	}
}

// views are the drawings there is something to see on: what has no outline, a prop or a repair, has parts and their
// cut plan alone.
func views(e pricing.Estimate, swatches map[string]string) []view {
	draw := func(key, name string, d drawing.Drawing) view {
		return view{key, name, template.HTML(drawing.SVG(d))}
	}
	var all []view
	if len(e.Shield.Flat) > 0 {
		all = append(all, draw("face", "Face", drawing.Face(e.Shield, swatches)), draw("back", "Back", drawing.Back(e.Shield, swatches)), draw("section", "Section", drawing.Section(e.Shield)), draw("exploded", "Apart", drawing.Exploded(e.Shield, swatches)))
	} else if !e.Shield.Shapeless() {
		all = append(all, draw("face", "Parts", drawing.Face(e.Shield, swatches)))
	}
	if len(e.Foam) > 0 {
		all = append(all, draw("plan", "Cut plan", drawing.Overview(e.Shield.Spec.Name, cuts(e)...)))
	}
	return all
}

// unreadable is the board of fields that are no spec at all, such as a form posted by another program.
func (p *Pages) unreadable(ctx context.Context, v url.Values, cause error, live string) (board, error) {
	problems, err := problemsOf(cause)
	if err != nil {
		return board{}, err
	}
	w, err := p.sales.Workshop(ctx)
	if err != nil {
		return board{}, err
	}
	return board{Form: typed(v, problems, offered(w.Figures)), Wrong: len(problems), Live: live, Garbled: true}, nil
}

// posted is the board of posted fields.
func (p *Pages) posted(ctx context.Context, v url.Values, live string) (orderform.Form, board, error) {
	var b board
	f, err := orderform.FromValues(specValues(v))
	if err != nil {
		b, err = p.unreadable(ctx, specValues(v), err, live)
	} else {
		b, err = p.board(ctx, v.Get("customer"), f, live)
	}
	b.Unsaved = true
	_, b.Open, _ = strings.Cut(v.Get("do"), recompute+" ")
	if err == nil && b.Open == "breaks" && b.Estimate != nil {
		b.Breaks, err = p.breaks(ctx, v.Get("customer"), f)
	}
	return f, b, err
}

// offered are the lists a spec chooses from.
func offered(s pricing.Snapshot) choices {
	var ch choices
	for _, f := range s.Catalogue.Foams {
		ch.Foams = append(ch.Foams, option{f.Code, f.Name})
	}
	for _, name := range s.Catalogue.Colours() {
		ch.Colours = append(ch.Colours, option{name, name})
	}
	for _, f := range s.Bench.Formers {
		ch.Formers = append(ch.Formers, option{f.Name, fmt.Sprintf("%s, %.0f mm", f.Name, f.Radius.MM())})
	}
	ch.Liquids = map[string][]option{}
	for _, l := range s.Catalogue.Liquids {
		ch.Liquids[string(l.Use)] = append(ch.Liquids[string(l.Use)], option{l.Code, l.Name})
	}
	ch.Goods = map[string][]option{}
	for _, g := range s.Catalogue.Goods {
		ch.Goods[string(g.Use)] = append(ch.Goods[string(g.Use)], option{g.Code, g.Name})
	}
	for _, r := range s.Rules {
		ch.Rules = append(ch.Rules, option{r.Code, r.Name + ", " + r.Edition})
	}
	return ch
}

// number counts a thing, "3 colours".
func number(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
