package main

import (
	"encoding/base64"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// TestInTheBrowser is the whole program in a real browser, from the sign-in link to signing out.
func TestInTheBrowser(t *testing.T) {
	t.Parallel()
	address, link := served(t)
	b := browse(t, address)
	run := func(name string, work func(*tab)) {
		ok := t.Run(name, func(t *testing.T) {
			b.t = t
			began := time.Now()
			work(b)
			b.clean(t)
			t.Logf("%v", time.Since(began).Round(time.Millisecond))
		})
		if b.t = t; !ok {
			t.FailNow() // each goes on where the last one stopped
		}
	}
	run("signs in by link, then by password", func(b *tab) { signIn(b, link) })
	run("starts a quote from a design", startQuote)
	run("shows the new price while the width is typed", typeWidth)
	run("looks at the back and the section", lookRound)
	run("says what to change beside a wrong entry", wrongEntry)
	run("keeps, makes room and goes by the keyboard", keepAndGrow)
	run("issues, prints and lists", issueAndPrint)
	run("opens a new version and throws it away", newVersion)
	run("works without scripts", withoutScripts)
	run("fits every screen and can be used by everybody", lookEverywhere)
	run("would have heard of what goes wrong", func(b *tab) {
		ask[any](b, `console.error("cried"); document.body.setAttribute("style", "color: red"); fetch("https://elsewhere.example/").catch(() => 0)`)
		heard := func() string {
			b.mu.Lock()
			defer b.mu.Unlock()
			return strings.Join(b.faults, "\n")
		}
		for _, want := range []string{"cried", "style-src", "elsewhere.example"} {
			for end := time.Now().Add(5 * time.Second); !strings.Contains(heard(), want); time.Sleep(20 * time.Millisecond) {
				if time.Now().After(end) {
					b.t.Fatalf("nothing was heard of %s: %s", want, heard())
				}
			}
		}
		b.mu.Lock()
		b.faults = nil
		b.mu.Unlock()
	})
	run("signs out", func(b *tab) {
		b.open("/quotes")
		b.press(".who button")
		if b.path() != "/sign-in" {
			b.t.Errorf("signing out leads to %s", b.path())
		}
		b.open("/quotes")
		if b.path() != "/sign-in" || strings.Contains(b.text("body"), "EUR") {
			b.t.Errorf("after signing out %s can be read", b.path())
		}
	})
	t.Logf("%d requests, none to another host", b.requests)
}

func signIn(b *tab, link string) {
	b.do(chromedp.Navigate(link))
	b.press("main button")
	if b.path() != "/today" {
		b.t.Fatalf("the link leads to %s: %s", b.path(), b.text("main"))
	}
	b.open("/account")
	b.fill("[name=new]", "three old boots")
	b.press("main button")
	b.press(".who button")
	b.do(chromedp.Navigate(link))
	b.press("main button")
	if !strings.Contains(b.text("main"), "new link") {
		b.t.Errorf("a link works twice: %s", b.text("main"))
	}
	b.open("/customers")
	b.fill("#login", "wren")
	b.fill("#password", "three new boots")
	b.press("main button")
	if b.text(".remedy") == "" || ask[string](b, "document.querySelector('#login').value") != "wren" {
		b.t.Errorf("a wrong password: %s", b.text("main"))
	}
	b.fill("#password", "three old boots")
	b.press("main button")
	if b.path() != "/customers" {
		b.t.Fatalf("signing in leads to %s, not where the person was going: %s", b.path(), b.text("main"))
	}
}

func startQuote(b *tab) {
	b.open("/quotes")
	b.press(".acts a.go")
	ask[any](b, `(() => { const list = document.querySelector("#customer"); list.value = [...list.options].find((o) => o.text.startsWith("Jonas")).value;
		[...document.querySelectorAll("[name=design]")].find((d) => d.closest("label").innerText.includes("Tidewall heater")).click(); })()`)
	b.press("main .go")
	if !strings.HasPrefix(b.path(), "/quotes/") || b.text("h1") != "Tidewall heater" || !strings.Contains(b.text(".slip"), "EUR") {
		b.t.Fatalf("%s: %s", b.path(), b.text("main"))
	}
}

// watch notes in the page when an entry was typed into last and when the slip changed after it.
const watch = `(() => {
	document.addEventListener("input", () => { window.typed = performance.now(); }, true);
	new MutationObserver(() => { window.shown = performance.now(); }).observe(document.querySelector("[data-live=slip]"), { childList: true });
})()`

// priced is true once the slip has the price of an outline.
func priced(outline string) string {
	return fmt.Sprintf(`document.querySelector("[data-live=sum-outline]").textContent.startsWith(%q) && !document.querySelector("#board").hasAttribute("aria-busy") && document.querySelector("[name=digest]") !== null`, outline)
}

func typeWidth(b *tab) {
	ask[any](b, watch)
	before, drawing := b.text(".slip .total"), b.text(".view.face")
	for _, width := range []string{"60 cm", "58 cm", "57 cm"} {
		b.fill("#f-outline-width", width)
		b.until(priced("heater, " + width))
		b.t.Logf("%s: the new price stands %.0f ms after the last key, 120 of them waiting for more", width, ask[float64](b, "window.shown - window.typed"))
	}
	if after := b.text(".slip .total"); after == before {
		b.t.Errorf("the price stays %s", after)
	}
	if after := b.text(".view.face"); after == drawing || !strings.Contains(after, "570") {
		b.t.Errorf("the drawing stays %q, %q", drawing, after)
	}
	if !strings.Contains(b.text(".state"), "changes not kept yet") || b.text("[data-live=sum-outline]") != "heater, 57 cm × 76 cm" {
		b.t.Errorf("%s, %s", b.text(".state"), b.text("[data-live=sum-outline]"))
	}
	if ask[int](b, `document.querySelectorAll("[name=digest]").length`) != 1 {
		b.t.Error("the form holds more than one digest")
	}
}

func lookRound(b *tab) {
	seen := `[...document.querySelectorAll(".view")].filter((v) => v.offsetHeight > 0).map((v) => v.className).join()`
	for _, view := range []string{"back", "section"} {
		b.do(chromedp.Click(chromedp.CSS("label[for=view-" + view + "]")))
		if got := ask[string](b, seen); got != "view "+view {
			b.t.Errorf("%s shows %q", view, got)
		}
	}
	ask[any](b, `document.querySelector(".slip details").open = true`)
	b.fill("#f-outline-width", "56")
	b.until(`document.querySelector(".slip .wrongs") !== null`)
	if got := ask[string](b, seen); got != "view section" || !ask[bool](b, `document.querySelector(".draw").matches(".old")`) {
		b.t.Errorf("while the width cannot be made it shows %q, not the last drawing, faded", got)
	}
	b.fill("#f-outline-width", "56 cm")
	b.until(priced("heater, 56 cm"))
	if got := ask[string](b, seen); got != "view section" || ask[bool](b, `document.querySelector(".draw").matches(".old")`) || !ask[bool](b, `document.querySelector(".slip details").open`) {
		b.t.Errorf("after typing it shows %q, or what was opened is closed", got)
	}
	b.press("[value=keep]")
	b.do(chromedp.Click(chromedp.CSS("label[for=view-back]")))
	if strings.Contains(b.text(".state"), "not kept") {
		b.t.Error("looking at the back counts as a change")
	}
}

func wrongEntry(b *tab) {
	b.fill("#f-outline-width", "80")
	b.until(`document.querySelector("#f-outline-width-wrong").textContent.includes("80 cm") && !document.querySelector("#board").hasAttribute("aria-busy")`)
	entry := ask[map[string]any](b, `(() => { const e = document.querySelector("#f-outline-width"); return { value: e.value, invalid: e.getAttribute("aria-invalid"), by: e.getAttribute("aria-describedby"), focus: e === document.activeElement }; })()`)
	if entry["value"] != "80" || entry["invalid"] != "true" || entry["by"] != "f-outline-width-wrong" || entry["focus"] != true {
		b.t.Errorf("%v", entry)
	}
	if slip := b.text(".slip"); !strings.Contains(slip, "One entry needs another look") || !strings.Contains(slip, "outline, width") || strings.Contains(slip, "EUR") {
		b.t.Errorf("the slip says %s", slip)
	}
	if !ask[bool](b, `document.querySelector("[value=issue]").disabled`) || !strings.Contains(b.text("[role=status]"), "No price yet") {
		b.t.Error("it could be issued, or nobody hears that it cannot")
	}
	// The slip leads to the entry, even into a section that is folded.
	ask[any](b, `document.querySelector("#f-outline-width").closest("details").open = false`)
	b.do(chromedp.Click(chromedp.CSS(".slip .wrongs a")))
	b.until(`document.querySelector("#f-outline-width").offsetHeight > 0`)
	b.fill("#f-outline-width", "56 cm")
	b.until(`document.querySelector("#f-outline-width-wrong").textContent === "" && !document.querySelector("[value=issue]").disabled`)
}

func keepAndGrow(b *tab) {
	// The return key neither loses the place nor the changes.
	b.fill("#f-outline-height", "78 cm")
	b.do(chromedp.KeyEvent("\r"))
	b.until(priced("heater, 56 cm × 78 cm"))
	if !strings.Contains(b.text(".state"), "not kept") {
		b.t.Error("the return key makes the page forget that nothing is kept")
	}
	// Another colour: the section stays open, what was typed stays, and it is still said that it is not kept.
	ask[any](b, `document.querySelector("#more-coat").closest("details").open = true`)
	rows := ask[int](b, `document.querySelectorAll("[name^='paint.'][name$='.colour']").length`)
	ask[any](b, `(() => { const last = [...document.querySelectorAll("[name^='paint.'][name$='.colour']")].pop(); last.value = "white"; last.dispatchEvent(new Event("input", { bubbles: true })); })()`)
	b.press("#more-coat button")
	if got := ask[int](b, `document.querySelectorAll("[name^='paint.'][name$='.colour']").length`); got != rows+1 {
		b.t.Errorf("%d rows of paint became %d", rows, got)
	}
	if !ask[bool](b, `document.querySelector("#more-coat").closest("details").open`) || !strings.Contains(b.text(".state"), "not kept") {
		b.t.Error("the section is closed, or the changes count as kept")
	}
	if ask[string](b, `document.querySelector("#f-outline-height").value`) != "78 cm" {
		b.t.Error("what was typed is gone")
	}
	b.press("[value=keep]")
	if strings.Contains(b.text(".state"), "not kept") || ask[string](b, `document.querySelector("#f-outline-height").value`) != "78 cm" {
		b.t.Errorf("not kept: %s", b.text(".state"))
	}
}

func issueAndPrint(b *tab) {
	shown := b.text(".slip .total data")
	b.press("[value=issue]")
	state, gross := b.text(".state"), b.text(".slip .total data")
	// Issuing looks longer for a plan than the page had time to: what was shown can only fall.
	if !strings.Contains(state, "Quote 4 of ") || len(gross) > len(shown) || gross > shown && len(gross) == len(shown) {
		b.t.Fatalf("%s, %s; it said %s", state, gross, shown)
	}
	number := "4 of " + time.Now().Format("2006")
	printed := pdfText(b)
	amount, _, _ := strings.Cut(gross, " EUR")
	// Jonas reads German.
	for _, want := range []string{"Angebot 4/" + time.Now().Format("2006"), strings.Replace(amount, ".", ",", 1), "Jonas Adler", "Tidewall heater"} {
		if !strings.Contains(printed, want) {
			b.t.Errorf("the PDF does not say %q: %s", want, printed)
		}
	}
	b.open("/quotes")
	if list := b.text(".list li"); !strings.Contains(list, number) || !strings.Contains(list, gross) {
		b.t.Errorf("the list begins with %s", list)
	}
	b.fill(".find input", "jonas")
	b.do(chromedp.KeyEvent("\r"))
	b.until(`location.search === "?words=jonas" && document.readyState === "complete"`)
	if n := ask[int](b, `document.querySelectorAll(".list li").length`); n != 2 {
		b.t.Errorf("%d quotes are Jonas's", n)
	}
	b.press(".list a")
}

// pdfText is what the PDF behind the button says, fetched with the browser's own session.
func pdfText(b *tab) string {
	b.t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		b.t.Fatal("The PDF is read with pdftotext. Install it (Debian: apt-get install poppler-utils).")
	}
	coded := ask[string](b, `fetch([...document.querySelectorAll(".acts a")].find((a) => a.innerText.includes("PDF")).href).then((r) => r.blob()).then((b) => new Promise((done) => {
		const reader = new FileReader(); reader.onload = () => done(reader.result.split(",")[1]); reader.readAsDataURL(b); }))`)
	data, err := base64.StdEncoding.DecodeString(coded)
	fatal(b.t, err)
	path := filepath.Join(b.t.TempDir(), "quote.pdf")
	fatal(b.t, os.WriteFile(path, data, 0o600))
	text, err := exec.Command(tool, "-layout", path, "-").Output()
	fatal(b.t, err)
	return one(string(text))
}

