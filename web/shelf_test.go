package web_test

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"
)

func dec(s string) decimal.Decimal { return decimal.RequireFromString(s) }

// shelf is the shelf behind the pages.
func (s *shop) shelf() *stock.Service { return stock.NewService(s.books.Stock(), time.Now) }

// card is what the shelf has of an item.
func (s *shop) card(item string) stock.Card {
	s.t.Helper()
	card, err := s.shelf().Card(s.t.Context(), item, 0, 100)
	s.must(err)
	return card
}

// tin puts five litres of latex on the shelf, at an amount that nothing else costs.
func (s *shop) tin() stock.Lot {
	s.t.Helper()
	lot, err := s.shelf().Receive(s.t.Context(), stock.Delivery{Item: "latex", Quantity: dec("5"), Cost: dec("4711.17"), Label: "Grey tin"}, "The owner")
	s.must(err)
	return lot
}

// order accepts the issued quote of the shop.
func (s *shop) order() sales.Taken {
	s.t.Helper()
	quotes, err := s.sales.Quotes(s.t.Context(), sales.Found{})
	s.must(err)
	i := slices.IndexFunc(quotes, func(q sales.Quote) bool { return q.State == sales.Issued })
	t, err := s.sales.Accept(s.t.Context(), quotes[i].ID, sales.Choice{}, "Hedda")
	s.must(err)
	return t
}

// form is what a browser would send from a page.
func (a reply) form() url.Values {
	a.t.Helper()
	fields := url.Values{}
	for name, value := range a.fields() {
		if name != "words" && name != "csrf" {
			fields.Set(name, value)
		}
	}
	return fields
}

