package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// TestTheShelfInTheBrowser is the second promise in a real browser, pressed as a maker presses: a delivery is
// received, a quote accepted, what is missing seen, bought and received, the deposit noted, the foam cut, the offcut
// kept, and the next order laid out on it.
func TestTheShelfInTheBrowser(t *testing.T) {
	t.Parallel()
	address, link := served(t)
	b := browse(t, address)
	b.signIn(link)
	first := ""
	for _, step := range []struct {
		name string
		work func(*tab)
	}{
		{"receives a delivery", receiveTin},
		{"accepts a quote and sees what is missing", func(b *tab) { first = sellBuckler(b) }},
		{"buys it and receives it", func(b *tab) { buyAll(b, first) }},
		{"notes the deposit", func(b *tab) { payDeposit(b, first) }},
		{"cuts it and keeps an offcut", func(b *tab) { cutAll(b, first) }},
		{"finishes it with what it used", func(b *tab) { finish(b, first) }},
		{"lays the next order out on the offcut", reuseOffcut},
		{"counts with one thumb", countOne},
		{"is told that a file is too large before it is sent", chooseLarge},
	} {
		if !t.Run(step.name, func(t *testing.T) {
			b.t = t
			step.work(b)
			b.clean(t)
		}) {
			t.FailNow() // each goes on where the last one stopped
		}
	}
}

func chooseLarge(b *tab) {
	b.open("/stock/items")
	for size, want := range map[int]string{3 << 20: "This file is larger than 2 MB. Choose a smaller one.", 1 << 20: ""} {
		file := filepath.Join(b.t.TempDir(), fmt.Sprint(size, ".csv"))
		fatal(b.t, os.WriteFile(file, make([]byte, size), 0o600))
		b.do(chromedp.SetUploadFiles("#file", []string{file}))
		if got := ask[string](b, `document.querySelector("#file").validationMessage`); got != want {
			b.t.Errorf("%d bytes: %q", size, got)
		}
	}
}

func receiveTin(b *tab) {
	b.open("/stock/contact")
	before := b.text(".strip dd")
	ask[any](b, `document.querySelectorAll(".doings details")[0].open = true`)
	b.fill("#f-receive-quantity", "five")
	b.fill("#f-receive-cost", "62")
	b.fill("#f-receive-label", "Green can")
	b.press(".doings [action$=receive] button")
	if got := b.text("#f-receive-quantity-wrong"); !strings.Contains(got, "Write a number") || ask[string](b, `document.querySelector("#f-receive-label").value`) != "Green can" {
		b.t.Errorf("a wrong quantity: %q", got)
	}
	b.fill("#f-receive-quantity", "5")
	ask[any](b, `(() => { const form = document.querySelector(".doings [action$=receive]"); form.requestSubmit(); form.requestSubmit(); })()`)
	b.until(`document.readyState === "complete" && document.querySelector("#f-receive-quantity").value === ""`)
	if n := ask[int](b, `[...document.querySelectorAll(".lots b")].filter((l) => l.innerText === "Green can").length`); n != 1 {
		b.t.Errorf("pressed twice, it was received %d times", n)
	}
	if after := b.text(".strip dd"); after == before || !strings.Contains(b.text(".lots"), "Green can") || !strings.Contains(b.text(".moves"), "+5 l") {
		b.t.Errorf("%s became %s: %s", before, after, b.text("main"))
	}
	ask[any](b, `[...document.querySelectorAll(".lots li")].find((l) => l.innerText.includes("Green can")).querySelector("button[value=opened]").id = "open-it"`)
	b.press("#open-it")
	if !strings.Contains(b.text(".lots"), "opened "+time.Now().Format("2 January 2006")) {
		b.t.Error(b.text(".lots"))
	}
}

// sellBuckler quotes, issues and accepts a Ferry buckler, and gives the path of its order.
func sellBuckler(b *tab) string {
	b.t.Helper()
	b.open("/quotes/new")
	ask[any](b, `(() => { const list = document.querySelector("#customer"); list.value = [...list.options].find((o) => o.text.startsWith("Mara")).value;
		[...document.querySelectorAll("[name=design]")].find((d) => d.closest("label").innerText.includes("Ferry buckler")).click(); })()`)
	b.press("main .go")
	b.press("[value=issue]")
	ask[any](b, `document.querySelector("[action$=accept]").closest("details").open = true`)
	b.press("[action$=accept] button")
	if !strings.HasPrefix(b.path(), "/orders/") || !strings.Contains(b.text(".steps"), "✓ Accepted") {
		b.t.Fatalf("%s: %s", b.path(), b.text("main"))
	}
	return b.path()
}

// unfold opens what a page has folded.
func unfold(b *tab) {
	ask[any](b, `for (const d of document.querySelectorAll("details")) d.open = true`)
}

