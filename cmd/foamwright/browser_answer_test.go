package main

import (
	"fmt"
	"io"
	"log/slog"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"foamwright/pricing/sales"
)

// offers are quotes of the demo's buckler with options, each with a link to its customer's page, made beside the
// program that serves them.
func offers(t *testing.T, databaseURL string, n int) (paths []string) {
	t.Helper()
	p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.NewTextHandler(t.Output(), nil))}
	shop, err := p.open(t.Context(), settings{databaseURL: databaseURL}, theDemo())
	fatal(t, err)
	t.Cleanup(shop.close)
	designs, err := shop.sales.Designs(t.Context())
	fatal(t, err)
	customers, err := shop.sales.Customers(t.Context(), sales.Found{Words: "Ilse"})
	fatal(t, err)
	for _, d := range designs {
		if d.Name != "Ferry buckler" {
			continue
		}
		for range n {
			q, err := shop.sales.NewQuote(t.Context(), customers[0].ID, "Ferry buckler", d.Form)
			fatal(t, err)
			q, err = shop.sales.SaveOptions(t.Context(), q.ID, q.Edit, []sales.Option{
				{Key: "a", Name: "Twelve studs", Changes: map[string]string{"studs": "12"}},
				{Key: "b", Name: "No studs", Changes: map[string]string{"studs": "0"}},
				{Key: "c", Name: "A coat without latex", Changes: map[string]string{"coat.system": "primer"}},
			})
			fatal(t, err)
			e, err := shop.sales.Estimate(t.Context(), q.CustomerID, q.Form)
			fatal(t, err)
			_, err = shop.sales.Issue(t.Context(), q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "Wren")
			fatal(t, err)
			secret, err := shop.sales.Link(t.Context(), q.ID, "Wren")
			fatal(t, err)
			paths = append(paths, "/q/"+secret)
		}
	}
	return paths
}

// TestACustomerInTheBrowser: on a phone, with scripts and without, a customer ticks, sees the total move, asks, and orders.
func TestACustomerInTheBrowser(t *testing.T) {
	t.Parallel()
	var databaseURL string
	address, _ := served(t, func(s *settings) { databaseURL = s.databaseURL })
	paths := offers(t, databaseURL, 3)
	b := browse(t, address)
	look, err := os.ReadFile("testdata/look.js")
	fatal(t, err)
	fits := func(what string) {
		b.t.Helper()
		for _, s := range screens() {
			options := []chromedp.EmulateViewportOption{}
			if s.width < 700 {
				options = append(options, chromedp.EmulateMobile)
			}
			b.do(chromedp.EmulateViewport(s.width, s.height, options...))
			for _, scheme := range []string{"light", "dark"} {
				b.like(scheme, "reduce")
				for _, wrong := range ask[[]string](b, string(look)) {
					b.t.Errorf("%s %s (%d %s)", what, wrong, s.width, scheme)
				}
			}
		}
		b.byKeyboard(what)
		b.like("light", "reduce")
		b.do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile))
	}
	b.do(chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile))
	for i, scripts := range []bool{true, false} {
		t.Run(fmt.Sprintf("with scripts: %t", scripts), func(t *testing.T) {
			b.t = t
			path := paths[i]
			send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: !scripts})
			b.open(path)
			if scripts {
				fits("the offer")
				ask[any](b, `for (const d of document.querySelectorAll("details")) d.open = true`)
				fits("the offer, opened")
				b.open(path)
			}
			before := b.text(".total data")
			b.do(chromedp.Click(chromedp.CSS("input[value=a]")))
			if !scripts {
				if b.text(".total data") != before {
					t.Fatal("the total moves without scripts")
				}
				b.press("button[value=sum]")
			}
			b.until(fmt.Sprintf(`document.querySelector(".total data").innerText.replaceAll("\u202f", "").replaceAll("\u00a0", " ") !== %q`, before))
			with := b.text(".total data")
			b.fill("#question", "Is it heavy?")
			b.press("button[value=ask]")
			if got := b.text(".said"); !strings.Contains(got, "Is it heavy?") {
				t.Errorf("the question is not there: %s", got)
			}
			if b.text(".total data") != with || !ask[bool](b, `document.querySelector("input[value=a]").checked`) {
				t.Error("what was ticked is gone after a question")
			}
			b.press("button[value=accept]")
			if got := b.text("form"); !strings.Contains(got, "Write your name") || !strings.Contains(got, "Answer this first") {
				t.Error(got)
			}
			fitsNow := ask[[]string](b, string(look))
			if len(fitsNow) > 0 {
				t.Errorf("what was wrong: %v", fitsNow)
			}
			b.fill("#name", "Ilse Fenner")
			b.do(chromedp.Click(chromedp.CSS("input[name=latex][value=no]")))
			b.press("button[value=accept]")
			if got := b.text("main"); !strings.Contains(got, "Thank you!") || !strings.Contains(got, with) || !strings.Contains(got, "Twelve studs") || !strings.Contains(got, "Ordered by Ilse Fenner") {
				t.Error(got)
			}
			if scripts {
				fits("the order")
			}
			b.clean(t)
		})
	}
	b.t = t
	send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	for _, in := range []string{"de", "fr"} { // the longest words, on the narrowest screen
		b.open(paths[2] + "?in=" + in)
		for _, wrong := range ask[[]string](b, strings.Replace(string(look), `lang !== "en"`, `lang === "en"`, 1)) {
			t.Errorf("%s: %s", in, wrong)
		}
	}
	b.clean(t)
}
