package main

import (
	"io"
	"log/slog"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
)

// answering is an order of the demo's buckler whose drawing and whose change wait for an answer, and the path of its
// customer's page.
func answering(t *testing.T, databaseURL string) (path string) {
	t.Helper()
	path = offers(t, databaseURL, 1)[0]
	p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.NewTextHandler(t.Output(), nil))}
	shop, err := p.open(t.Context(), settings{databaseURL: databaseURL}, theDemo())
	fatal(t, err)
	t.Cleanup(shop.close)
	ctx := t.Context()
	l, err := shop.sales.Linked(ctx, strings.TrimPrefix(path, "/q/"), false)
	fatal(t, err)
	o, err := shop.sales.Accept(ctx, l.Quote.ID, sales.Choice{Latex: sales.LatexNo}, "Wren")
	fatal(t, err)
	_, err = shop.sales.ShowDrawing(ctx, o.Order.ID, "Is the rim as you want it?", "Wren")
	fatal(t, err)
	form := o.Quote.Form
	form.Studs = orderform.T("14")
	c, err := shop.sales.PriceChange(ctx, o.Order.ID, form)
	fatal(t, err)
	_, err = shop.sales.OfferChange(ctx, o.Order.ID, o.Order.Edit+1, c.After.Gross.String(), "Fourteen studs around the rim", form, "Wren")
	fatal(t, err)
	return path
}

// TestAnOrderIsAnsweredInTheBrowser: on a phone without scripts a customer approves the drawing and accepts the change;
// the page is looked at on every screen, with what waits and with what was said.
func TestAnOrderIsAnsweredInTheBrowser(t *testing.T) {
	t.Parallel()
	var databaseURL string
	address, _ := served(t, func(s *settings) { databaseURL = s.databaseURL })
	path := answering(t, databaseURL)
	b := browse(t, address)
	look, err := os.ReadFile("testdata/look.js")
	fatal(t, err)
	fits := func(what string) {
		for _, s := range screens() {
			options := []chromedp.EmulateViewportOption{}
			if s.width < 700 {
				options = append(options, chromedp.EmulateMobile)
			}
			b.do(chromedp.EmulateViewport(s.width, s.height, options...))
			for _, scheme := range []string{"light", "dark"} {
				b.like(scheme, "reduce")
				for _, wrong := range ask[[]string](b, string(look)) {
					t.Errorf("%s %s (%d %s)", what, wrong, s.width, scheme)
				}
			}
		}
		b.do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile))
	}
	b.open(path)
	fits("what waits")
	send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.open(path)
	b.press("button[value=approve]")
	if got := b.text("#drawing"); !strings.Contains(got, "Write your name") {
		t.Error(got)
	}
	b.fill("#drawing-name", "Ilse Fenner")
	b.press("button[value=approve]")
	if got := b.text("main"); !strings.Contains(got, "The workshop knows that the drawing is right") || !strings.Contains(got, "approved by Ilse Fenner") {
		t.Error(got)
	}
	then := b.text("#change .total data")
	b.fill("#change-name", "Ilse Fenner")
	b.press("button[value=accept]")
	if got := b.text("main"); !strings.Contains(got, "The change is agreed") || !strings.Contains(got, "accepted by Ilse Fenner") || !strings.Contains(got, "14 studs") {
		t.Error(got)
	}
	if got := b.text("[aria-labelledby=sum] .total data"); got != then {
		t.Errorf("the order comes to %s, and %s was accepted", got, then)
	}
	send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	b.open(path)
	fits("what was said")
	b.open(path + "?in=de")
	for _, wrong := range ask[[]string](b, strings.Replace(string(look), `lang !== "en"`, `lang === "en"`, 1)) {
		t.Errorf("de: %s", wrong)
	}
	b.clean(t)
}