// buyAll notes an order with every supplier and receives all of it, until the order is short of nothing.
func buyAll(b *tab, order string) {
	unfold(b)
	if short := b.text("main"); !strings.Contains(short, "What is missing") || !strings.Contains(short, "▼") || !strings.Contains(short, "order by") && !strings.Contains(short, "Order by") {
		b.t.Fatalf("nothing is missing: %s", short)
	}
	b.press("[href='/buying'].go")
	if !strings.Contains(b.text("main"), "Ferry buckler") {
		b.t.Errorf("the list does not say for whom: %s", b.text("main"))
	}
	for range 6 {
		if !ask[bool](b, `document.querySelector(".buy .go") !== null`) {
			break
		}
		cost := b.text(".buy .sum")
		b.press(".buy .go")
		if !strings.HasPrefix(b.path(), "/buying/") || !strings.Contains(b.text(".state"), "expected") {
			b.t.Fatalf("%s at %s: %s", cost, b.path(), b.text("main"))
		}
		receiveAll(b)
		b.open("/buying")
	}
	// What was on its way before counts as coming: it is received too.
	for range 3 {
		if !ask[bool](b, `document.querySelector("[aria-labelledby=on-the-way] a") !== null`) {
			break
		}
		b.press("[aria-labelledby=on-the-way] a")
		receiveAll(b)
		b.open("/buying")
	}
	b.open(order)
	unfold(b)
	if strings.Contains(b.text("main"), "What is missing") {
		b.t.Errorf("still short: %s", b.text("main"))
	}
}

func receiveAll(b *tab) {
	b.t.Helper()
	ask[any](b, `for (const e of document.querySelectorAll("[name^='packs.']")) e.value = e.closest("section").querySelector(".state").innerText.match(/(\d+) to come/)[1]`)
	b.press(".arrival .go")
	if !strings.Contains(b.text("main"), "It is on the shelf") || !strings.Contains(b.text(".state"), "closed") {
		b.t.Fatalf("not received: %s", b.text("main"))
	}
}

func payDeposit(b *tab, order string) {
	b.open(order)
	unfold(b)
	b.press("[action$=pay] button")
	if steps := b.text(".steps"); !strings.Contains(steps, "✓ Deposit came") || ask[bool](b, `document.querySelector("[action$=pay]") !== null`) {
		b.t.Errorf("%s", steps)
	}
}

// cutAll cuts every foam of an order by the plan that is shown.
func cutAll(b *tab, order string) {
	b.t.Helper()
	b.open(order + "/cutting")
	if ask[int](b, `document.querySelectorAll(".map svg").length`) == 0 {
		b.t.Fatalf("no plan is drawn: %s", b.text("main"))
	}
	for ask[bool](b, `document.querySelector("[name=digest]") !== null`) {
		before := ask[int](b, `document.querySelectorAll("[name=digest]").length`)
		b.press("[action$=cutting] button")
		if after := ask[int](b, `document.querySelectorAll("[name=digest]").length`); after >= before {
			b.t.Fatalf("nothing was cut: %s", b.text("main"))
		}
	}
	if !strings.Contains(b.text("main"), "✓ Cut") {
		b.t.Error(b.text("main"))
	}
}

func finish(b *tab, order string) {
	b.open("/stock/offcuts")
	if kept := b.text("main"); !strings.Contains(kept, time.Now().Format("2 Jan 2006")) {
		b.t.Errorf("no offcut of today is kept: %s", kept)
	}
	b.open(order)
	unfold(b)
	b.until(`document.querySelector("[action$=finish]") !== null`)
	ask[any](b, `document.querySelector("[action$=finish]").closest("details").open = true`)
	b.press("[action$=finish] .go")
	if got := b.text(".steps"); !strings.Contains(got, "✓ Made") || strings.Contains(b.text("main"), "▼") {
		b.t.Errorf("%s: %s", got, b.text("main"))
	}
	b.open("/stock/contact")
	if moves := b.text(".moves"); !strings.Contains(strings.ToLower(moves), "used, order") {
		b.t.Errorf("nothing was used: %s", moves)
	}
}

// reuseOffcut sells the same again: the plan cuts from what lies there before it opens another mat.
func reuseOffcut(b *tab) {
	order := sellBuckler(b)
	if strings.Contains(b.text("main"), "What is missing") {
		buyAll(b, order)
	}
	payDeposit(b, order)
	b.open(order + "/cutting")
	if plan := b.text("main"); !strings.Contains(plan, "offcut “") {
		b.t.Fatalf("the plan opens new mats while offcuts lie there: %s", plan)
	}
	used := ask[string](b, `[...document.querySelectorAll(".plainly li")].find((l) => l.innerText.startsWith("offcut")).innerText.match(/“(.*)”/)[1]`)
	count := fmt.Sprintf(`[...document.querySelectorAll(".offcuts b")].filter((l) => l.innerText === %q).length`, used)
	b.open("/stock/offcuts")
	before := ask[int](b, count)
	cutAll(b, order)
	b.open("/stock/offcuts")
	if after := ask[int](b, count); after >= before {
		b.t.Errorf("offcut %q lies there %d times, before it was cut %d times", used, after, before)
	}
}

func countOne(b *tab) {
	b.open("/stock/count?words=snap")
	b.fill("[name='found.blade']", "1")
	b.press(".count .go")
	if !strings.Contains(b.text("main"), "The books say") || ask[string](b, `document.querySelector("[name='found.blade']").value`) != "1" {
		b.t.Fatalf("%s", b.text("main"))
	}
	b.fill("[name='why.blade']", "The box was open")
	b.press(".count .go")
	if !strings.Contains(b.text("main"), "Posted: 1 difference") {
		b.t.Errorf("%s", b.text("main"))
	}
	b.open("/stock/blade")
	if got := b.text(".strip dd"); got != "1 pc" || !strings.Contains(b.text(".moves"), "The box was open") {
		b.t.Errorf("%s: %s", got, b.text("main"))
	}
	b.open("/today")
	if !strings.Contains(b.text("main"), "Snap blade") {
		b.t.Errorf("low blades are not on Today: %s", b.text("main"))
	}
}
