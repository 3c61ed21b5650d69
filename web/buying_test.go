package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

func TestBuyingFromShortageToShelf(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	order := s.order()
	at := "/orders/" + order.Order.ID
	page := v.get(at).want(http.StatusOK)
	if words := page.words(); !strings.Contains(words, "What is missing") || !strings.Contains(words, "Mat 10 mm") || !strings.Contains(words, "Buy it") || !strings.Contains(page.body, order.Quote.Printed.Deposit) {
		t.Errorf("the order does not say what is missing: %s", words)
	}
	if words := v.get("/today").words(); !strings.Contains(words, "Saltmarsh Foams") || !strings.Contains(words, "order by") {
		t.Error(words)
	}
	list, _, err := s.shelf().ToBuy(t.Context())
	s.must(err)
	first := list[0].Lines[0]
	offer, supplier := first.Packs[0].Offer, list[0].Supplier
	if words := v.get("/buying").want(http.StatusOK).words(); !strings.Contains(words, order.Order.Number.String()) || !strings.Contains(words, supplier.Name) {
		t.Error(words)
	}
	for _, c := range [][]string{{"packs." + offer.ID, "three", "packs." + offer.ID, "whole number"}, {"packs." + offer.ID, "-1", "packs." + offer.ID, "from 0"}, {"packs." + offer.ID, "99999999", "packs." + offer.ID, "from 0"},
		{"packs." + offer.ID, "0", "", "at least one"}, {"packs.x", "1", "", "does not sell this pack any more"}, {"note", strings.Repeat("long ", 200), "note", "Shorten"}} {
		a := v.post("/buying", url.Values{"supplier": {supplier.ID}, c[0]: {c[1]}})
		if a.StatusCode != http.StatusUnprocessableEntity || c[3] != "" && !strings.Contains(a.see().remedies[c[2]]+a.words(), c[3]) || c[0] != "packs.x" && !strings.Contains(a.body, `value="`+c[1]+`"`) {
			t.Errorf("%v: %d %v", c, a.StatusCode, a.see().remedies)
		}
	}
	v.post("/buying", url.Values{"supplier": {"nobody"}, "packs." + offer.ID: {"1"}}).want(http.StatusNotFound)
	listed := v.get("/buying").form()
	sent := url.Values{"id": listed["id"], "supplier": {supplier.ID}, "packs." + offer.ID: {"3"}, "note": {"by the quay"}}
	to := v.post("/buying", sent).to()
	if again := v.post("/buying", sent).to(); again != to || len(listed.Get("id")) != 36 {
		t.Errorf("pressed twice: %s and %s, %q", to, again, listed.Get("id"))
	}
	purchase := v.get(to).want(http.StatusOK)
	if words := purchase.words(); !strings.Contains(words, "purchase 1 of ") || !strings.Contains(words, "by the quay") || !strings.Contains(words, "3 to come") {
		t.Error(words)
	}
	csv := v.get(to + "/list.csv").want(http.StatusOK)
	if kind := csv.Header.Get("Content-Type"); !strings.HasPrefix(kind, "text/csv") || !strings.Contains(csv.body, first.Want.Item.Name) || !strings.HasPrefix(csv.body, "article,item,pack,unit,packs,price,came\n") {
		t.Errorf("%s %s", kind, csv.body)
	}
	// A part of it, dearer; then too much; then the rest.
	for _, c := range [][]string{{"packs." + offer.ID, "4", "packs." + offer.ID, "3 of 3"}, {"packs." + offer.ID, "some", "packs." + offer.ID, "whole number"}, {"price." + offer.ID, "dear", "price." + offer.ID, "number"},
		{"best." + offer.ID, "soon", "best." + offer.ID, "day"}, {"label." + offer.ID, strings.Repeat("x", 99), "label." + offer.ID, "Shorten"}} {
		typed := over(url.Values{"packs." + offer.ID: {"1"}, "price." + offer.ID: {"4"}}, c[:2]...)
		a := v.post(to, typed).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.see().remedies[c[2]], c[3]) || a.fields()[c[0]] != c[1] {
			t.Errorf("%v: %v", c, a.see().remedies)
		}
	}
	if words := v.post(to, url.Values{"had." + offer.ID: {"1"}, "packs." + offer.ID: {"1"}, "price." + offer.ID: {"4"}}).want(http.StatusUnprocessableEntity).words(); !strings.Contains(words, "By now 0 of 3") {
		t.Error(words)
	}
	if words := v.post(to, nil).want(http.StatusUnprocessableEntity).words(); !strings.Contains(words, "how many packs came") {
		t.Error(words)
	}
	v.post(to, url.Values{"packs." + offer.ID: {"1"}, "price." + offer.ID: {"47,11"}, "best." + offer.ID: {"2031-01-02"}, "label." + offer.ID: {"Lot 9"}}).want(http.StatusSeeOther)
	card := s.card(first.Want.Item.Code)
	if price, ok := cardOffer(card, offer.ID).On(stock.Day(time.Now())); !ok || price.Amount.String() != "47.11" || price.By != "The owner" {
		t.Errorf("the price that came is not noted: %+v", price)
	}
	if lot := card.Lots[0]; lot.Label != "Lot 9" || lot.Supplier != supplier.ID || lot.BestBefore.Year() != 2031 || lot.Value.String() != "47.11" {
		t.Errorf("%+v", lot)
	}
	v.post(to, url.Values{"last": {"yes"}}).want(http.StatusSeeOther)
	if words := v.get(to).words(); !strings.Contains(words, "closed") {
		t.Error(words)
	}
	if a := v.post(to, url.Values{"packs." + offer.ID: {"1"}, "price." + offer.ID: {"1"}}).want(http.StatusConflict); !strings.Contains(a.words(), "is closed") {
		t.Error(a.words())
	}
}

