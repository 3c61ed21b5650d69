package main

import (
	"fmt"
	"maps"
	"os"
	urlpath "path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// screens are a phone, a laptop and a large screen.
func screens() []screen { return []screen{{360, 780}, {1440, 900}, {1600, 1000}} }

type screen struct{ width, height int64 }

// lookEverywhere looks at pages with very long names, wrong entries and nothing found, and at those at the door.
func lookEverywhere(b *tab) {
	long := strings.Repeat("Very long ", 5) + "Undividedlongname"
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
	send(b, input.InsertText, input.InsertTextParams{Text: enquired() + "\n" + long})
	b.press("[value=keep]")
	enquiry := b.path()
	ask[any](b, `document.querySelector("form[action='/waiting']").closest("details").open = true`)
	b.press(".doings form[action='/waiting'] button")
	first := func(list string) string {
		b.open(list)
		return ask[string](b, `document.querySelector(".list a").getAttribute("href")`)
	}
	customer, design := first("/customers"), first("/designs")
	b.look(screens(), "/enquiries", "/enquiries/new", enquiry, "/waiting", "/workshop/enquiries", "/enquire", "/enquire?sent=1", "/quotes", "/quotes/new", wrong, draft, "/quotes?words=nothing+of+the+kind",
		design, customer, "/customers/new", "/designs/new", "/stock?words=nothing+of+the+kind", "/nowhere", "/sign-in", "/link/used")
}

// TestEveryPageFitsEveryScreen goes through the demo with its history, from link to link, and looks at one page of each
// kind.
func TestEveryPageFitsEveryScreen(t *testing.T) {
	t.Parallel()
	address, link := served(t, func(s *settings) { s.databaseURL = withHistory(t) })
	b := browse(t, address)
	b.signIn(link)
	// What differs from page to page of a kind: keys, numbers, months, and the codes of items and steps.
	keys, codes, lists := regexp.MustCompile(`[^/]*[0-9][^/]*`), []string{"/stock/", "/stock/items/", "/workshop/steps/"}, []string{"count", "items", "offcuts", "suppliers", "new"}
	seen := map[string]bool{}
	for next := []string{"/today"}; len(next) > 0; next = next[1:] {
		path, _, _ := strings.Cut(next[0], "?")
		kind := keys.ReplaceAllString(path, "*")
		if folder, code := urlpath.Split(path); slices.Contains(codes, folder) && !slices.Contains(lists, code) {
			kind = folder + "*"
		}
		if seen[kind] {
			continue
		}
		seen[kind] = true
		b.look(screens()[:2], next[0])
		next = append(next, ask[[]string](b, `[...document.querySelectorAll("nav a, main a")].filter((a) => !a.matches("[download], [href^='#'], [target]") && a.origin === location.origin && !/\.[a-z]+$/.test(a.pathname)).map((a) => a.pathname + a.search)`)...)
	}
	t.Logf("%d pages: %s", len(seen), strings.Join(slices.Sorted(maps.Keys(seen)), " "))
	for _, kind := range []string{"/quotes/*", "/designs/*", "/orders/*/cutting", "/stock/*", "/invoices/*", "/figures/months/*", "/figures/designs/*", "/workshop/people/*", "/log/*"} {
		if !seen[kind] {
			t.Errorf("no link led to %s", kind)
		}
	}
}

// look looks at pages on screens, in light and dark, folded and with everything open, holds them to testdata/look.js
// and goes through them with the tab key.
func (b *tab) look(screens []screen, paths ...string) {
	b.t.Helper()
	script, err := os.ReadFile("testdata/look.js")
	fatal(b.t, err)
	found := map[string][]string{} // what is wrong -> where
	for _, path := range paths {
		b.open(path)
		for i, s := range screens {
			options := []chromedp.EmulateViewportOption{}
			if s.width < 700 {
				options = append(options, chromedp.EmulateMobile)
			}
			b.do(chromedp.EmulateViewport(s.width, s.height, options...))
			ask[any](b, `for (const d of document.querySelectorAll("details")) d.open = (d.dataset.first ??= String(d.open)) === "true"`)
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
