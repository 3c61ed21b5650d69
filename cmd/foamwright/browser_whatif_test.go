package main

import (
	"strings"
	"testing"

	"github.com/chromedp/cdproto/network"
)

// TestWhatIfInTheBrowser: a move is worked out while the page tells how far it is, what comes of it takes the place of the
// bar, and it can be given up.
func TestWhatIfInTheBrowser(t *testing.T) {
	t.Parallel()
	address, link := served(t, func(s *settings) { s.databaseURL = withHistory(t) })
	b := browse(t, address)
	b.signIn(link)
	b.open("/figures/what-if")
	b.fill("[name=foam]", "12")
	b.press("main .go")
	b.until(`document.querySelector(".shifted tbody tr") !== null`)
	if said := b.text("main"); !strings.Contains(said, "fall below the margin aimed at") || !strings.Contains(said, "Price that restores it") || strings.Contains(said, "Working it out") {
		t.Errorf("the result: %s", said)
	}
	if ask[bool](b, `document.querySelector("progress") !== null`) || ask[string](b, `document.querySelector("[name=foam]").value`) != "12" {
		t.Error("the bar stays beside the result, or what was asked is gone")
	}
	send(b, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{MatchedNetworkConditions: []*network.Conditions{
		{URLPattern: address + "/figures/what-if/told?*", Latency: 5000, DownloadThroughput: -1, UploadThroughput: -1}}})
	b.open("/figures/what-if?hours_by=7")
	b.until(`document.querySelector("[data-told-at] button")?.checkVisibility() === true`)
	ask[any](b, `document.querySelector("[data-told-at] button").click()`)
	b.until(`document.querySelector("[data-told-at] [role=status]").textContent === "Given up. Nothing was changed."`)
	if b.text(".shifted") != "" || ask[bool](b, `document.querySelector("[data-told-at] button").checkVisibility()`) {
		t.Error("what was given up goes on")
	}
	b.clean(t)
}
