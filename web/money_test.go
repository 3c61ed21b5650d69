package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"foamwright/pricing/einvoice"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// today is the day as forms write it.
func aDay(days int) string { return time.Now().AddDate(0, 0, days).Format(time.DateOnly) }

// purse is the form token of an order's money.
func (v *visitor) purse(at string) string {
	v.t.Helper()
	found := regexp.MustCompile(`name="token" value="([^"]+)"`).FindStringSubmatch(v.get(at).body)
	if found == nil {
		v.t.Fatalf("%s has no form of money", at)
	}
	return found[1]
}

// An order from deposit to the last cent, by the buttons of its page: a bookkeeper does it, nothing is done twice, and
// what cannot be done comes back as it was typed.
func TestAnOrdersMoney(t *testing.T) {
	s := stocked(t)
	s.sales.WriteXMLWith(einvoice.UBL)
	order := s.order().Order
	at := "/orders/" + order.ID
	v := s.as(people.Bookkeeper)
	page := v.get(at).want(http.StatusOK)
	total := order.Totals().Gross
	if !strings.Contains(page.words(), "Comes to "+total.String()) || !strings.Contains(page.words(), "Nothing is invoiced or paid yet.") {
		t.Errorf("%s", page.words())
	}
	form := url.Values{"kind": {"deposit"}, "token": {v.purse(at)}}
	to := v.post(at+"/bill", form).to()
	if again := v.post(at+"/bill", form).to(); again != to || !strings.HasPrefix(to, "/invoices/") {
		t.Errorf("a button pressed twice leads to %s, then %s", to, again)
	}
	invoice := v.get(to).want(http.StatusOK)
	if !strings.Contains(invoice.words(), "Deposit invoice 1 of") || !strings.Contains(invoice.words(), "Reference: RF") {
		t.Errorf("%s", invoice.words())
	}
	if pdf := v.get(to + "/invoice.pdf").want(http.StatusOK); !strings.HasPrefix(pdf.body, "%PDF-") {
		t.Error("the document is no PDF")
	}
	refused := v.post(at+"/receive", url.Values{"amount": {"ten"}, "day": {aDay(1)}, "way": {"transfer"}, "note": {"by hand"}, "token": {v.purse(at)}}).want(http.StatusUnprocessableEntity)
	if f := refused.fields(); f["amount"] != "ten" || f["note"] != "by hand" || refused.see().remedies["amount"] == "" {
		t.Errorf("what was typed is lost: %v", f)
	}
	v.post(at+"/receive", url.Values{"amount": {"1"}, "day": {aDay(1)}, "way": {"transfer"}, "token": {v.purse(at)}}).want(http.StatusUnprocessableEntity).says("That day has not come yet.")
	if to := v.post(at+"/receive", url.Values{"amount": {order.Deposit.String()}, "day": {aDay(0)}, "way": {"cash"}, "token": {v.purse(at)}}).to(); to != at+"#money" {
		t.Error(to)
	}
	if got, err := s.sales.Order(t.Context(), order.ID); err != nil || got.Order.State != sales.Booked {
		t.Errorf("the deposit came and the order is %s, %v", got.Order.State, err)
	}
	v.post(at+"/bill", url.Values{"kind": {"part"}, "amount": {"0"}, "token": {v.purse(at)}}).want(http.StatusUnprocessableEntity)
	v.post(at+"/bill", url.Values{"kind": {"part"}, "share": {"10"}, "text": {"After cutting"}, "token": {v.purse(at)}}).to()
	balance := v.post(at+"/bill", url.Values{"kind": {"balance"}, "token": {v.purse(at)}}).to()
	if p := v.get(balance).words(); !strings.Contains(p, "Final invoice 3 of") || !strings.Contains(p, "Less invoice") {
		t.Errorf("%s", p)
	}
	v.post(at+"/bill", url.Values{"kind": {"balance"}, "token": {v.purse(at)}}).says("There is nothing left to invoice.")

	note := v.post(balance+"/credit", url.Values{"amount": {"5"}, "token": {v.purse(balance)}}).want(http.StatusUnprocessableEntity)
	if note.fields()["amount"] != "5" || note.see().remedies["reason"] == "" {
		t.Errorf("%v %v", note.fields(), note.see().remedies)
	}
	v.post(balance+"/credit", url.Values{"amount": {"0"}, "reason": {"A scratch"}, "token": {v.purse(balance)}}).want(http.StatusUnprocessableEntity).says("Write an amount above 0, or leave it empty")
	credited := v.post(balance+"/credit", url.Values{"amount": {"5"}, "reason": {"A scratch"}, "token": {v.purse(balance)}}).to()
	if p := v.get(credited).words(); !strings.Contains(p, "Credit note C 1 of") || !strings.Contains(p, "A scratch") {
		t.Errorf("%s", p)
	}
	if p := v.get("/money").want(http.StatusOK).words(); !strings.Contains(p, "Who owes") || !strings.Contains(p, order.Customer) {
		t.Errorf("%s", p)
	}
	rest, err := s.sales.Dues(t.Context(), order.ID)
	s.must(err)
	v.post(at+"/receive", url.Values{"amount": {rest.Owed().String()}, "day": {aDay(0)}, "way": {"transfer"}, "token": {v.purse(at)}}).to()
	v.post(at+"/refund", url.Values{"amount": {"1000000"}, "day": {aDay(0)}, "way": {"transfer"}, "token": {v.purse(at)}}).want(http.StatusUnprocessableEntity)
	paid, err := s.sales.Dues(t.Context(), order.ID)
	s.must(err)
	v.post(at+"/take-back", url.Values{"payment": {paid.Payments[1].ID}, "token": {v.purse(at)}}).to()
	if paid, err = s.sales.Dues(t.Context(), order.ID); err != nil || len(paid.Payments) != 3 || !paid.Paid.Equal(order.Deposit) {
		t.Errorf("%d payments of %s, %v", len(paid.Payments), paid.Paid, err)
	}
	// What is copied from a page is read; what nobody pays is asked after.
	refused = v.post(at+"/receive", url.Values{"amount": {"999\u202f999\u202f999"}, "day": {"1999-01-01"}, "way": {"transfer"}, "token": {v.purse(at)}}).want(http.StatusUnprocessableEntity)
	refused.says("between the years 2000 and 2200")
	v.post(at+"/receive", url.Values{"amount": {"999\u202f999\u202f999"}, "day": {aDay(0)}, "way": {"transfer"}, "token": {v.purse(at)}}).want(http.StatusUnprocessableEntity).says("Write at most 100000000")
	// The deposit goes back, and nobody is told that it is there.
	v.get(at).says("Deposit came").lacks("of the deposit is missing")
	v.post(at+"/refund", url.Values{"amount": {order.Deposit.String()}, "day": {aDay(0)}, "way": {"transfer"}, "token": {v.purse(at)}}).to()
	v.get(at).says("of the deposit is missing", "Deposit due").lacks("Deposit came")
	for path, says := range map[string]string{
		"/invoices?words=" + url.QueryEscape(order.Customer): "Part invoice 2 of", "/invoices?words=nobody": "Nothing matches", "/invoices?from=yesterday": "Write a day",
		"/money/payments": "taken back", "/money/customers/" + order.CustomerID: "Owed after it", "/money/customers/" + order.CustomerID + "?from=" + aDay(1): "last day is before the first",
		"/money/invoices.csv": "number,kind,issued,due", "/money/payments.csv": "day,amount,currency", "/money/customers/" + order.CustomerID + "/statement.csv": "day,what,number",
	} {
		a := v.get(path)
		if a.StatusCode >= 500 || !strings.Contains(a.words()+a.body, says) {
			t.Errorf("%s: %d does not say %q: %s", path, a.StatusCode, says, a.words())
		}
	}
	if a := v.get("/money/customers/" + order.CustomerID + "/statement.pdf").want(http.StatusOK); !strings.HasPrefix(a.body, "%PDF-") {
		t.Error("the statement is no PDF")
	}
	hand := s.as(people.Helper)
	if p := hand.get(at).want(http.StatusOK); strings.Contains(p.body, `id="money"`) {
		t.Error("a helper sees an order's money")
	}
	for _, path := range []string{"/money", "/money/payments", "/invoices", to, to + "/invoice.pdf", to + "/invoice.xml", "/money/invoices.csv", "/money/payments.csv", "/money/customers/" + order.CustomerID} {
		hand.get(path).want(http.StatusForbidden)
	}
	for _, path := range []string{at + "/bill", at + "/receive", at + "/refund", at + "/take-back", to + "/credit"} {
		hand.post(path, url.Values{"token": {"a token of ours"}, "kind": {"balance"}}).want(http.StatusForbidden)
	}
}

