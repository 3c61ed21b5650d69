package web_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/api/guard"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/jackc/pgx/v5"
)

// Only a link opens a page, and only its own; whatever else is asked is told the same.
func TestALinkOpensItsOwnPageAlone(t *testing.T) {
	s := stocked(t)
	q, path := s.linked(choices()...)
	other, elsewhere := s.linked()
	owner := s.as(people.Owner)
	page := owner.post("/quotes/"+other.ID+"/link", nil).want(http.StatusOK)
	page.says("shown only now")
	_, ended, _ := strings.Cut(page.body, "/q/")
	ended = "/q/" + ended[:26]
	s.visit().get(ended).want(http.StatusOK).says(other.Number.String())
	links, err := s.sales.Links(t.Context(), other.ID)
	s.must(err)
	at := "/quotes/" + other.ID + "/link/" + links[0].ID + "/end"
	owner.post("/quotes/"+q.ID+"/link/"+links[0].ID+"/end", nil).want(http.StatusNotFound) // another quote's
	for range 2 {
		owner.post(at, nil).want(http.StatusSeeOther)
	}
	owner.get("/quotes/" + other.ID).says("ended")

	none := s.visit().get(ended).want(http.StatusNotFound)
	none.says("There is nothing here", "unvollständig", "plus valable")
	for _, bad := range []string{"/q", "/q/", "/q/x", "/q/" + strings.Repeat("A", 26), "/q/" + strings.Repeat("z", 3000), "/q/%00%ff", "/q/'%20OR%201=1--", strings.ToLower(path),
		path + "x", path + "/nothing", path + "/../quotes", "/q/" + strings.Repeat("B", 26) + "/quote.pdf", path + "/" + strings.TrimPrefix(elsewhere, "/q/")} {
		v := s.visit()
		if a := v.get(bad).want(http.StatusNotFound); a.body != none.body && !strings.Contains(bad, "..") {
			t.Errorf("%s is told something else: %s", bad, a.words())
		}
	}
	for path, want := range map[string]sales.Quote{path: q, elsewhere: other} {
		a := s.visit().get(path).want(http.StatusOK)
		h := a.Header
		if h.Get("Referrer-Policy") != "no-referrer" || h.Get("Cache-Control") != "no-store" || !strings.Contains(h.Get("X-Robots-Tag"), "noindex") ||
			!strings.HasPrefix(h.Get("Content-Security-Policy"), "default-src 'none'") {
			t.Errorf("%v", h)
		}
		pdf := s.visit().get(path + "/quote.pdf").want(http.StatusOK)
		doc, err := s.sales.Document(t.Context(), want.ID)
		s.must(err)
		if pdf.body != string(doc.Bytes) || pdf.Header.Get("Cache-Control") != "no-store" || pdf.Header.Get("Referrer-Policy") != "no-referrer" {
			t.Errorf("%v", pdf.Header)
		}
		// What the workshop reckons with stays inside: costs, hours, steps, how lines came about; in every language, with
		// everything the page can say.
		for _, in := range []string{"", "?in=en", "?in=de&options=a,b", "?in=fr&options=b", "?in=xx&done=accepted&options=%00"} {
			a := s.visit().get(path + in).want(http.StatusOK)
			a.lacks("at the bench (", want.Printed.Hours, "Margin", "Overhead", "Labour", "m² ×", q.ID, other.ID, want.CustomerID, "/quotes/", "/orders/", "style=", "<script>")
			for _, g := range want.Printed.Groups {
				a.lacks(">"+g.Cost+"<", g.Name+"<")
				for _, c := range g.Charges {
					a.lacks(c.How)
				}
			}
			for _, l := range want.Printed.Steps {
				a.lacks(">"+l.Label+"<", l.How)
			}
		}
	}
	if strings.Contains(s.visit().get(path).body, other.Printed.Said.Total) && other.Gross.String() != q.Gross.String() {
		t.Error("it tells another quote's price")
	}

	// The secret is kept nowhere: not in the books, not in the log.
	secret := strings.TrimPrefix(path, "/q/")
	v := s.visit()
	v.get(path + "/nothing")
	v.post(path, url.Values{"do": {"accept"}})
	s.printer.jammed = true
	if strings.Contains(s.log.String(), secret) {
		t.Error("the log has it")
	}
	s.must(s.books.Act(t.Context(), func(tx pgx.Tx) error {
		var found int
		rows, err := tx.Query(context.Background(), "SELECT table_name FROM information_schema.tables WHERE table_schema = 'public' AND table_type = 'BASE TABLE'")
		if err != nil {
			return err
		}
		names, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			return err
		}
		for _, name := range names {
			if err := tx.QueryRow(context.Background(), "SELECT count(*) FROM "+pgx.Identifier{name}.Sanitize()+" t WHERE t::text LIKE '%' || $1 || '%'", secret).Scan(&found); err != nil {
				return err
			}
			if found > 0 {
				t.Errorf("table %s has it", name)
			}
		}
		return nil
	}))
}

// Who guesses is made to wait, and is told nothing while they do.
func TestGuessingIsLimited(t *testing.T) {
	s := stocked(t)
	_, path := s.linked()
	v := s.visit()
	v.get(path).want(http.StatusOK)
	for range guard.Defaults().Guesses.Burst {
		v.get("/q/" + strings.Repeat("C", 26)).want(http.StatusNotFound)
	}
	a := v.get("/q/" + strings.Repeat("D", 26)).want(http.StatusTooManyRequests)
	a.says("too many requests")
	if hit := v.get(path).want(http.StatusTooManyRequests); hit.body != a.body || hit.Header.Get("Referrer-Policy") != "no-referrer" {
		t.Error("a hit is told apart from a miss")
	}
}

