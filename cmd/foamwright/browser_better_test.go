package main

import (
	"strings"
	"testing"
)

// listen notes in the page, in the order in which they can be seen: prices, how far the search is, what it found.
const listen = `(() => {
	const seen = window.seen = [], note = (text) => { if (seen.at(-1) !== text) seen.push(text); };
	const bar = document.querySelector(".search progress"), found = document.querySelector(".search p");
	const price = () => note("price " + (document.querySelector(".slip .total data")?.textContent ?? "none"));
	new MutationObserver(price).observe(document.querySelector("[data-live=slip]"), { childList: true });
	new MutationObserver(() => note(bar.hidden ? "bar off" : "bar " + bar.value)).observe(bar, { attributes: true });
	new MutationObserver(() => note("found " + found.textContent)).observe(found, { childList: true });
})()`

// TestBetterPlanInTheBrowser: the first plan is there at once, then how far the search is, then the better one; the next
// key takes it back. What the better plan costs is what the quote is issued at.
func TestBetterPlanInTheBrowser(t *testing.T) {
	t.Parallel()
	address, link := served(t)
	b := browse(t, address)
	b.signIn(link)
	b.open("/quotes")
	b.press(".acts a.go")
	ask[any](b, `(() => { const list = document.querySelector("#customer"); list.value = [...list.options].find((o) => o.text.startsWith("Ilse")).value;
		[...document.querySelectorAll("[name=design]")].find((d) => d.closest("label").innerText.includes("Reed oval")).click(); })()`)
	b.press("main .go")

	if b.text("h1") != "Reed oval" {
		t.Fatalf("%s: %s", b.path(), b.text("main"))
	}
	ask[any](b, listen)
	ask[any](b, `document.querySelector("#f-quantity").closest("details")?.setAttribute("open", "")`)
	b.fill("#f-quantity", "4")
	b.until(`window.seen.some((s) => s.startsWith("found A better")) && window.seen.at(-1) === "bar off"`)
	seen := ask[[]string](b, "window.seen")
	t.Log(strings.Join(seen, " | "))
	var prices []string
	bars := 0
	for _, s := range seen {
		switch {
		case strings.HasPrefix(s, "price "):
			prices = append(prices, s)
			if len(prices) == 2 && bars == 0 {
				t.Errorf("the better price comes before it is looked for: %q", seen)
			}
		case strings.HasPrefix(s, "bar ") && s != "bar off" && len(prices) == 1:
			bars++
		}
	}
	if len(prices) != 2 || prices[0] == prices[1] {
		t.Fatalf("the prices are %q", prices)
	}
	if says := b.text(".search p"); !strings.HasPrefix(says, "A better cut plan: ") || !strings.Contains(says, "EUR less") {
		t.Errorf("it says %q", says)
	}
	heard := ask[map[string]string](b, `({ found: document.querySelector(".search p").getAttribute("aria-live"), bar: document.querySelector(".search progress").getAttribute("aria-label") })`)
	if heard["found"] != "polite" || heard["bar"] == "" {
		t.Errorf("nobody hears of it: %v", heard)
	}

	// The next key takes it back; nothing better than the first plan of one leaves that one standing, and says nothing.
	ask[any](b, "window.seen.length = 0")
	b.fill("#f-quantity", "1")
	b.until(`window.seen.some((s) => /^bar \d/.test(s)) && window.seen.at(-1) === "bar off"`)
	if seen := strings.Join(ask[[]string](b, "window.seen"), " | "); strings.Contains(seen, "found A") || b.text(".search p") != "" || strings.Count(seen, "price ") != 1 {
		t.Errorf("one oval: %s; it says %q", seen, b.text(".search p"))
	}

	// Issued while the better plan is shown: at its price.
	b.fill("#f-quantity", "4")
	b.until(`document.querySelector(".search p").textContent.startsWith("A better")`)
	gross := b.text(".slip .total data")
	b.press("[value=issue]")
	if issued := b.text(".slip .total data"); issued != gross || gross != strings.TrimPrefix(one(prices[1]), "price ") {
		t.Errorf("shown at %s, issued at %s, first seen at %s", gross, issued, prices[1])
	}
	b.clean(t)
}
