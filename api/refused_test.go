package api_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/api"
	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/pricing/people"
)

// ids of nothing: one that could be, one that could not.
const nothing, never = "01890000-0000-7000-8000-000000000000", "seven"

// everybody is for operations that all who sign in may use.
const everybody people.Role = "everybody"

// operations are all of them once, with who may use it beside the owner.
func (s *shop) operations() map[string]people.Role {
	all := map[string]people.Role{}
	for path, item := range s.document.Paths {
		for method := range item {
			all[strings.ToUpper(method)+" "+path] = ""
		}
	}
	for role, names := range map[people.Role][]string{
		everybody: {"GET /days", "GET /orders/{id}/measure"},
		people.Bookkeeper: {"GET /quotes", "GET /quotes/{id}", "GET /quotes/{id}/estimate", "GET /quotes/{id}/document", "GET /quotes/{id}/answer", "GET /orders", "GET /orders/{id}", "GET /orders/{id}/actual", "GET /orders/{id}/life", "GET /orders/{id}/papers/{kind}/{no}",
			"GET /figures/designs", "GET /figures/designs/{id}", "GET /figures/designs/{id}/sensitivity", "GET /figures/designs/{id}/batch", "GET /figures/what-if", "GET /figures/take",
			"GET /stock", "GET /stock/{item}", "GET /buying", "GET /purchases", "GET /purchases/{id}",
			"GET /suppliers", "GET /suppliers/{id}", "GET /items/{code}/offers",
			"GET /items", "GET /items/{code}", "GET /items.csv", "GET /prices.csv",
			"GET /mails", "GET /mails/{id}", "POST /mails", "POST /mails/{id}/again", "POST /mails/{id}/cancel",
			"GET /orders/{id}/money", "POST /orders/{id}/invoices", "POST /orders/{id}/payments", "POST /orders/{id}/payments/{payment}/take-back", "GET /payments", "GET /payments.csv",
			"GET /invoices", "GET /invoices/{id}", "GET /invoices/{id}/document", "GET /invoices/{id}/xml", "POST /invoices/{id}/credit", "GET /invoices.csv", "GET /owing", "GET /customers/{id}/statement",
			"GET /figures/answers", "GET /figures/months", "GET /figures/months/{month}", "GET /figures/documents"},
		people.Helper: {"GET /designs", "GET /designs/{id}", "POST /stock/waste", "POST /stock/counts", "PUT /stock/lots/{id}", "GET /offcuts", "GET /orders/{id}/cutting", "POST /orders/{id}/cutting",
			"GET /orders/{id}/time", "POST /orders/{id}/time", "POST /orders/{id}/take", "POST /orders/{id}/measure"},
	} {
		for _, name := range names {
			all[name] = role
		}
	}
	return all
}

func TestWhoMayDoWhat(t *testing.T) {
	s := open(t, api.MaxBody)
	all := s.operations()
	if len(all) < 60 {
		t.Errorf("%d operations: %v", len(all), all)
	}
	for name, also := range all {
		method, path, _ := strings.Cut(name, " ")
		path = strings.ReplaceAll(path, "{id}", nothing)
		if b := s.ask(method, path, "", "", nil).problem(401); b.Type != "/problems/unauthenticated" {
			t.Errorf("%s: %+v", name, b)
		}
		if method == http.MethodGet { // of the rest the door has been asked often enough
			s.ask(method, path, "fw_no_such_token", "", nil).problem(401)
		}
		for _, role := range people.Roles() {
			allowed := role == people.Owner || role == also || also == everybody
			if a := s.as(role, method, path, ""); (a.StatusCode != 403) != allowed || a.StatusCode == 401 {
				t.Errorf("%s as %s: %d %s", name, role, a.StatusCode, a.body)
			}
		}
	}
	s.ask("GET", "/openapi.json", "", "", nil).want(200, nil)
}

// TestBrowsersNeedTheFormToken: by session, a change must carry the token of the page.
func TestBrowsersNeedTheFormToken(t *testing.T) {
	s := open(t, api.MaxBody)
	site := func(method, body string, headers ...string) reply {
		return s.send(method, guard.SignInPath, "", body, headers)
	}
	visit := site("GET", "")
	form := url.Values{"login": {"owner"}, "password": {"three old boots"}, guard.TokenField: {visit.body}}.Encode()
	in := site("POST", form, "Content-Type", "application/x-www-form-urlencoded", "Cookie", cookie(visit)).want(200, nil)
	for sent, want := range map[string]int{"": 403, "x": 403, in.body: 201} {
		s.ask("POST", "/customers", "", `{"name": "Jonas"}`, []string{"Cookie", cookie(in), "X-CSRF", sent}).want(want, nil)
	}
}

