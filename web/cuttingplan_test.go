package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/shopspring/decimal"
)

// between is what stands between two marks of a page.
func between(t *testing.T, body, from, to string) string {
	t.Helper()
	_, rest, found := strings.Cut(body, from)
	got, _, ended := strings.Cut(rest, to)
	if !found || !ended {
		t.Fatalf("there is no %q … %q in\n%s", from, to, body)
	}
	return got
}

// The helper looks at the plan, cuts, finds the offcuts with their pictures and throws one away, and sees no amount
// of money anywhere; the bookkeeper sees what offcuts are worth and cuts nothing.
func TestCutAndOffcutPages(t *testing.T) {
	s := stocked(t)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	got, err := s.sales.Accept(t.Context(), quotes[0].ID, sales.Choice{}, "Hedda")
	s.must(err)
	at := "/orders/" + got.Order.ID + "/cutting"
	v := s.as(people.Helper)
	if body := v.get(at).want(http.StatusOK).body; !strings.Contains(body, "Missing: ") || !strings.Contains(body, "The deposit has not come yet") || strings.Contains(body, "name=\"digest\"") {
		t.Errorf("an empty shelf and no deposit:\n%s", body)
	}
	v.get(at + ".pdf").want(http.StatusConflict)
	_, err = s.sales.DepositCame(t.Context(), got.Order.ID, time.Now(), sales.OtherWay, "")
	s.must(err)
	shelf := stock.NewService(s.books.Stock(), time.Now)
	for _, item := range []string{"mat-10", "half-3"} {
		_, err = shelf.Receive(t.Context(), stock.Delivery{Item: item, Quantity: decimal.NewFromInt(6), Cost: decimal.RequireFromString("31.97")}, "Wren")
		s.must(err)
	}

	page := v.get(at).want(http.StatusOK).body
	for _, want := range []string{"Take off the shelf", "3 whole mats", `class="drawing plan"`, "Sheet by sheet"} {
		if !strings.Contains(page, want) {
			t.Errorf("the plan has no %q", want)
		}
	}
	if r := v.get(at + ".pdf").want(http.StatusOK); !strings.HasPrefix(r.body, "%PDF-") {
		t.Error("the plan is no PDF")
	}
	form := url.Values{"foam": {"mat-10"}, "digest": {"seen yesterday"}}
	if body := v.post(at, form).want(http.StatusConflict).body; !strings.Contains(body, "The shelf changed") {
		t.Error("nothing says that the shelf changed")
	}
	form.Set("digest", between(t, between(t, page, `value="mat-10"`, "</form>"), `name="digest" value="`, `"`))
	v.post(at, form).want(http.StatusSeeOther)
	page = v.get(at).want(http.StatusOK).body
	if !strings.Contains(page, "✓ Cut") || !strings.Contains(page, "Kept; write on them") || strings.Count(page, `name="digest"`) != 1 {
		t.Errorf("after the cut:\n%s", page)
	}

	offcuts := v.get("/stock/offcuts").want(http.StatusOK).body
	lot := between(t, offcuts, `name="lot" value="`, `"`)
	if !strings.Contains(offcuts, "<svg") || !strings.Contains(offcuts, "Mat 10 mm, ") || strings.Contains(offcuts, "worth") {
		t.Errorf("the helper's offcuts:\n%s", offcuts)
	}
	if body := s.as(people.Bookkeeper).get("/stock/offcuts").want(http.StatusOK).body; !strings.Contains(body, "worth") || strings.Contains(body, "Throw it away") {
		t.Errorf("the bookkeeper's offcuts:\n%s", body)
	}
	s.as(people.Bookkeeper).get(at).want(http.StatusForbidden)
	bin := url.Values{"item": {"mat-10"}, "lot": {lot}}
	if body := v.post("/stock/offcuts", bin).want(http.StatusUnprocessableEntity).body; !strings.Contains(body, "Say why") {
		t.Error("no reason is asked for")
	}
	bin.Set("note", "trodden on")
	v.post("/stock/offcuts", bin).want(http.StatusSeeOther)
	if strings.Contains(v.get("/stock/offcuts").want(http.StatusOK).body, lot) {
		t.Error("it is still there")
	}
	if body := v.post("/stock/offcuts", bin).want(http.StatusConflict).body; !strings.Contains(body, "not on the shelf any more") {
		t.Error("thrown away twice")
	}

	// What was cut is not asked for again when the shield is made.
	if body := s.as(people.Owner).get("/orders/" + got.Order.ID).want(http.StatusOK).body; strings.Contains(body, `name="used.mat-10" value="0.`) {
		t.Error("the foam is asked for again")
	}
}
