package api_test

import (
	"fmt"
	"strings"

	"foamwright/api"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// settles goes through the money of an order: invoiced in parts, paid, credited, to the last cent; a bookkeeper does it.
func (s *shop) settles(customer string) {
	s.t.Helper()
	s.sales.WriteXMLWith(func(i sales.Invoice) ([]byte, error) {
		return []byte("<Invoice>" + i.Number.String() + "</Invoice>"), nil
	})
	var q api.Quote
	var e api.Estimate
	var o api.Order
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "title": "To be paid", "spec": %s}`, customer, round)).want(201, &q)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &e)
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, e.Digest, e.Price.Gross)).want(200, &q)
	s.owner("POST", "/quotes/"+q.ID+"/accept", `{}`).want(200, &o)
	books := func(method, path, body string) reply { return s.as(people.Bookkeeper, method, path, body) }
	at := "/orders/" + o.ID

	var deposit, again, balance, credit api.Invoice
	var m api.OrderMoney
	ask := `{"token": "the first one", "kind": "deposit"}`
	a := books("POST", at+"/invoices", ask).want(201, &deposit)
	books("POST", at+"/invoices", ask).want(201, &again)
	if deposit.ID != again.ID || a.Header.Get("Location") != api.Path+"/invoices/"+deposit.ID || deposit.Number.Text != "1 of 2026" || deposit.Gross != e.Price.Deposit ||
		deposit.Due != "2026-03-12" || !strings.HasPrefix(deposit.Reference, "RF") || deposit.By != "The bookkeeper" || len(deposit.Lines) != 1 || len(deposit.Taxes) != 1 || deposit.NoXML != "" {
		s.t.Errorf("%+v", deposit)
	}
	books("POST", at+"/payments", fmt.Sprintf(`{"token": "came by bank", "day": "2026-03-05", "amount": %q, "way": "transfer"}`, deposit.Gross)).want(200, &m)
	if m.State != "booked" || m.Paid != deposit.Gross || m.Deposit != "0.00" || m.Bills[0].Open != "0.00" || m.Total.Gross != q.Gross || m.Rest.Gross != e.Price.Balance {
		s.t.Errorf("%+v", m)
	}
	books("POST", at+"/invoices", `{"token": "the last one", "kind": "balance"}`).want(201, &balance)
	if len(balance.Lines) != 2 || balance.Gross != e.Price.Balance || balance.Lines[1].Net[0] != '-' {
		s.t.Errorf("%+v", balance)
	}
	books("POST", "/invoices/"+balance.ID+"/credit", `{"token": "a scratch on it", "amount": "5", "reason": "A scratch"}`).want(201, &credit)
	books("GET", "/invoices/"+credit.ID, "").want(200, &again)
	if again.Kind != "credit" || again.Gross != "5.00" || again.Credits != balance.ID || again.Number.Text != "C 1 of 2026" || again.Reason != "A scratch" {
		s.t.Errorf("%+v", again)
	}
	var payments struct{ Payments []api.Payment }
	books("POST", at+"/payments", `{"token": "by mistake", "day": "2026-03-05", "amount": "1.50", "way": "cash", "note": "for somebody else"}`).want(200, &m)
	books("GET", "/payments?order="+o.ID, "").want(200, &payments)
	if len(payments.Payments) != 2 || payments.Payments[0].Amount != "1.50" || payments.Payments[0].Name != q.CustomerName {
		s.t.Fatalf("%+v", payments)
	}
	books("POST", at+"/payments/"+payments.Payments[0].ID+"/take-back", `{"token": "taken back", "note": "of another"}`).want(200, &m)
	if m.Paid != deposit.Gross || len(m.Payments) != 3 || m.Payments[2].TakesBack != payments.Payments[0].ID {
		s.t.Errorf("%+v", m)
	}
	books("GET", at+"/money", "").want(200, &m)
	var owing api.Owing
	books("GET", "/owing", "").want(200, &owing)
	if len(owing.Debtors) != 1 || owing.Debtors[0].Open != m.Owed || owing.Debtors[0].Current != m.Owed || owing.Totals[0].Open != m.Owed || owing.Debtors[0].Invoices[0] != balance.ID {
		s.t.Errorf("%+v, owed %s", owing, m.Owed)
	}
	var ended api.Outcomes
	books("GET", "/figures/answers", "").want(200, &ended)
	if ended.All.Accepted == 0 || len(ended.Groups) != 4 || ended.Groups[0].Rows == nil || ended.Wait == "" {
		s.t.Errorf("%+v", ended)
	}
	books("GET", "/figures/answers?from=2026-03-02&to=2026-03-01", "").problem(422)
	s.months(m)
	var account struct{ Statements []api.Statement }
	books("GET", "/customers/"+customer+"/statement?from=2026-03-01&to=2026-03-31", "").want(200, &account)
	if len(account.Statements) != 1 || account.Statements[0].Opening != "0.00" {
		s.t.Errorf("%+v", account)
	}
	var list struct{ Invoices []api.Invoice }
	books("GET", "/invoices?words="+deposit.Reference, "").want(200, &list)
	if len(list.Invoices) != 1 || list.Invoices[0].ID != deposit.ID || list.Invoices[0].Lines != nil {
		s.t.Errorf("%+v", list)
	}
	if a := books("GET", "/invoices/"+deposit.ID+"/document", "").want(200, nil); a.Header.Get("ETag") != `"`+deposit.Document+`"` || !strings.HasPrefix(a.body, "%PDF") {
		s.t.Errorf("%v %s", a.Header, a.body)
	}
	if a := books("GET", "/invoices/"+deposit.ID+"/xml", "").want(200, nil); a.Header.Get("Content-Type") != "application/xml" || a.body != "<Invoice>1 of 2026</Invoice>" {
		s.t.Errorf("%v %s", a.Header, a.body)
	}
	for path, lines := range map[string]int{"/invoices.csv?order=" + o.ID: 4, "/payments.csv?order=" + o.ID: 4} {
		if a := books("GET", path, "").want(200, nil); strings.Count(a.body, "\n") != lines {
			s.t.Errorf("%s: %s", path, a.body)
		}
	}
	for _, bad := range []struct{ path, body, says string }{
		{at + "/invoices", `{"token": "x", "kind": "part", "amount": "1"}`, "token: "}, {at + "/invoices", `{"token": "another one", "kind": "loan"}`, "kind: "},
		{at + "/payments", `{"token": "another one", "day": "soon", "amount": "1", "way": "cash"}`, "day: "}, {at + "/payments", `{"token": "another one", "day": "2026-03-05", "amount": "1.005", "way": "cash"}`, "amount: "},
		{at + "/payments", `{"token": "another one", "day": "2026-03-05", "amount": "-100000", "way": "cash"}`, "amount: "}, {at + "/payments", `{"token": "another one", "day": "2026-03-05", "amount": "1", "way": "shells"}`, "way: "},
		{"/invoices/" + balance.ID + "/credit", `{"token": "another one", "reason": ""}`, "reason: "}, {"/invoices/" + balance.ID + "/credit", `{"token": "another one", "reason": "x", "lines": [9]}`, "lines: "},
		{"/invoices/" + balance.ID + "/credit", `{"token": "another one", "reason": "x", "amount": "0"}`, "amount: "},
	} {
		if a := books("POST", bad.path, bad.body); a.StatusCode == 500 {
			s.t.Errorf("%s %s", bad.body, s.log.String())
		} else if b := a.problem(422); !strings.HasPrefix(first(b), bad.says) {
			s.t.Errorf("%s %s: %s", bad.path, bad.body, first(b))
		}
	}
	for _, path := range []string{"/invoices?from=soon", "/payments?to=never", "/customers/" + customer + "/statement?from=x"} {
		books("GET", path, "").problem(422)
	}
}