func cookie(a reply) string {
	var all []string
	for _, c := range a.Cookies() {
		if c.Value != "" {
			all = append(all, c.Name+"="+c.Value)
		}
	}
	return strings.Join(all, "; ")
}

func TestBadSpecs(t *testing.T) {
	s := open(t, api.MaxBody)
	crossing := `{"outline": {"shape": "path", "d": "M0,0 L300,400 L300,0 L0,400 Z"}, "core": {"foam": "mat-10"}}`
	half := `{"outline": {"shape": "half", "d": "M10,0 L300,0 L200,700 L0,900"}, "core": {"foam": "mat-10"}}`
	kite := func(width string) string {
		return `{"outline": {"shape": "kite", "width": ` + width + `, "height": 860, "shoulder": 260}, "core": {"foam": "mat-10"}}`
	}
	for _, c := range []struct{ name, body, field, remedy string }{
		{"empty", "", "", "There is nothing in it."},
		{"blank", " \n", "", "There is nothing in it."},
		{"wrong JSON", "{\"outline\":\n {\"width\" 5}}", "", "line 2, character 11"},
		{"cut short", `{"outline": {`, "", "This is not JSON"},
		{"NaN", kite("NaN"), "", "This is not JSON"},
		{"NaN as text", kite(`"NaN"`), "outline.width", "This is not a length."},
		{"text", `"80"`, "", "curly brackets"},
		{"list", `[]`, "", "curly brackets"},
		{"unknown entry", `{"outline": {"wide": 5}, "pieces": [{"nmae": "x"}]}`, "outline.wide", "There is no such entry."},
		{"no unit", kite(`"80"`), "outline.width", "unit"},
		{"negative", kite("-5"), "outline.width", ""},
		{"1e308", kite("1e308"), "outline.width", ""},
		{"a group for a text", kite(`{"mm": 5}`), "outline.width", "This takes one text or number"},
		{"deep", strings.Repeat(`{"a":`, 20_000) + "1" + strings.Repeat("}", 20_000), "", "JSON"},
		{"crossing itself", crossing, "outline.d", ""},
		{"half off its axis", half, "outline.d", ""},
		{"unknown foam", `{"outline": {"shape": "round", "diameter": 600}, "core": {"foam": "granite"}}`, "core.foam", ""},
		{"nothing named", `{}`, "outline.shape", "Choose one of"},
		{"null", `null`, "outline.shape", "Choose one of"},
	} {
		b := s.owner("POST", "/estimate", c.body).problem(422)
		if len(b.Problems) == 0 || b.Type != "/problems/invalid" {
			t.Errorf("%s: %+v", c.name, b)
			continue
		}
		if p := b.Problems[0]; p.Field != c.field || !strings.Contains(p.Remedy, c.remedy) {
			t.Errorf("%s: %+v", c.name, p)
		}
		for _, p := range b.Problems {
			if len(p.Value) > 200 || !strings.HasSuffix(p.Remedy, ".") {
				t.Errorf("%s: %+v", c.name, p)
			}
		}
	}
}

// first is the first problem of an answer, as field: remedy.
func first(b problem.Body) string {
	if len(b.Problems) == 0 {
		return b.Detail
	}
	return b.Problems[0].Field + ": " + b.Problems[0].Remedy
}

