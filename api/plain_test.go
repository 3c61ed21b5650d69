package api_test

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"

	"foamwright/api"
	"foamwright/pricing/people"
)

// TestPlainRefusals: what HTTP itself refuses is a problem too.
func TestPlainRefusals(t *testing.T) {
	s := open(t, api.MaxBody)
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	fmt.Fprint(z, round)
	s.must(z.Close())
	for _, c := range []struct {
		method, path, body string
		status             int
		headers            []string
	}{
		{"GET", "/nowhere", "", 404, nil},
		{"GET", "/quotes/" + nothing + "/nowhere", "", 404, nil},
		{"PATCH", "/quotes", `{}`, 405, nil},
		{"DELETE", "/customers/" + nothing, "", 405, nil},
		{"POST", "/estimate", round, 415, []string{"Content-Type", "application/x-www-form-urlencoded"}},
		{"POST", "/estimate", round, 415, []string{"Content-Type", "text/plain"}},
		{"POST", "/estimate", round, 415, []string{"Content-Type", ""}},
		{"POST", "/estimate", packed.String(), 415, []string{"Content-Encoding", "gzip"}},
		{"POST", "/estimate", round, 200, []string{"Content-Type", "application/json; charset=utf-8"}},
		{"POST", "/estimate", round, 200, []string{"Accept", "application/cbor, text/html"}},
	} {
		a := s.owner(c.method, c.path, c.body, c.headers...)
		if c.status == 200 {
			a.want(200, nil)
			continue
		}
		a.problem(c.status)
		if allow := a.Header.Get("Allow"); (c.status == 405) != (allow != "") {
			t.Errorf("%s %s allows %q", c.method, c.path, allow)
		}
	}
}

// TestLargeBodies are refused by the API whatever the application accepts.
func TestLargeBodies(t *testing.T) {
	s := open(t, 20<<20)
	for _, size := range []int{api.MaxBody + 1, 10 << 20} {
		s.owner("POST", "/estimate", named(size)).problem(413)
	}
	if p := s.owner("POST", "/estimate", named(api.MaxBody)).problem(422).Problems[0]; p.Field != "name" || len(p.Value) > 200 {
		t.Errorf("%+v", p)
	}
}

// named is a spec of a size.
func named(size int) string {
	return `{"name": "` + strings.Repeat("x", size-len(`{"name": ""}`)) + `"}`
}

// TestLargeBodiesAreNotEvenRead where the application has the API's limit, whoever sends them. It takes a real
// connection: app.Test gives the server's error instead of the answer.
func TestLargeBodiesAreNotEvenRead(t *testing.T) {
	s := open(t, api.MaxBody)
	line, err := net.Listen("tcp", "127.0.0.1:0")
	s.must(err)
	done := make(chan error, 1)
	go func() { done <- s.app.Listener(line) }()
	w, err := net.Dial("tcp", line.Addr().String())
	s.must(err)
	fmt.Fprintf(w, "POST %s/estimate HTTP/1.1\r\nHost: workshop.test\r\nContent-Type: application/json\r\nContent-Length: %d\r\n\r\n{", api.Path, 10<<20)
	a, err := http.ReadResponse(bufio.NewReader(w), nil)
	s.must(err)
	text, err := io.ReadAll(a.Body)
	s.must(err)
	a.Request = httptest.NewRequest("POST", api.Path+"/estimate", nil)
	reply{a, t, string(text)}.problem(413)
	s.must(w.Close())
	s.must(s.app.Shutdown())
	s.must(<-done)
}

// TestNothingInternalIsShown: a document that cannot be made is our fault; the cause is in the log alone, and
// the draft stays one.
func TestNothingInternalIsShown(t *testing.T) {
	s := open(t, api.MaxBody)
	var c api.Customer
	var q api.Quote
	var e api.Estimate
	s.owner("POST", "/customers", `{"name": "Mara"}`).want(201, &c)
	s.owner("POST", "/quotes", fmt.Sprintf(`{"customer": %q, "spec": %s}`, c.ID, round)).want(201, &q)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").want(200, &e)
	issue := func(digest string) reply {
		return s.owner("POST", "/quotes/"+q.ID+"/issue", fmt.Sprintf(`{"digest": %q, "gross": %q}`, digest, e.Price.Gross))
	}
	s.paper.jammed = true
	a := issue(e.Digest)
	b := a.problem(500)
	id := a.Header.Get("X-Request-Id")
	if strings.Contains(a.body, "password") || strings.Contains(a.body, "10.1.2.3") || b.Type != "/problems/internal" || len(b.Problems) > 0 || !strings.Contains(b.Detail, id) || id == "" {
		t.Errorf("%+v", b)
	}
	if log := s.log.String(); !strings.Contains(log, "10.1.2.3") || !strings.Contains(log, id) || !strings.Contains(log, "route=/api/v1/quotes/:id/issue") {
		t.Errorf("log: %s", log)
	}
	s.paper.jammed = false
	if d := issue("another").problem(409).Detail; !strings.Contains(d, "you saw "+e.Price.Gross+", it is now "+e.Price.Gross) {
		t.Error(d)
	}
	issue(e.Digest).want(200, &q)
	if q.Number.No != 1 {
		t.Errorf("the failed issue took a number: %+v", q.Number)
	}
	s.owner("DELETE", "/quotes/"+q.ID, "").problem(409)
	s.owner("GET", "/quotes/"+q.ID+"/estimate", "").problem(409)
	s.owner("PUT", "/quotes/"+q.ID, fmt.Sprintf(`{"customer": %q, "spec": {}, "edit": %d}`, c.ID, q.Edit)).problem(409)
}

// TestRequestsDoNotMix: what is read of one request is never of another.
func TestRequestsDoNotMix(t *testing.T) {
	s := open(t, api.MaxBody)
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			for j := range 10 {
				name := fmt.Sprintf("Customer %d of bench %d", j, i)
				body := s.ask("POST", "/customers", s.tokens[people.Owner], fmt.Sprintf(`{"name": %q}`, name), nil).body
				if !strings.Contains(body, `"name":"`+name+`"`) {
					t.Errorf("%s: %s", name, body)
				}
			}
		})
	}
	all.Wait()
}