func TestADeliveryIsReceivedAndMarked(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := "/stock/latex"
	for _, c := range []refusal{
		{"nothing", at + "/receive", []string{"cost", "58", "label", "Grey tin"}, "quantity", "number", false},
		{"words", at + "/receive", []string{"quantity", "five", "cost", "58"}, "quantity", "number", false},
		{"too fine", at + "/receive", []string{"quantity", "1.00001", "cost", "58"}, "quantity", "3 places", false},
		{"more than the world has", at + "/receive", []string{"quantity", "9999999999", "cost", "58"}, "quantity", "quantity", false},
		{"below nothing", at + "/receive", []string{"quantity", "-5", "cost", "58"}, "quantity", "above 0", false},
		{"for less than nothing", at + "/receive", []string{"quantity", "5", "cost", "-1", "note", "kept"}, "cost", "0 or more", false},
		{"without a cost", at + "/receive", []string{"quantity", "5", "cost", ""}, "cost", "number", false},
		{"a day that is none", at + "/receive", []string{"quantity", "5", "cost", "58", "best_before", "soon"}, "best_before", "day", false},
		{"a long label", at + "/receive", []string{"quantity", "5", "cost", "58", "label", strings.Repeat("tin ", 50)}, "label", "Shorten", false},
		{"nothing to throw away", at + "/waste", []string{"quantity", "1", "note", "dried up"}, "quantity", "count it first", false},
		{"thrown away without a reason", at + "/waste", []string{"quantity", "1", "note", " "}, "note", "Say why", false},
	} {
		a := v.post(c.path, over(url.Values{}, c.typed...))
		seen := a.see()
		if a.StatusCode != http.StatusUnprocessableEntity && a.StatusCode != http.StatusConflict || !strings.Contains(strings.ToLower(seen.remedies[c.field]), strings.ToLower(c.word)) {
			t.Errorf("%s: %d, %v", c.name, a.StatusCode, seen.remedies)
		}
		for i := 0; i < len(c.typed); i += 2 {
			if !strings.Contains(a.body, strings.TrimSpace(c.typed[i+1])) {
				t.Errorf("%s: %q is lost", c.name, c.typed[i+1])
			}
		}
	}
	if card := s.card("latex"); len(card.Moves) != 0 {
		t.Fatalf("something moved: %v", card.Moves)
	}

	if to := v.post(at+"/receive", url.Values{"quantity": {"5"}, "cost": {"58,40"}, "label": {hostile[:50]}, "note": {hostile}, "best_before": {"2031-02-03"}}).to(); to != at {
		t.Error(to)
	}
	once := v.get("/stock/contact").form()
	for n, status := range []int{http.StatusSeeOther, http.StatusConflict} {
		if a := v.post("/stock/contact/receive", url.Values{"id": once["id"], "quantity": {"1"}, "cost": {"16"}}); a.StatusCode != status || n > 0 && !strings.Contains(a.words(), "on the shelf already") {
			t.Errorf("sent %d times: %d %s", n+1, a.StatusCode, a.words())
		}
	}
	card := s.card("latex")
	if len(card.Lots) != 1 || !card.Balance.OnHand.Equal(dec("5")) || card.Balance.Value.String() != "58.40" || card.Lots[0].BestBefore.Format(time.DateOnly) != "2031-02-03" {
		t.Fatalf("%+v", card)
	}
	page := v.get(at).want(http.StatusOK)
	if seen := page.see(); seen.tags["img"] != 0 || seen.tags["script"] > 1 || !strings.Contains(page.words(), "58.40 EUR") {
		t.Errorf("%v %s", seen.tags, page.words())
	}
	lot := at + "/lots/" + card.Lots[0].ID
	v.post(lot, url.Values{"do": {"opened"}}).want(http.StatusSeeOther)
	if got := s.card("latex").Lots[0]; got.Opened.Format(time.DateOnly) != time.Now().Format(time.DateOnly) || got.Label != hostile[:50] || got.BestBefore.IsZero() {
		t.Errorf("%+v", got)
	}
	a := v.post(lot, url.Values{"do": {"keep"}, "label": {"Blue tin"}, "opened": {time.Now().AddDate(0, 0, 3).Format(time.DateOnly)}})
	if seen := a.want(http.StatusUnprocessableEntity).see(); !strings.Contains(seen.remedies["opened"], "not come yet") || !strings.Contains(a.body, "Blue tin") {
		t.Errorf("%v", seen.remedies)
	}
	v.post(lot, url.Values{"do": {"keep"}, "label": {"Blue tin"}, "opened": {""}}).want(http.StatusSeeOther)
	if got := s.card("latex").Lots[0]; !got.Opened.IsZero() || got.Label != "Blue tin" {
		t.Errorf("%+v", got)
	}
	v.post("/stock/contact/lots/"+card.Lots[0].ID, url.Values{"do": {"opened"}}).want(http.StatusNotFound) // a lot of another item
	v.post(at+"/waste", url.Values{"quantity": {"0.5"}, "lot": {card.Lots[0].ID}, "note": {"Skinned over"}}).want(http.StatusSeeOther)
	if words := v.get(at).words(); !strings.Contains(words, "Skinned over") || !strings.Contains(words, "4.5\u00a0l left") && !strings.Contains(words, "4.5 l left") {
		t.Error(words)
	}
	if to := v.get("/stock/colour-deep%20blue/waste").to(); to != "/stock/colour-deep%20blue" {
		t.Error(to)
	}
	v.get("/stock/colour-deep%20blue").want(http.StatusOK)
	v.post("/stock/no-such-thing/receive", url.Values{"quantity": {"5"}, "cost": {"5"}}).want(http.StatusNotFound)
	v.get("/stock/no-such-thing").want(http.StatusNotFound)
	if a := v.get("/stock/%00"); a.StatusCode < 400 || a.StatusCode >= 500 {
		t.Errorf("%d %s", a.StatusCode, a.words())
	}
	for _, order := range []string{"", "x", "01234567-89ab-7cde-8f01-23456789abcd", hostile} {
		if a := v.post(at+"/return", url.Values{"quantity": {"1"}, "order": {order}}); a.StatusCode < 400 || a.StatusCode >= 500 {
			t.Errorf("back from order %q: %d %s", order, a.StatusCode, a.words())
		}
	}
	for _, supplier := range []string{"x", "01234567-89ab-7cde-8f01-23456789abcd"} {
		if a := v.post(at+"/receive", url.Values{"quantity": {"1"}, "cost": {"1"}, "supplier": {supplier}}); a.StatusCode < 400 || a.StatusCode >= 500 {
			t.Errorf("from supplier %q: %d %s", supplier, a.StatusCode, a.words())
		}
	}
}