func cardOffer(card stock.Card, id string) stock.Offer {
	for _, o := range card.Offers {
		if o.ID == id {
			return o
		}
	}
	return stock.Offer{}
}

// No text of a purchase becomes a formula in a spreadsheet.
func TestThePurchaseListIsNoFormula(t *testing.T) {
	s := stocked(t)
	list := stock.NewCatalogue(s.books.Catalogue(), time.Now)
	line, err := list.Line(t.Context(), "bar")
	s.must(err)
	offer := line.Offers[0]
	offer.Article = `=HYPERLINK("https://elsewhere.example")`
	_, err = list.KeepOffer(t.Context(), offer)
	s.must(err)
	line.Item.Name = "@SUM(1)"
	_, err = list.KeepItem(t.Context(), line.Item)
	s.must(err)
	p, err := s.shelf().Order(t.Context(), offer.Supplier, []stock.Asked{{Offer: offer.ID, Packs: 1}}, "", "The owner")
	s.must(err)
	if body := s.as(people.Bookkeeper).get("/buying/" + p.ID + "/list.csv").want(http.StatusOK).body; !strings.Contains(body, `"'=HYPERLINK(""https://elsewhere.example"")"`) || !strings.Contains(body, ",'@SUM(1),") {
		t.Error(body)
	}
}

