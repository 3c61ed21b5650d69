package web_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
	"time"

	"foamwright/pricing/sales"
)

// What is to be paid stands on the customer's page with all it takes, and every document of the order and of no other.
func TestACustomerPays(t *testing.T) {
	s := stocked(t)
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	w.Head.IBAN = "DE89370400440532013000" // the example of the IBAN registry (ISO 13616), for Germany
	s.must(s.sales.SetWorkshop(t.Context(), w, "wren"))
	q, path := s.linked()
	other, elsewhere := s.linked()
	secret := func(path string) string { return strings.TrimPrefix(path, "/q/") }
	for at, q := range map[string]sales.Quote{path: q, elsewhere: other} {
		given, err := s.sales.AcceptLinked(t.Context(), secret(at), sales.Choice{Name: "Hedda", Document: q.Document, Latex: sales.LatexNo})
		s.must(err)
		_, err = s.sales.Bill(t.Context(), given.OrderID, sales.Billing{Kind: sales.DepositBill, Token: "deposit of " + given.OrderID}, "Wren")
		s.must(err)
	}
	orders, err := s.sales.Orders(t.Context(), sales.Found{})
	s.must(err)
	invoices := map[string]sales.Invoice{}
	for _, o := range orders {
		d, err := s.sales.Dues(t.Context(), o.ID)
		s.must(err)
		invoices[o.QuoteID] = d.Bills[0].Invoice
	}
	mine, theirs := invoices[q.ID], invoices[other.ID]
	v := s.visit()
	page := v.get(path).want(http.StatusOK)
	page.says("How to pay", mine.Number.String(), "DE89 3704 0044 0532 0130 00", "RF", mine.Totals.Gross.String(), "Your documents", `class="code"`, `aria-label="Code to scan for the transfer"`)
	page.lacks(theirs.Number.String() + "<")
	file := func(i sales.Invoice) string {
		return fmt.Sprintf("/invoices/deposit/%d-%d", i.Number.Year, i.Number.No)
	}
	if !strings.Contains(page.body, path+file(mine)) {
		t.Errorf("no link to %s", file(mine))
	}
	doc, err := s.sales.InvoiceDocument(t.Context(), mine.ID, false)
	s.must(err)
	if a := v.get(path + file(mine)).want(http.StatusOK); a.body != string(doc.Bytes) || a.Header.Get("Cache-Control") != "no-store" {
		t.Error("another document is sent")
	}
	for _, none := range []string{file(theirs), "/invoices/credit/2026-1", "/invoices/deposit/x", "/papers/change/1", "/papers/confirmation/x", "/papers/../quote.pdf"} {
		v.get(path + none).want(http.StatusNotFound)
	}
	s.visit().get("/q/" + strings.Repeat("A", 26) + file(mine)).want(http.StatusNotFound)
	_, err = s.sales.DepositCame(t.Context(), mine.OrderID, time.Now(), sales.OtherWay, "")
	s.must(err)
	v.get(path+"?in=de").says("Rechnung", "beglichen", "Anzahlung eingegangen")
	if strings.Contains(v.get(path).body, "How to pay") {
		t.Error("it asks again for what has come")
	}
}