func TestBadEntries(t *testing.T) {
	s := open(t, api.MaxBody)
	var c api.Customer
	var d api.Design
	var q api.Quote
	s.owner("POST", "/customers", `{"name": "Jonas"}`).want(201, &c)
	s.owner("POST", "/designs", `{"name": "Round", "spec": `+round+`}`).want(201, &d)
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "spec": {"core": {"layers": "many"}}}`, c.ID)).want(201, &q)
	quote, put := "/quotes/"+q.ID, `{"customer": "`+c.ID+`", "spec": {}, "edit": %s}`
	for _, r := range []struct {
		method, path, body string
		status             int
		says               string
	}{
		{"POST", "/customers", "", 422, ": There is nothing in it. Send JSON with: name, email, phone, address, note, language, business, tax_number, country, treatment, pay_first."},
		{"POST", "/customers", `{`, 422, ": This is not JSON"},
		{"POST", "/customers", `["Jonas"]`, 422, ": This takes a group"},
		{"POST", "/customers", `null`, 422, "name: Write a name"},
		{"POST", "/customers", `{"name": "Jonas", "colour": "red"}`, 422, "colour: There is no such entry. Known here: name, "},
		{"POST", "/customers", `{"name": "Jonas", "Name": "Jonas"}`, 422, "Name: There is no such entry."},
		{"POST", "/customers", `{"name": 7}`, 422, "name: This takes text"},
		{"POST", "/customers", `{"name": ["Jonas"]}`, 422, "name: This takes text"},
		{"POST", "/customers", `{"name": "Jonas", "email": "nowhere"}`, 422, "email: This is no mail address"},
		{"POST", "/customers", `{"name": "` + strings.Repeat("x", 121) + `"}`, 422, "name: This is too long"},
		{"POST", "/customers", `{"name": "Jonas", "phone": "7\u0000"}`, 422, "The text has a character that cannot be kept"},
		{"POST", "/customers", `{"name": "Jo\r\nBcc: nas"}`, 422, "name: This must be one line"},
		{"PUT", "/customers/" + nothing, `{"name": "Jonas"}`, 404, "There is no such customer"},
		{"PUT", "/customers/" + never, `{"name": "Jonas"}`, 404, "There is no such"},
		{"GET", "/customers/" + never, "", 404, "There is no such"},
		{"GET", "/customers?most=many", "", 422, "most: Write a whole number from 1 to 200"},
		{"GET", "/quotes?most=0", "", 422, "most: "},
		{"GET", "/quotes?most=99999999999999999999", "", 422, "most: "},
		{"POST", "/designs", `{"name": "Round"}`, 422, "spec: Send the whole spec"},
		{"POST", "/designs", `{"spec": {}}`, 422, "name: Give the design a name"},
		{"POST", "/designs", `{"name": "Odd", "spec": {"outline": {"wide": 1}}}`, 422, "spec.outline.wide: There is no such entry."},
		{"POST", "/designs", `{"name": "Odd", "spec": "round"}`, 422, "spec: This takes a group"},
		{"POST", "/designs", `{"name": "Round", "spec": {}}`, 409, "name: There is a design of this name already"},
		{"PUT", "/designs/" + nothing, `{"name": "Odd", "spec": {}}`, 404, "There is no such design"},
		{"GET", "/designs/" + nothing, "", 404, "There is no such design"},
		{"POST", "/quotes", `{"customer": "` + c.ID + `"}`, 422, "spec: Send either"},
		{"POST", "/quotes", `{"customer": "` + c.ID + `", "spec": {}, "design": "` + d.ID + `"}`, 422, "spec: Send either"},
		{"POST", "/quotes", `{"customer": "` + c.ID + `", "design": "` + never + `"}`, 422, "design: There is no such design"},
		{"POST", "/quotes", `{"customer": "` + nothing + `", "spec": {}}`, 422, "customer: There is no such customer"},
		{"POST", "/quotes", `{"spec": {}}`, 422, "customer: Choose who"},
		{"PUT", quote, `{"customer": "` + c.ID + `", "spec": {}}`, 422, "edit: Send the edit count"},
		{"PUT", quote, fmt.Sprintf(put, "1.5"), 422, "edit: This takes a whole number"},
		{"PUT", quote, fmt.Sprintf(put, `"0"`), 422, "edit: This takes a whole number"},
		{"PUT", quote, fmt.Sprintf(put, "41"), 409, "Somebody else changed this quote"},
		{"PUT", quote, `{"customer": "` + c.ID + `", "edit": 0}`, 422, "spec: Send the whole spec"},
		{"PUT", "/quotes/" + nothing, fmt.Sprintf(put, "0"), 404, "There is no such quote"},
		{"GET", quote + "/estimate", "", 422, "spec.outline.shape: "},
		{"GET", quote + "/document", "", 409, "This quote has not been issued"},
		{"POST", quote + "/issue", `{}`, 422, "digest: Send the digest"},
		{"POST", quote + "/issue", `{"digest": "x", "gross": "1"}`, 422, "spec.outline.shape: "},
		{"POST", "/quotes/" + never + "/issue", `{"digest": "x", "gross": "1"}`, 404, "There is no such"},
		{"POST", "/quotes/" + nothing + "/revise", "", 404, "There is no such quote"},
		{"DELETE", "/quotes/" + never, "", 404, "There is no such"},
	} {
		if b := s.owner(r.method, r.path, r.body).problem(r.status); !strings.HasPrefix(first(b), r.says) {
			t.Errorf("%s %s %s: %s", r.method, r.path, r.body, first(b))
		}
	}
}