// Forms of a customer's page are the page's own, and hold what they can hold.
func TestFormsOfACustomersPage(t *testing.T) {
	s := stocked(t)
	q, path := s.linked(choices()...)
	v := s.visit()
	page := v.get(path)
	form := url.Values{"do": {"accept"}, "name": {"Hedda"}, "latex": {"no"}, "document": {page.fields()["document"]}}
	for _, token := range []string{"", strings.Repeat("A", 43)} {
		v.post(path, over(form, "csrf", token)).want(http.StatusForbidden).says("open your link again")
	}
	send := func(to string, headers ...string) reply {
		sent := over(form, "csrf", v.csrf)
		r := httptest.NewRequest(http.MethodPost, to, strings.NewReader(sent.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		for i := 0; i < len(headers); i += 2 {
			r.Header.Set(headers[i], headers[i+1])
		}
		return v.send(r)
	}
	for _, h := range [][]string{{"Origin", "https://elsewhere.example"}, {"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site", "Origin", "null"}} {
		send(path, h...).want(http.StatusForbidden)
	}
	form.Set("name", hostile)
	form.Set("do", "sum")
	a := send(path, "Origin", "null").want(http.StatusOK) // as browsers say without TLS, of a page that tells nobody where it is
	a.lacks("<script>alert", "<img")
	if a.fields()["name"] != hostile {
		t.Error("what was typed is gone")
	}
	form.Set("do", "accept")
	for _, bad := range [][]string{{"name", strings.Repeat("ü", 201)}, {"name", "\x00\x1b"}, {"latex", "maybe"}, {"option", "zz"}, {"document", ""}, {"document", strings.Repeat("0", 64)}, {"option.9999999", "a"}} {
		typed := over(form, "csrf", v.csrf, bad[0], bad[1])
		if a := v.post(path, typed); a.StatusCode != http.StatusUnprocessableEntity && a.StatusCode != http.StatusConflict && bad[0] != "option.9999999" {
			t.Errorf("%v: %d", bad, a.StatusCode)
		}
	}
	if _, found, err := s.sales.Answer(t.Context(), q.ID); err != nil || !found {
		t.Fatalf("%v %v: the one that was good is not there", found, err)
	}
	owner := s.as(people.Owner)
	for _, at := range []string{"/quotes/" + q.ID, "/today", "/quotes"} {
		owner.get(at).lacks("<script>alert", "<img src")
	}
	v.get(path).lacks("<script>alert", "<img")
	if a := s.tooLarge(path); a.StatusCode != http.StatusRequestEntityTooLarge {
		t.Errorf("10 MB: %d", a.StatusCode)
	}
}

// However many answer at once: one order, one answer. Against a new version one wins and the other is told.
func TestAnswersAtOnce(t *testing.T) {
	s := stocked(t)
	q, path := s.linked()
	secret := strings.TrimPrefix(path, "/q/")
	choice := sales.Choice{Name: "Hedda", Document: q.Document, Latex: sales.LatexNo}
	var wait sync.WaitGroup
	given, errs := make([]sales.Given, 8), make([]error, 8)
	for i := range given {
		wait.Go(func() { given[i], errs[i] = s.sales.AcceptLinked(context.WithoutCancel(t.Context()), secret, choice) })
	}
	wait.Wait()
	fresh := 0
	for i, g := range given {
		s.must(errs[i])
		if g.OrderID != given[0].OrderID {
			t.Errorf("%v", given)
		}
		if g.Fresh {
			fresh++
		}
	}
	if orders, err := s.sales.Orders(t.Context(), sales.Found{}); err != nil || len(orders) != 1 || fresh != 1 {
		t.Fatalf("%d orders, %d fresh, %v", len(orders), fresh, err)
	}

	won := map[bool]int{}
	for late := range 6 {
		q, path := s.linked()
		next, err := s.sales.Revise(t.Context(), q.ID)
		s.must(err)
		next.Form.Studs = orderform.T("10")
		next, err = s.sales.SaveDraft(t.Context(), next.ID, next.Edit, next.CustomerID, next.Title, next.Form)
		s.must(err)
		e, err := s.sales.Estimate(t.Context(), next.CustomerID, next.Form)
		s.must(err)
		var accepted, issued error
		wait.Go(func() {
			time.Sleep(time.Duration(late) * 200 * time.Millisecond) // issuing takes a while: each gets its turn to be first
			_, accepted = s.sales.AcceptLinked(context.WithoutCancel(t.Context()), strings.TrimPrefix(path, "/q/"), sales.Choice{Name: "Hedda", Document: q.Document, Latex: sales.LatexNo})
		})
		wait.Go(func() {
			_, issued = s.sales.Issue(context.WithoutCancel(t.Context()), next.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "The owner")
		})
		wait.Wait()
		if (accepted == nil) == (issued == nil) {
			t.Fatalf("accepted: %v, issued: %v", accepted, issued)
		}
		for _, err := range []error{accepted, issued} {
			if k := fault.KindOf(err); err != nil && k != fault.State && k != fault.Conflict {
				t.Errorf("the other is told: %v", err)
			}
		}
		won[accepted == nil]++
	}
	t.Logf("accepted %d times, issued %d times", won[true], won[false])
}