func TestTheCountHidesTheBooksUntilTheyDiffer(t *testing.T) {
	s := stocked(t)
	s.tin()
	v := s.as(people.Helper)
	sheet := v.get("/stock/count").want(http.StatusOK)
	if strings.Contains(sheet.words(), "The books say") {
		t.Error("the sheet gives the figures away")
	}
	form := sheet.form()
	if words := v.post("/stock/count", form).want(http.StatusUnprocessableEntity).words(); !strings.Contains(words, "Nothing was counted yet") {
		t.Error(words)
	}
	// A difference wants a reason; what is as the books say, and what was not counted, does not.
	typed := over(form, "found.latex", "4,5", "found.contact", "0")
	a := v.post("/stock/count", typed).want(http.StatusUnprocessableEntity)
	seen := a.see()
	if !strings.Contains(seen.remedies["why.latex"], "Say why") || seen.remedies["why.contact"] != "" || !strings.Contains(a.words(), "The books say 5") || seen.fields["found.latex"] != "4,5" || seen.fields["found.contact"] != "0" {
		t.Errorf("%v %v %s", seen.remedies, seen.fields, a.words())
	}
	// Meanwhile half a litre is thrown away: that row comes back marked with the new figure, all else stays.
	s.must(s.shelf().Waste(t.Context(), "latex", "", dec("0.5"), "skin", "The owner"))
	typed = over(a.form(), "why.latex", "Measured with a stick", "found.mat-10", "-2")
	a = v.post("/stock/count", typed).want(http.StatusUnprocessableEntity)
	seen = a.see()
	if !strings.Contains(a.words(), "moved meanwhile") || !strings.Contains(seen.remedies["found.latex"], "4.5") || seen.fields["why.latex"] != "Measured with a stick" || seen.fields["was.latex"] != "4.5" ||
		!strings.Contains(seen.remedies["found.mat-10"], "0 or more") || seen.fields["found.mat-10"] != "-2" {
		t.Errorf("%v %v", seen.remedies, seen.fields)
	}
	typed = over(a.form(), "found.latex", "4.4", "found.mat-10", "2", "why.mat-10", "Behind the door")
	if to := v.post("/stock/count", typed).to(); to != "/stock/count?posted=2" {
		t.Error(to)
	}
	if got := s.card("latex"); !got.Balance.OnHand.Equal(dec("4.4")) || got.Moves[0].Kind != stock.Counted || got.Moves[0].By != "The helper" || got.Moves[0].Note != "Measured with a stick" {
		t.Errorf("%+v", got.Moves)
	}
	if words := v.get("/stock/count?posted=0").words(); !strings.Contains(words, "All as the books say") {
		t.Error(words)
	}
	// Fields that no sheet of ours has.
	for _, fields := range []url.Values{
		{"found.nothing": {"1"}, "was.nothing": {"0"}}, {"found.": {"1"}}, {"found.latex": {"1"}, "was.latex": {"NaN"}}, {"found.latex": {"1"}},
		{"found.latex": {"1e9"}, "was.latex": {"4.4"}}, {"found." + hostile: {"1"}, "was." + hostile: {hostile}},
	} {
		if a := v.post("/stock/count", fields); a.StatusCode < 400 || a.StatusCode >= 500 {
			t.Errorf("%v: %d %s", fields, a.StatusCode, a.words())
		}
	}
}

