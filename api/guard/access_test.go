package guard_test

import (
	"encoding/json"
	"net/url"
	"strings"
	"testing"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/pricing/people"
)

// TestDoors: who may pass where. 303 is the way to the sign-in page.
func TestDoors(t *testing.T) {
	s := open(t, nil)
	nobody, owner, helper, bookkeeper := s.browser(), s.browser().signIn("mara"), s.browser().signIn("jonas"), s.browser().signIn("ilse")
	for _, c := range []struct {
		path                              string
		nobody, owner, helper, bookkeeper int
	}{
		{"/static/mark", 200, 200, 200, 200},
		{"/sign-in", 200, 200, 200, 200},
		{"/q/abc", 200, 200, 200, 200},
		{"/quotes", 303, 200, 403, 403}, // no door: the owner's alone
		{"/nowhere", 303, 404, 403, 403},
		{"/", 303, 200, 200, 200},
		{"/me", 303, 200, 200, 200},
		{"/stock", 303, 200, 200, 403},
		{"/stock/", 303, 200, 200, 403},
		{"/STOCK", 303, 200, 200, 403},
		{"/stock/7", 303, 200, 200, 403},
		{"/stock/prices", 303, 200, 403, 200}, // the deeper door counts, however it is written
		{"/stock/PRICES", 303, 200, 403, 200},
		{"/stock/%70rices", 303, 200, 403, 200},
		{"/stockpile", 303, 404, 403, 403}, // not below /stock
		{"/sign-inside", 303, 404, 403, 403},
		{"/q/../quotes", 404, 404, 404, 404},
		{"/q/%2e%2e/quotes", 404, 404, 404, 404},
		{"/q//quotes", 404, 404, 404, 404},
		{"//quotes", 303, 404, 403, 403},
		{"/api/open", 200, 200, 200, 200},
		{"/api/stock", 401, 200, 200, 403},
		{"/api/quotes", 401, 200, 403, 403},
		{"/api", 401, 404, 403, 403},
	} {
		nobody.do("GET", c.path, nil).want(t, "nobody "+c.path, c.nobody)
		owner.do("GET", c.path, nil).want(t, "owner "+c.path, c.owner)
		helper.do("GET", c.path, nil).want(t, "helper "+c.path, c.helper)
		bookkeeper.do("GET", c.path, nil).want(t, "bookkeeper "+c.path, c.bookkeeper)
	}
}

func TestRequire(t *testing.T) {
	s := open(t, nil)
	for login, want := range map[string]int{"mara": 200, "jonas": 403, "ilse": 200} {
		b := s.browser().signIn(login)
		b.do("POST", "/me", url.Values{guard.TokenField: {b.token()}}).want(t, login, want)
	}
}

func TestPagesAskToSignInAndCallsAreTold(t *testing.T) {
	b := open(t, nil).browser()
	for _, c := range []struct {
		method, path string
		headers      []string
		want         string // where to; empty for 401
	}{
		{"GET", "/quotes?state=open&page=2", nil, "/sign-in?next=%2Fquotes%3Fstate%3Dopen%26page%3D2"},
		{"GET", "/quotes", []string{"Sec-Fetch-Mode", "navigate"}, "/sign-in?next=%2Fquotes"},
		{"GET", "//evil.test/x", nil, "/sign-in?next=%2F"},
		{"GET", "/quotes", []string{"Sec-Fetch-Mode", "cors"}, ""},
		{"GET", "/quotes", []string{"X-CSRF", "x"}, ""},
		{"GET", "/api/quotes", []string{"Sec-Fetch-Mode", "navigate"}, ""},
		{"POST", "/quotes", []string{"Referer", "http://workshop.test/quotes/7?tab=price"}, "/sign-in?next=%2Fquotes%2F7%3Ftab%3Dprice"},
		{"POST", "/quotes", []string{"Referer", "http://evil.test/quotes/7"}, "/sign-in?next=%2F"},
		{"POST", "/quotes", nil, "/sign-in?next=%2F"},
	} {
		a := b.do(c.method, c.path, nil, c.headers...)
		if c.want != "" {
			a.want(t, c.path, 303)
			if got := a.Header.Get("Location"); got != c.want {
				t.Errorf("%s %s %v: to %s, want %s", c.method, c.path, c.headers, got, c.want)
			}
			continue
		}
		a.want(t, c.path, 401)
		var body problem.Body
		if err := json.Unmarshal([]byte(a.body), &body); err != nil || body.Type != "/problems/unauthenticated" || body.Status != 401 {
			t.Errorf("%v %s", err, a.body)
		}
		if a.Header.Get("Content-Type") != problem.ContentType || a.Header.Get("WWW-Authenticate") != "Bearer" {
			t.Errorf("%v", a.Header)
		}
	}
}

func TestBearer(t *testing.T) {
	s := open(t, nil)
	token, secret, err := s.people.NewToken(t.Context(), s.ids["jonas"], "bench scale")
	if err != nil {
		t.Fatal(err)
	}
	call := func(what, method, path string, want int, headers ...string) answer {
		t.Helper()
		a := s.browser().do(method, path, nil, headers...)
		a.want(t, what, want)
		return a
	}
	good := []string{"Authorization", "Bearer " + secret}
	if a := call("read", "GET", "/api/stock", 200, good...); a.body != "jonas" || a.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("%s, %v", a.body, a.Header)
	}
	call("change without a form token", "POST", "/api/stock", 200, good...)
	call("in small letters", "GET", "/api/stock", 200, "Authorization", "bearer "+secret)
	call("not the role", "GET", "/api/quotes", 403, good...)
	call("a page", "GET", "/stock", 303, good...)
	call("another scheme", "GET", "/api/stock", 401, "Authorization", "Basic "+secret)
	call("unknown", "GET", "/api/stock", 401, "Authorization", "Bearer fw_"+strings.Repeat("x", 43))
	call("unknown, through an open door", "GET", "/api/open", 401, "Authorization", "Bearer x")
	call("unknown, a change", "POST", "/api/open", 401, "Authorization", "Bearer x")

	owner := s.browser().signIn("mara") // the token is what counts, not the cookie beside it
	owner.do("GET", "/api/quotes", nil, good...).want(t, "token beside the owner's cookie", 403)
	owner.do("GET", "/api/quotes", nil, "Authorization", "Bearer x").want(t, "bad token beside the owner's cookie", 401)
	if err := s.people.EndToken(t.Context(), s.ids["jonas"], token.ID); err != nil {
		t.Fatal(err)
	}
	call("revoked", "GET", "/api/stock", 401, good...)
}

func TestADisabledPersonIsOutAtOnce(t *testing.T) {
	s := open(t, nil)
	b := s.browser().signIn("jonas")
	if _, err := s.people.Change(t.Context(), s.ids["jonas"], "jonas", people.Bookkeeper); err != nil {
		t.Fatal(err)
	}
	b.do("GET", "/stock", nil).want(t, "another role", 403)
	if _, err := s.people.Disable(t.Context(), s.ids["jonas"]); err != nil {
		t.Fatal(err)
	}
	b.do("GET", "/me", nil).want(t, "disabled", 303)
}
