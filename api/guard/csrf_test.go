package guard_test

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"foamwright/api/guard"
)

func TestChangesFromElsewhereAreRefused(t *testing.T) {
	s := open(t, nil)
	b := s.browser().signIn("mara")
	token, others := b.token(), s.browser().signIn("mara").token()
	visit := s.browser().do("GET", "/sign-in", nil).body
	if token == others || strings.Contains(b.cookies["foamwright"], token) {
		t.Error("the form token is not the session's own, or shows its secret")
	}
	field := func(v string) url.Values { return url.Values{guard.TokenField: {v}} }
	for _, c := range []struct {
		name    string
		want    int
		path    string
		form    url.Values
		headers []string
	}{
		{"field", 200, "/quotes", field(token), nil},
		{"header", 200, "/quotes", nil, []string{"X-CSRF", token}},
		{"header on the API by cookie", 200, "/api/quotes", nil, []string{"X-CSRF", token}},
		{"from here", 200, "/quotes", field(token), []string{"Sec-Fetch-Site", "same-origin", "Origin", "http://workshop.test"}},
		{"typed by the person", 200, "/quotes", field(token), []string{"Sec-Fetch-Site", "none"}},
		{"origin only", 200, "/quotes", field(token), []string{"Origin", "http://workshop.test"}},
		{"no token", 403, "/quotes", url.Values{"a": {"b"}}, nil},
		{"no body", 403, "/quotes", nil, nil},
		{"empty token", 403, "/quotes", field(""), nil},
		{"token of another session", 403, "/quotes", field(others), nil},
		{"token of a visit", 403, "/quotes", field(visit), nil},
		{"token in the address", 403, "/quotes?csrf=" + token, url.Values{"a": {"b"}}, nil},
		{"API by cookie without token", 403, "/api/quotes", nil, nil},
		{"basic instead of a bearer", 401, "/api/quotes", nil, []string{"Authorization", "Basic x"}},
		{"cross site", 403, "/quotes", field(token), []string{"Sec-Fetch-Site", "cross-site"}},
		{"a neighbour host", 403, "/quotes", field(token), []string{"Sec-Fetch-Site", "same-site"}},
		{"another origin", 403, "/quotes", field(token), []string{"Origin", "http://evil.test"}},
		{"another port", 403, "/quotes", field(token), []string{"Origin", "http://workshop.test:8080"}},
		{"origin null", 403, "/quotes", field(token), []string{"Origin", "null"}},
		{"forwarded host is not believed", 403, "/quotes", field(token), []string{"Origin", "http://evil.test", "X-Forwarded-Host", "evil.test"}},
	} {
		b.do("POST", c.path, c.form, c.headers...).want(t, c.name, c.want)
	}
	for _, method := range []string{"PUT", "PATCH", "DELETE"} {
		b.do(method, "/quotes", nil).want(t, method, 403)
	}
}

func TestMultipartFormCarriesTheToken(t *testing.T) {
	b := open(t, nil).browser().signIn("mara")
	for token, want := range map[string]int{b.token(): 200, "x": 403} {
		var body bytes.Buffer
		form := multipart.NewWriter(&body)
		_ = form.WriteField(guard.TokenField, token)
		file, _ := form.CreateFormFile("picture", "heron.png")
		_, _ = file.Write(bytes.Repeat([]byte{7}, 1<<16))
		if err := form.Close(); err != nil {
			t.Fatal(err)
		}
		r := httptest.NewRequest("POST", "/quotes", &body)
		r.Header.Set("Content-Type", form.FormDataContentType())
		r.Header.Set("Cookie", "foamwright="+b.cookies["foamwright"])
		w, err := b.app.Test(r, -1)
		if err != nil {
			t.Fatal(err)
		}
		text, _ := io.ReadAll(w.Body)
		answer{w, string(text)}.want(t, "multipart", want)
	}
}

// TestTheSignInFormIsProtected: another site cannot sign a browser in as somebody else.
func TestTheSignInFormIsProtected(t *testing.T) {
	s := open(t, nil)
	form := url.Values{"login": {"mara"}, "password": {boots}}
	s.browser().do("POST", "/sign-in", form).want(t, "no visit, no token", 403)
	form.Set(guard.TokenField, s.browser().do("GET", "/sign-in", nil).body)
	s.browser().do("POST", "/sign-in", form).want(t, "token of another visit", 403)
	b := s.browser()
	form.Set(guard.TokenField, b.do("GET", "/sign-in", nil).body)
	b.do("POST", "/sign-in", form, "Sec-Fetch-Site", "cross-site").want(t, "cross site", 403)
	b.cookies["foamwright-visit"] = "short"
	b.do("POST", "/sign-in", form).want(t, "a visit made up", 403)
	if again := b.do("GET", "/sign-in", nil); len(again.Cookies()) != 1 || len(b.cookies["foamwright-visit"]) != 43 {
		t.Error("a visit made up was kept")
	}
	visit := b.cookies["foamwright-visit"]
	if b.do("GET", "/sign-in", nil); b.cookies["foamwright-visit"] != visit {
		t.Error("a second page began a second visit; the first one's form would be refused")
	}
}

func TestACustomerMayAnswerWithoutAnAccount(t *testing.T) {
	b := open(t, nil).browser()
	token := b.do("GET", "/sign-in", nil).body // any page with a form
	b.do("POST", "/q/abc", url.Values{guard.TokenField: {token}}).want(t, "an answer", 200)
	b.do("POST", "/q/abc", nil).want(t, "without the form", 403)
	b.do("POST", "/q/abc", url.Values{guard.TokenField: {token}}, "Origin", "null").want(t, "from a page that names itself to nobody", 200)
	b.do("POST", "/q/abc", nil, "Origin", "null").want(t, "the same without the form", 403)
}
