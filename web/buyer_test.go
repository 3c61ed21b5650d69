package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// A German business abroad: kept on the page of the customer, priced so while the quote is typed and when it is issued,
// and written to in German; what the maker reads stays English.
func TestABuyerAbroad(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	v.get("/customers/new").want(http.StatusOK).says("Documents in", "Deutsch", "reverse charge")
	entries := url.Values{"name": {"Bram"}, "language": {"de"}, "country": {"nl"}, "treatment": {"reverse charge"}}
	v.post("/customers/new", entries).want(http.StatusUnprocessableEntity).says("Only a business", "needs it on every document", `value="nl"`, `value="reverse charge" selected`)
	entries.Set("business", "yes")
	entries.Set("tax_number", "NL 000 099 998")
	at := v.post("/customers/new", entries).want(http.StatusSeeOther).Header.Get("Location")
	v.get(at).want(http.StatusOK).says(`value="NL"`, `value="de" selected`, `name="business" value="yes" checked`)

	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	first, err := s.sales.Quote(t.Context(), quotes[0].ID)
	s.must(err)
	bram := strings.TrimPrefix(at, "/customers/")
	draft, err := s.sales.NewQuote(t.Context(), first.CustomerID, "Ferry buckler", first.Form)
	s.must(err)
	page := "/quotes/" + draft.ID
	v.get(page).want(http.StatusOK).says("Tax 20 %")
	typed := v.filled(page)
	typed.Set("customer", bram)
	live := v.post(page+"/live", typed).want(http.StatusOK) // not kept yet
	live.says("Reverse charge")
	live.lacks("Tax 20 %")
	typed.Set("do", "keep")
	v.post(page, typed).want(http.StatusSeeOther)
	v.get(page).says("Reverse charge")
	typed = v.filled(page)
	typed.Set("do", "issue")
	v.post(page, typed).want(http.StatusSeeOther)

	q, err := s.sales.Quote(t.Context(), draft.ID)
	s.must(err)
	said := q.Printed.Said
	if q.State != sales.Issued || !q.Net.Equal(q.Gross) || q.Printed.Terms.Rate.Category != "AE" {
		t.Errorf("%s, net %s, gross %s, %+v", q.State, q.Net, q.Gross, q.Printed.Terms)
	}
	if said.Language != "de" || !strings.HasPrefix(said.Made[0], "Ein Rundschild") || !strings.HasPrefix(said.Terms[0], "Der Preis gilt fest") || !strings.Contains(said.Sums[1].What, "Steuerschuldnerschaft") {
		t.Errorf("%+v", said)
	}
	if !strings.HasPrefix(q.Printed.Made[0], "A round shield") {
		t.Error(q.Printed.Made)
	}
	doc, err := s.sales.Document(t.Context(), q.ID)
	s.must(err)
	if !strings.Contains(string(doc.Bytes), "/Lang (de)") {
		t.Error("the document is not marked as German")
	}

	// Who pays first is asked for all of it.
	c, err := s.sales.Customer(t.Context(), bram)
	s.must(err)
	c.Treatment, c.PayFirst = tax.AsUsual, true
	_, err = s.sales.KeepCustomer(t.Context(), c)
	s.must(err)
	e, err := s.sales.Estimate(t.Context(), bram, first.Form)
	s.must(err)
	if !e.Price.Deposit.Equal(e.Price.Gross) || e.Price.Balance.Sign() != 0 {
		t.Errorf("deposit %s of %s", e.Price.Deposit, e.Price.Gross)
	}
	if q, err = s.sales.Quote(t.Context(), q.ID); err != nil || !q.Net.Equal(q.Gross) {
		t.Errorf("what was issued moved: %v", err)
	}
}

// The owner's own terms in other languages are kept as typed, and taken away by emptying them.
func TestTermsInOtherLanguages(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	typed := v.filled("/workshop")
	v.post("/workshop", over(typed, "terms.de", "Erstens.\r\n\r\nZweitens.", "terms.fr", strings.Repeat("mot ", 3000))).want(http.StatusUnprocessableEntity).says("Zweitens.", "Shorten it.")
	v.post("/workshop", over(typed, "terms.de", "Erstens.\r\n\r\nZweitens.", "terms.fr", " ")).want(http.StatusSeeOther)
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	if got := w.TermsIn("de"); len(got) != 2 || got[1] != "Zweitens." {
		t.Errorf("%q", got)
	}
	if got := w.TermsIn("fr"); len(got) != 4 || got[0] != w.Terms[0] {
		t.Errorf("%q", got)
	}
}