func TestAnOrderFromQuoteToDone(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	quote := "/quotes/" + quotes[0].ID
	if !strings.Contains(v.get(quote).words(), "Accepted by the customer") {
		t.Error("an issued quote cannot be accepted")
	}
	at := v.post(quote+"/accept", nil).to()
	if again := v.post(quote+"/accept", nil).to(); again != at {
		t.Errorf("accepted twice: %s and %s", at, again)
	}
	a := v.get(quote).want(http.StatusOK)
	if words := a.words(); strings.Contains(words, "New version") || strings.Contains(words, "Accepted by the customer") || !strings.Contains(a.body, `href="`+at+`"`) {
		t.Errorf("an accepted quote is offered for more: %s", words)
	}
	if a := v.post(quote+"/revise", nil).want(http.StatusConflict); !strings.Contains(a.words(), "was accepted") {
		t.Error(a.words())
	}
	for _, c := range [][]string{{"/pay", "day", "", "day", "Write a day"}, {"/pay", "day", "soon", "day", "Write a day"}, {"/pay", "day", time.Now().AddDate(0, 0, 2).Format(time.DateOnly), "day", "not come yet"},
		{"/start", "starts", "2001-01-01", "starts", "is over"}, {"/cancel", "reason", " ", "reason", "why"}, {"/cancel", "reason", strings.Repeat("long ", 100), "reason", "why"}} {
		a := v.post(at+c[0], url.Values{c[1]: {c[2]}}).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.see().remedies[c[3]], c[4]) || strings.TrimSpace(a.fields()[c[1]]) != strings.TrimSpace(c[2]) {
			t.Errorf("%v: %v %v", c, a.see().remedies, a.fields())
		}
	}
	if a := v.post(at+"/finish", url.Values{"used.latex": {"0.1"}}).want(http.StatusConflict); !strings.Contains(a.words(), "deposit") {
		t.Error(a.words())
	}
	v.post(at+"/pay", url.Values{"day": {time.Now().Format(time.DateOnly)}}).want(http.StatusSeeOther)
	if words := v.get(at).words(); !strings.Contains(words, "Deposit came") || !strings.Contains(words, "It is made") {
		t.Error(words)
	}
	if to := v.get(at + "/pay").to(); to != at {
		t.Error(to)
	}
	later := time.Now().AddDate(0, 0, 20)
	v.post(at+"/start", url.Values{"starts": {later.Format(time.DateOnly)}}).want(http.StatusSeeOther)
	if words := v.get(at).words(); !strings.Contains(words, later.Format("2 January 2006")) {
		t.Error(words)
	}
	// What it used is not on the shelf by the books: said beside the entry, and all that was typed stays.
	form := v.get(at).form()
	form.Del("reason")
	a = v.post(at+"/finish", form).want(http.StatusUnprocessableEntity)
	if got := a.see().remedies["used.mat-10"]; !strings.Contains(got, "shelf has 0") || a.keeps(form) != nil {
		t.Errorf("%q, lost %v", got, a.keeps(form))
	}
	if got := v.post(at+"/finish", over(form, "used.mat-10", "1.5")).want(http.StatusUnprocessableEntity).see().remedies["used.mat-10"]; !strings.Contains(got, "whole pieces") {
		t.Error(got)
	}
	_, err = s.shelf().Receive(t.Context(), stock.Delivery{Item: "mat-10", Quantity: dec("20"), Cost: dec("60")}, "The owner")
	s.must(err)
	for name := range form {
		if strings.HasPrefix(name, "used.") {
			form.Set(name, "0")
		}
	}
	v.post(at+"/finish", over(form, "used.mat-10", "4")).want(http.StatusSeeOther)
	v.post(at+"/finish", over(form, "used.mat-10", "4")).want(http.StatusConflict).says("nothing can be changed about it")
	if words := v.get(at).words(); !strings.Contains(words, "✓ Made") || !strings.Contains(words, "12.00 EUR") || strings.Contains(words, "Set it aside") {
		t.Error(words)
	}
	if card := s.card("mat-10"); !card.Balance.OnHand.Equal(dec("16")) || !card.Balance.Reserved.IsZero() || len(card.Promises) != 0 {
		t.Errorf("%+v", card.Balance)
	}
	v.post("/stock/mat-10/return", url.Values{"order": {strings.TrimPrefix(at, "/orders/")}, "quantity": {"9"}}).want(http.StatusUnprocessableEntity)
	v.post("/stock/mat-10/return", url.Values{"order": {strings.TrimPrefix(at, "/orders/")}, "quantity": {"1"}, "note": {"not cut"}}).want(http.StatusSeeOther)
	if card := s.card("mat-10"); !card.Balance.OnHand.Equal(dec("17")) || card.Balance.Value.String() != "51.00" {
		t.Errorf("%+v", card.Balance)
	}
	v.post(at+"/cancel", url.Values{"reason": {"too late"}}).want(http.StatusConflict)
	for _, path := range []string{"/orders/x", "/orders/01234567-89ab-7cde-8f01-23456789abcd"} {
		v.get(path).want(http.StatusNotFound)
		v.post(path+"/pay", url.Values{"day": {"2026-01-01"}}).want(http.StatusNotFound)
	}
}

func TestACancelledOrderGivesBackWhatWasSetAside(t *testing.T) {
	s := stocked(t)
	_, err := s.shelf().Receive(t.Context(), stock.Delivery{Item: "mat-10", Quantity: dec("20"), Cost: dec("60")}, "The owner")
	s.must(err)
	order := s.order()
	v := s.as(people.Owner)
	if words := v.get("/stock/mat-10").words(); !strings.Contains(words, order.Order.Number.String()) {
		t.Error(words)
	}
	at := "/orders/" + order.Order.ID
	v.post(at+"/cancel", url.Values{"reason": {"<b>She moves away</b>"}}).want(http.StatusSeeOther)
	if a := v.get(at).want(http.StatusOK); !strings.Contains(a.words(), "cancelled: <b>She moves away</b>") || a.see().tags["aside"] != 0 {
		t.Error(a.words())
	}
	if card := s.card("mat-10"); !card.Balance.Reserved.IsZero() {
		t.Errorf("%+v", card.Balance)
	}
	if a := v.get("/orders"); !strings.Contains(a.words(), "Over") || !strings.Contains(a.words(), "cancelled") {
		t.Error(a.words())
	}
	if words := v.get("/orders?words=nothing+of+the+kind").words(); !strings.Contains(words, "Nothing to be made matches") {
		t.Error(words)
	}
}

// A draft of a later version that was open when the customer accepted is not issued any more.
func TestAcceptedMeansNoOtherVersion(t *testing.T) {
	s := stocked(t)
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	draft, err := s.sales.Revise(t.Context(), quotes[0].ID)
	s.must(err)
	e, err := s.sales.Estimate(t.Context(), draft.CustomerID, draft.Form)
	s.must(err)
	_, err = s.sales.Accept(t.Context(), quotes[0].ID, sales.Choice{}, "Hedda")
	s.must(err)
	for name, err := range map[string]error{
		"issued":  second(s.sales.Issue(t.Context(), draft.ID, sales.Shown{Digest: e.Digest()}, "The owner")),
		"revised": second(s.sales.Revise(t.Context(), quotes[0].ID)),
	} {
		if fault.KindOf(err) != fault.State || !strings.Contains(err.Error(), "accepted") {
			t.Errorf("%s: %v", name, err)
		}
	}
	s.must(s.sales.Discard(t.Context(), draft.ID))
	if a := s.as(people.Owner).get("/quotes/" + quotes[0].ID); !strings.Contains(a.words(), "accepted") {
		t.Error(a.words())
	}
}

