package api_test

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foamwright/api"
	"foamwright/pricing/people"
)

// heron is the demo's full spec.
func heron(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "cmd", "foamwright", "demo", "designs", "heron-kite.json"))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

const round = `{"name": "Round", "outline": {"shape": "round", "diameter": "60 cm"}, "core": {"foam": "mat-10"}}`

// TestEveryOperation goes once through everything the API can do, from a new customer to a second version.
func TestEveryOperation(t *testing.T) {
	s := open(t, api.MaxUpload)
	var c, again api.Customer
	var customers struct{ Customers []api.Customer }
	a := s.owner("POST", "/customers", `{"name": " Ilse ", "email": "ilse@harrowmouth.test"}`).want(201, &c)
	if a.Header.Get("Location") != api.Path+"/customers/"+c.ID || c.Name != "Ilse" || !c.Changed.Equal(today) {
		t.Errorf("%s %+v", a.Header.Get("Location"), c)
	}
	s.owner("PUT", "/customers/"+c.ID, `{"name": "Ilse", "address": "1 Quay Steps\nHarrowmouth", "note": null}`).want(200, nil)
	s.owner("GET", "/customers/"+strings.ToUpper(c.ID), "").want(200, &again)
	if again.ID != c.ID || again.Email != "" || again.Address != "1 Quay Steps\nHarrowmouth" {
		t.Errorf("%+v", again)
	}
	s.owner("GET", "/customers?words=ils", "").want(200, &customers)
	s.owner("GET", "/customers?words=jonas&most=5", "").want(200, nil)
	if len(customers.Customers) != 1 {
		t.Errorf("%+v", customers)
	}

	var d, changed api.Design
	var designs struct{ Designs []api.Design }
	s.owner("POST", "/designs", `{"name": "Heron kite", "spec": `+string(heron(t))+`}`).want(201, &d)
	s.owner("PUT", "/designs/"+d.ID, `{"name": "Heron kite", "note": "as for Ilse", "spec": `+string(heron(t))+`}`).want(200, &changed)
	s.as(people.Helper, "GET", "/designs/"+d.ID, "").want(200, &changed)
	s.as(people.Helper, "GET", "/designs", "").want(200, &designs)
	if len(designs.Designs) != 1 || changed.Note != "as for Ilse" || changed.Spec.Outline.Width.Typed != "56 cm" {
		t.Errorf("%+v", designs)
	}

	var e, shown api.Estimate
	s.owner("POST", "/estimate", string(heron(t))).want(200, &e)
	if e.Curve == nil || e.Price.Currency != "EUR" || len(e.Digest) != 64 {
		t.Errorf("%+v", e)
	}
	s.owner("POST", "/estimate", round).want(200, &shown)
	if shown.Curve != nil || shown.Rule.Margin != nil {
		t.Errorf("%+v", shown)
	}

	var draft, q api.Quote
	a = s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "design": %q}`, c.ID, d.ID)).want(201, &draft)
	if a.Header.Get("Location") != api.Path+"/quotes/"+draft.ID || draft.Title != "Heron kite" || draft.CustomerName != "Ilse" || draft.Number != nil || draft.IssuedAt != nil {
		t.Errorf("%s %+v", a.Header.Get("Location"), draft)
	}
	s.owner("PUT", "/quotes/"+draft.ID, fmt.Sprintf(`{"customer": %q, "title": "A round one", "spec": %s, "edit": %d}`, c.ID, round, draft.Edit)).want(200, &q)
	if q.Edit != draft.Edit+1 || q.Title != "A round one" || q.Spec.Outline.Shape.Typed != "round" {
		t.Errorf("%+v", q)
	}
	s.as(people.Bookkeeper, "GET", "/quotes/"+q.ID+"/estimate", "").want(200, &shown)
	s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, shown.Digest, shown.Price.Gross)).want(200, &q)
	if q.State != "issued" || *q.Number != (api.Number{Text: "1 of 2026", Year: 2026, No: 1}) || q.IssuedBy != "The owner" ||
		!q.IssuedAt.Equal(today) || q.ValidUntil != "2026-04-04" || q.Gross != shown.Price.Gross || q.Net != shown.Price.Net || q.Currency != "EUR" {
		t.Errorf("%+v", q)
	}
	s.owner("POST", "/quotes/"+q.ID+"/issue", `{"digest": "x", "gross": "1.00"}`).want(200, &q) // once is enough
	s.paperOf(q)

	var next api.Quote
	s.owner("POST", "/quotes/"+q.ID+"/revise", "").want(200, &next)
	if next.State != "draft" || next.Version != 2 || next.Number.Text != "1 of 2026" || next.ID == q.ID {
		t.Errorf("%+v", next)
	}
	var list struct{ Quotes []api.Quote }
	s.as(people.Bookkeeper, "GET", "/quotes?words=1+of+2026&most=1", "").want(200, &list)
	if len(list.Quotes) != 1 || list.Quotes[0].ID != next.ID || list.Quotes[0].Spec != nil {
		t.Errorf("%+v", list)
	}
	if a := s.owner("DELETE", "/quotes/"+next.ID, "").want(204, nil); a.body != "" {
		t.Error(a.body)
	}
	s.owner("GET", "/quotes/"+next.ID, "").problem(404)
	s.as(people.Bookkeeper, "GET", "/quotes/"+q.ID, "").want(200, nil)

	s.offering(c.ID)
	s.mailed(q)
	s.answers(q)
	s.asks()
	s.fromShelf(q)
	s.ordersLife(c.ID)
	s.settles(c.ID)
	var said api.Answer
	s.as(people.Bookkeeper, "GET", "/quotes/"+q.ID+"/answer", "").want(200, &said)
	if said.Outcome != "accepted" || said.Online || said.Document != q.Document || said.Gross != q.Gross || said.By != "The owner" {
		t.Errorf("%+v", said)
	}
	s.labour()
	s.paying(d.ID)
	s.shifting(d.ID)
	s.catalogue()
	s.around(c.ID, d.ID)
	s.answered["POST /orders/{id}/cancel"], s.answered["POST /quotes/{id}/decline"] = true, true // in tests of their own

	for path, item := range s.document.Paths {
		for method := range item {
			if name := strings.ToUpper(method) + " " + path; !s.answered[name] {
				t.Errorf("%s was never tried", name)
			}
		}
	}
}

// paperOf reads an issued quote's document and asks whether it is still the same.
func (s *shop) paperOf(q api.Quote) {
	s.t.Helper()
	a := s.as(people.Bookkeeper, "GET", "/quotes/"+q.ID+"/document", "").want(200, nil)
	sum := sha256.Sum256([]byte(a.body))
	etag := `"` + q.Document + `"`
	if hex.EncodeToString(sum[:]) != q.Document || a.Header.Get("ETag") != etag || a.Header.Get("Content-Type") != "application/pdf" ||
		a.Header.Get("Content-Disposition") != "attachment; filename=quote-2026-1-v1.pdf" || !strings.Contains(a.body, "1 of 2026, version 1: A round one for Ilse, "+q.Gross) {
		s.t.Errorf("%v\n%s", a.Header, a.body)
	}
	for held, want := range map[string]int{etag: 304, `"x", W/` + etag: 304, "*": 304, `"x"`: 200, q.Document: 200} {
		if a := s.as(people.Bookkeeper, "GET", "/quotes/"+q.ID+"/document", "", "If-None-Match", held).want(want, nil); want == 304 && (a.body != "" || a.Header.Get("ETag") != etag) {
			s.t.Errorf("%v %s", a.Header, a.body)
		}
	}
}