// All of how tax is charged is the owner's to set; what cannot be comes back as typed.
func TestInvoicesAndTaxAreSettings(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	at := "/workshop/invoices"
	form := over(v.filled(at), "head.country", "de", "head.iban", "gb82 west 1234 5698 7654 32", "head.bic", "BPOTBEB1", "invoice_days", "30", "invoice_series", "R", "tax.per_line", "yes",
		"tax.mode", "half-down", "tax.rates.0.until", "2027-01-01", "tax.rates.1.code", "standard", "tax.rates.1.percent", "21", "tax.rates.1.from", "2027-01-01", "tax.wording.exempt", "Exempt by section 7")
	for _, c := range []struct{ name, value, at string }{
		{"head.iban", "GB82 WEST 1234 5698 7654 33", "head.iban"}, {"head.country", "Germany", "head.country"}, {"invoice_days", "400", "invoice_days"},
		{"tax.rates.1.percent", "many", "tax.rates.1.percent"}, {"tax.rates.1.from", "2026-12-01", "tax.rates.1.from"}, {"invoice_series", "a series of ours", "invoice_series"},
	} {
		a := v.post(at, over(form, c.name, c.value)).want(http.StatusUnprocessableEntity)
		if a.fields()[c.name] != c.value || a.see().remedies[c.at] == "" {
			t.Errorf("%s %q: %v", c.name, c.value, a.see().remedies)
		}
	}
	if to := v.post(at, form).to(); to != at+"?kept=1" {
		t.Fatal(to)
	}
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	g := w.Figures.Tax
	if w.Head.Country != "DE" || w.Head.IBAN != "GB82WEST12345698765432" || w.InvoiceDays != 30 || w.InvoiceSeries != "R" || len(g.Rates) != 2 || !g.PerLine || g.Mode != "half-down" || g.Wording.Exempt != "Exempt by section 7" {
		t.Errorf("%+v %+v", w.Head, g)
	}
	v.post("/workshop", v.filled("/workshop")).to() // the other page leaves all of it alone
	if after, err := s.sales.Workshop(t.Context()); err != nil || after.Head.IBAN != w.Head.IBAN || len(after.Figures.Tax.Rates) != 2 || after.InvoiceSeries != "R" {
		t.Errorf("%+v, %v", after.Head, err)
	}
	if w, err := s.sales.Workshop(t.Context()); err != nil || w.Figures.Tax.Rates[1].From.Format(time.DateOnly) != "2027-01-01" {
		t.Errorf("%+v, %v", w.Figures.Tax.Rates, err)
	}
}