func newVersion(b *tab) {
	issued := b.path()
	b.press(".acts [action$=revise] button")
	if !strings.Contains(b.text(".state"), "version 2 of 4 of ") || b.path() == issued {
		b.t.Fatalf("%s: %s", b.path(), b.text(".state"))
	}
	draft := b.path()
	// Leaving with changes is asked about first.
	b.fill("#f-outline-height", "74 cm")
	b.until(priced("heater, 56 cm × 74 cm"))
	b.open(issued)
	b.open(draft)
	if ask[string](b, `document.querySelector("#f-outline-height").value`) != "78 cm" {
		b.t.Error("what was not kept was kept")
	}
	b.press(".discard button")
	b.mu.Lock()
	asked := strings.Join(b.asked, "|")
	b.mu.Unlock()
	if b.path() != "/quotes" || !strings.Contains(asked, "Throw this draft away?") {
		b.t.Errorf("%s, asked %q", b.path(), asked)
	}
	b.open(issued)
	if !strings.Contains(b.text(".state"), "stands until") {
		b.t.Errorf("the issued one does not stand any more: %s", b.text(".state"))
	}
}

func withoutScripts(b *tab) {
	send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	defer send(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: false})
	startQuote(b)
	if ask[string](b, `document.documentElement.className`) != "" {
		b.t.Fatal("scripts still run")
	}
	before := b.text(".slip .total data")
	b.fill("#f-outline-width", "52 cm")
	b.press("[value=recompute]")
	after := b.text(".slip .total data")
	if after == before || after == "" || !strings.Contains(b.text(".state"), "not kept") {
		b.t.Errorf("%s became %s; %s", before, after, b.text(".state"))
	}
	b.fill("#f-outline-width", "80")
	b.press("[value=recompute]")
	if !strings.Contains(b.text("#f-outline-width-wrong"), "80 cm") || ask[string](b, `document.querySelector("#f-outline-width").value`) != "80" {
		b.t.Errorf("the remedy is %q", b.text("#f-outline-width-wrong"))
	}
	b.fill("#f-outline-width", "52 cm")
	b.press("[value=keep]")
	if b.text(".slip .total data") != after {
		b.t.Errorf("kept at %s, not %s", b.text(".slip .total data"), after)
	}
	b.press("[value=issue]")
	if !strings.Contains(b.text(".state"), "Quote 5 of ") || b.text(".slip .total data") != after {
		b.t.Errorf("%s at %s", b.text(".state"), b.text(".slip .total data"))
	}
}