// A helper works at the shelf and never reads an amount; what is not theirs is refused.
func TestAHelperAtTheShelfSeesNoMoney(t *testing.T) {
	s := stocked(t)
	s.tin()
	order := s.order()
	list, _, err := s.shelf().ToBuy(t.Context())
	s.must(err)
	purchase, err := s.shelf().Order(t.Context(), list[0].Supplier.ID, []stock.Asked{{Offer: list[0].Lines[0].Packs[0].Offer.ID, Packs: 3}}, "", "The owner")
	s.must(err)
	_, err = s.sales.DepositCame(t.Context(), order.Order.ID, time.Now(), sales.OtherWay, "")
	s.must(err)
	v := s.as(people.Helper)
	money := []string{"4711.17", "EUR", order.Quote.Gross.String(), order.Quote.Printed.Deposit, "net", "cost"}
	for _, path := range []string{"/today", "/stock", "/stock?words=latex", "/stock/latex", "/stock/mat-10", "/stock/count", "/orders", "/orders/" + order.Order.ID} {
		a := v.get(path).want(http.StatusOK)
		for _, amount := range money {
			if strings.Contains(strings.ToLower(a.words()), strings.ToLower(amount)) {
				t.Errorf("%s says %q: %s", path, amount, a.words())
			}
		}
		if strings.Contains(a.body, `href="/buying`) || strings.Contains(a.body, `href="/quotes`) {
			t.Errorf("%s leads where a helper may not go", path)
		}
	}
	for _, path := range []string{"/buying", "/buying/" + purchase.ID, "/buying/" + purchase.ID + "/list.csv", "/quotes", "/workshop"} {
		if a := v.get(path).want(http.StatusForbidden); strings.Contains(a.body, "4711.17") {
			t.Errorf("%s: %s", path, a.words())
		}
	}
	for _, path := range []string{"/stock/latex/receive", "/stock/latex/return", "/buying", "/buying/" + purchase.ID, "/quotes/" + order.Quote.ID + "/accept",
		"/orders/" + order.Order.ID + "/pay", "/orders/" + order.Order.ID + "/start", "/orders/" + order.Order.ID + "/cancel", "/orders/" + order.Order.ID + "/finish"} {
		v.post(path, url.Values{"quantity": {"1"}, "cost": {"1"}, "reason": {"x"}}).want(http.StatusForbidden)
	}
	v.post("/stock/latex/waste", url.Values{"quantity": {"1"}, "note": {"spilt"}}).want(http.StatusSeeOther)
	v.post("/stock/latex/lots/"+s.card("latex").Lots[0].ID, url.Values{"do": {"opened"}}).want(http.StatusSeeOther)
}

func TestABookkeeperLooksOn(t *testing.T) {
	s := stocked(t)
	lot := s.tin()
	order := s.order()
	v := s.as(people.Bookkeeper)
	for path, word := range map[string]string{"/stock": "711.17", "/stock/latex": "711.17", "/buying": "EUR", "/orders/" + order.Order.ID: "Set aside", "/today": "To buy"} {
		a := v.get(path).want(http.StatusOK)
		if !strings.Contains(a.words(), word) {
			t.Errorf("%s does not say %q: %s", path, word, a.words())
		}
		_, others, money := strings.Cut(a.body, `id="money"`) // of an order they keep the money
		if money {
			_, others, _ = strings.Cut(others, "</section>")
		}
		if !money {
			others = a.body
		}
		if !money && a.see().tags["form"] > 3 || strings.Contains(others, "<button class=\"go\"") || money && strings.Contains(others, "<form method") {
			t.Errorf("%s offers what is not theirs", path)
		}
	}
	v.get("/stock/count").want(http.StatusForbidden)
	for _, path := range []string{"/stock/count", "/stock/latex/receive", "/stock/latex/waste", "/stock/latex/return", "/stock/latex/lots/" + lot.ID, "/buying",
		"/quotes/" + order.Quote.ID + "/accept", "/orders/" + order.Order.ID + "/pay", "/orders/" + order.Order.ID + "/cancel", "/orders/" + order.Order.ID + "/finish"} {
		v.post(path, url.Values{"quantity": {"1"}, "do": {"opened"}}).want(http.StatusForbidden)
	}
	if card := s.card("latex"); len(card.Moves) != 1 {
		t.Errorf("%v", card.Moves)
	}
}

