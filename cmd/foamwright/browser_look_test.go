package main

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// screens are a phone, a laptop and a large screen.
func screens() []struct{ width, height int64 } {
	return []struct{ width, height int64 }{{360, 780}, {1440, 900}, {1600, 1000}}
}

// lookEverywhere opens every page on every screen, in light and dark, folded and with everything open, and holds it
// to testdata/look.js.
func lookEverywhere(b *tab) {
	script, err := os.ReadFile("testdata/look.js")
	fatal(b.t, err)
	long := strings.Repeat("Very long ", 5) + "Undividedlongname"
	first := func(list string) string {
		b.open(list)
		return ask[string](b, `document.querySelector(".list a").getAttribute("href")`)
	}
	issued, customer, design := first("/quotes"), first("/customers"), first("/designs")
	order, purchase := first("/orders"), first("/buying")
	b.open("/quotes/new")
	b.fill("[name=new_customer]", long)
	b.press("main .go")
	b.fill("[name=title]", long)
	b.fill("[name=name]", long[:60])
	b.fill("#f-outline-diameter", "80")
	b.press("[value=keep]")
	wrong := b.path()
	b.open("/quotes/new")
	ask[any](b, `document.querySelector("#customer").selectedIndex = 1; [...document.querySelectorAll("[name=design]")].pop().click()`)
	b.press("main .go")
	draft := b.path()
	b.open("/workshop/enquiries")
	ask[any](b, `document.querySelector("[name=open]").checked = true`)
	b.fill("[name=no_orders_before]", "01012199")
	b.press("main .go")
	b.open("/enquiries/new")
	b.until(`document.activeElement.name === "words"`)
	send(b, input.InsertText, input.InsertTextParams{Text: enquired + "\n" + long})
	b.press("[value=keep]")
	enquiry := b.path()
	ask[any](b, `document.querySelector("form[action='/waiting']").closest("details").open = true`)
	b.press(".doings form[action='/waiting'] button")
	found := map[string][]string{} // what is wrong -> where
	for _, path := range []string{"/enquiries", "/enquiries/new", enquiry, "/waiting", "/workshop/enquiries", "/enquire", "/enquire?sent=1", "/quotes", "/quotes/new", wrong, draft, issued, "/designs", "/designs/new", design, "/customers", "/customers/new", customer, "/workshop", "/today", "/stock", "/stock?words=nothing+of+the+kind", "/stock/latex", "/stock/mat-10", "/stock/count", "/buying", purchase, "/orders", order, order + "/cutting", "/log", strings.Replace(order, "/orders", "/log", 1), "/learned/materials", "/stock/offcuts", "/stock/items", "/stock/items/latex", "/stock/suppliers", "/account", "/nowhere", "/quotes?words=nothing+of+the+kind", "/sign-in", "/link/used"} {
		for i, s := range screens() {
			options := []chromedp.EmulateViewportOption{}
			if s.width < 700 {
				options = append(options, chromedp.EmulateMobile)
			}
			b.do(chromedp.EmulateViewport(s.width, s.height, options...))
			b.open(path)
			for _, scheme := range []string{"light", "dark"} {
				b.like(scheme, "reduce") // nothing is half way between two colours
				for _, what := range ask[[]string](b, string(script)) {
					found[path+" "+what] = append(found[path+" "+what], fmt.Sprint(s.width, " ", scheme))
				}
				ask[any](b, `for (const d of document.querySelectorAll("details")) d.open = true`)
			}
			if i == 1 {
				b.byKeyboard(path)
			}
		}
	}
	for _, what := range slices.Sorted(maps.Keys(found)) {
		b.t.Errorf("%s (%s)", what, strings.Join(found[what], ", "))
	}
	b.like("light", "no-preference")
	b.do(chromedp.EmulateViewport(1440, 900))
}

// like emulates what a person set their system to.
func (b *tab) like(scheme, motion string) {
	b.t.Helper()
	send(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
		{Name: "prefers-color-scheme", Value: scheme}, {Name: "prefers-reduced-motion", Value: motion}}})
}

// byKeyboard goes through a page with the tab key: what has the focus can be seen (WCAG 2.2, 2.4.7 and 2.4.11).
func (b *tab) byKeyboard(path string) {
	b.t.Helper()
	ask[any](b, `scrollTo(0, 0); document.activeElement?.blur()`)
	for range 12 {
		b.do(chromedp.KeyEvent("\t"))
		got := ask[string](b, `(() => {
			const e = document.activeElement;
			if (e === document.body) return "";
			const shown = e.matches(".unseen") ? e.nextElementSibling : e, style = getComputedStyle(shown), box = shown.getBoundingClientRect();
			const there = box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
			return e.matches(":focus-visible") && style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2 && there ? "" : e.outerHTML.slice(0, 120);
		})()`)
		if got != "" {
			b.t.Errorf("%s: the focus cannot be seen on %s", path, got)
			return
		}
	}
}