func second[T any](_ T, err error) error { return err }

// Costing first in, first out from now on: the books equal the lots, by a line in the ledger.
func TestCostingIsChangedOnTheWorkshopPage(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	for _, cost := range []string{"50", "80"} {
		_, err := s.shelf().Receive(t.Context(), stock.Delivery{Item: "latex", Quantity: dec("5"), Cost: dec(cost)}, "The owner")
		s.must(err)
	}
	s.must(s.shelf().Waste(t.Context(), "latex", "", dec("4"), "spilt", "The owner"))
	if got := s.card("latex").Balance.Value.String(); got != "78.00" {
		t.Fatal(got) // 130 − 4 of 10
	}
	form := v.filled("/workshop")
	for _, c := range [][]string{{"deposit_days", "0", "1 to 90"}, {"deposit_days", "soon", "whole number"}, {"scrap_days", "9999", "1 to 3650"}, {"costing", "dearest", "average or first in"}, {"order_cost", "-1", "number"}, {"holding_share", "400", "0 to 100"}} {
		a := v.post("/workshop", over(form, c[0], c[1])).want(http.StatusUnprocessableEntity)
		if !strings.Contains(a.words(), c[2]) || c[0] != "costing" && a.fields()[c[0]] != c[1] {
			t.Errorf("%v: %v", c, a.see().remedies)
		}
	}
	v.post("/workshop", over(form, "costing", "first in", "deposit_days", "10", "order_cost", "12,50")).want(http.StatusSeeOther)
	card := s.card("latex")
	if card.Balance.Value.String() != "90.00" || card.Moves[0].Kind != stock.Revalued || card.Moves[0].By != "The owner" || card.Moves[0].Cost.String() != "12.00" {
		t.Errorf("%s, %+v", card.Balance.Value, card.Moves[0])
	}
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	if w.DepositDays != 10 || w.OrderCost.String() != "12.5" || w.Costing != stock.FirstIn {
		t.Errorf("%+v", w)
	}
	if words := v.get("/stock/latex").words(); !strings.Contains(words, "valued anew") {
		t.Error(words)
	}
	// Kept again, nothing is posted twice; back to the average nothing has to be.
	v.post("/workshop", v.filled("/workshop")).want(http.StatusSeeOther)
	v.post("/workshop", over(v.filled("/workshop"), "costing", "average")).want(http.StatusSeeOther)
	if got := s.card("latex"); len(got.Moves) != len(card.Moves) || got.Balance.Value.String() != "90.00" {
		t.Errorf("%+v", got.Moves)
	}
}

func TestTodayIsClearOrSaysWhatIsNot(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	for _, item := range []string{"mat-10", "contact", "latex", "blade"} { // those that the demo wants to be there
		_, err := s.shelf().Receive(t.Context(), stock.Delivery{Item: item, Quantity: dec("20"), Cost: dec("20"), BestBefore: time.Now().AddDate(1, 0, 0)}, "The owner")
		s.must(err)
	}
	if words := v.get("/today").want(http.StatusOK).words(); !strings.Contains(words, "The day is clear") {
		t.Error(words)
	}
	_, err := s.shelf().Receive(t.Context(), stock.Delivery{Item: "latex", Quantity: dec("1"), Cost: dec("9"), Label: "Old tin", BestBefore: time.Now().AddDate(0, 0, -1)}, "The owner")
	s.must(err)
	order := s.order().Order.ID
	then := sales.NewService(s.books.Sales(), s.printer, func() time.Time { return time.Now().AddDate(0, -3, 0) })
	_, err = then.Bill(t.Context(), order, sales.Billing{Kind: sales.SaleBill, Token: "all of " + order}, "Wren")
	s.must(err)
	v.get("/today").says("Late payments", "▼ due since")
	s.as(people.Bookkeeper).get("/today").says("Late payments")
	s.as(people.Helper).get("/today").lacks("Late payments")
	_, err = s.sales.DepositCame(t.Context(), order, time.Now(), sales.OtherWay, "")
	s.must(err)
	words := v.get("/today").words()
	for _, want := range []string{"Tins to look at", "Old tin", "▼ was good until", "To buy"} {
		if !strings.Contains(words, want) {
			t.Errorf("nothing about %q: %s", want, words)
		}
	}
}