// TestAnyShelfPostIsAnswered: whatever is posted to the shelf and to orders, the answer is a whole page for people,
// never a fault of ours, and without a form token nothing happens.
func TestAnyShelfPostIsAnswered(t *testing.T) {
	s := stocked(t)
	lot := s.tin()
	order := s.order()
	v := s.as(people.Owner)
	list, _, err := s.shelf().ToBuy(t.Context())
	s.must(err)
	offer := list[0].Lines[0].Packs[0].Offer
	purchase, err := s.shelf().Order(t.Context(), offer.Supplier, []stock.Asked{{Offer: offer.ID, Packs: 3}}, "", "The owner")
	s.must(err)
	paths := []string{"/stock/latex/receive", "/stock/latex/waste", "/stock/latex/return", "/stock/latex/lots/" + lot.ID, "/stock/latex/lots/x", "/stock/count", "/stock/nothing/receive",
		"/buying", "/buying/" + purchase.ID, "/buying/x", "/orders/" + order.Order.ID + "/pay", "/orders/" + order.Order.ID + "/start", "/orders/" + order.Order.ID + "/cancel",
		"/orders/" + order.Order.ID + "/finish", "/orders/x/pay", "/orders/x/finish", "/quotes/x/accept", "/quotes/" + order.Quote.ID + "/accept"}
	names := []string{"quantity", "cost", "lot", "supplier", "order", "label", "note", "best_before", "opened", "do", "day", "starts", "reason", "last", "found.latex", "was.latex", "why.latex",
		"packs." + offer.ID, "price." + offer.ID, "best." + offer.ID, "label." + offer.ID, "packs.x", "used.latex", "used.mat-10"}
	values := []string{"", "0", "-1", "1", "3", "0.5", "1e308", "NaN", "99999999999999999999", "0.00001", "opened", "2027-01-01", "0001-01-01", "9999-12-31", "x", lot.ID, order.Order.ID,
		"01234567-89ab-7cde-8f01-23456789abcd", offer.Supplier, hostile, strings.Repeat("long ", 300)}
	rapid.Check(t, func(r *rapid.T) {
		typed := url.Values{}
		for range rapid.IntRange(0, 5).Draw(r, "fields") {
			typed.Set(rapid.SampledFrom(names).Draw(r, "name"), rapid.OneOf(rapid.SampledFrom(values), rapid.StringN(0, 12, 40)).Draw(r, "value"))
		}
		path := rapid.SampledFrom(paths).Draw(r, "path")
		if strings.HasSuffix(path, "/cancel") {
			typed.Del("reason") // the order is wanted again
		}
		a := v.post(path, typed)
		if a.StatusCode >= 500 {
			r.Fatalf("%s %v: %d %s; %s", path, typed, a.StatusCode, a.words(), s.log.String())
		}
		if a.StatusCode >= 400 && strings.Contains(a.body, "<script>alert") {
			r.Fatalf("%s %v: %s", path, typed, a.body)
		}
	})
	for _, path := range paths {
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader("quantity=1&cost=1&note=x&reason=x"))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		if a := v.send(r); a.StatusCode != http.StatusForbidden {
			t.Errorf("%s without a form token: %d", path, a.StatusCode)
		}
	}
}

func TestManyItemsAreListedInPages(t *testing.T) {
	s := stocked(t)
	list := stock.NewCatalogue(s.books.Catalogue(), time.Now)
	line, err := list.Line(t.Context(), "bar")
	s.must(err)
	for i := range 200 {
		item := line.Item
		item.Code, item.Name, item.Edit = fmt.Sprintf("bar-%03d", i), fmt.Sprintf("Bar %03d", i), 0
		_, err := list.KeepItem(t.Context(), item)
		s.must(err)
	}
	v := s.as(people.Owner)
	for _, at := range []string{"/stock", "/stock/count"} {
		a := v.get(at).want(http.StatusOK)
		if !strings.Contains(a.body, `href="`+at+`?from=200"`) {
			t.Errorf("%s has no way on", at)
		}
		if b := v.get(at + "?from=200").want(http.StatusOK); !strings.Contains(b.words(), "Bar 199") || strings.Contains(b.body, "from=400") {
			t.Errorf("%s?from=200: %s", at, b.words())
		}
		for _, from := range []string{"-5", "x", "999999999999999999999", "2147483647"} {
			v.get(at + "?from=" + from).want(http.StatusOK)
		}
	}
}
