package guard_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"foamwright/api/guard"
	"foamwright/api/problem"

	"github.com/google/uuid"
)

func TestHeaders(t *testing.T) {
	for _, secure := range []bool{false, true} {
		b := open(t, func(o *guard.Options) { o.Secure = secure }).browser()
		hsts := ""
		if secure {
			hsts = "max-age=31536000"
		}
		for _, path := range []string{"/static/mark", "/sign-in", "/quotes", "/q/panic/now", "/nowhere"} {
			a := b.do("GET", path, nil, "X-Forwarded-Proto", "https") // not believed
			for name, want := range map[string]string{
				"Content-Security-Policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; " +
					"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
				"X-Content-Type-Options": "nosniff", "Referrer-Policy": "same-origin",
				"Cross-Origin-Opener-Policy": "same-origin", "Strict-Transport-Security": hsts,
			} {
				if got := a.Header.Get(name); got != want {
					t.Errorf("%s %s: %q, want %q", path, name, got, want)
				}
			}
			if !strings.Contains(a.Header.Get("Permissions-Policy"), "camera=()") {
				t.Errorf("%s: no permissions policy", path)
			}
		}
		if a := b.do("GET", "/q/paper/now", nil); a.Header.Get("Content-Security-Policy") != "frame-ancestors 'none'" {
			t.Errorf("a PDF's policy would stop its viewer: %s", a.Header.Get("Content-Security-Policy"))
		}
	}
}

func TestRequestIDIsOurs(t *testing.T) {
	b := open(t, nil).browser()
	seen := map[string]bool{}
	for range 3 {
		id := b.do("GET", "/static/mark", nil, problem.RequestIDHeader, "theirs").Header.Get(problem.RequestIDHeader)
		if _, err := uuid.Parse(id); err != nil || seen[id] {
			t.Errorf("request id %q", id)
		}
		seen[id] = true
	}
	none := open(t, func(o *guard.Options) { o.Random = strings.NewReader("") }).browser()
	none.do("GET", "/static/mark", nil).want(t, "without randomness", 500)
}

func TestPanicIsLoggedNotShown(t *testing.T) {
	s := open(t, nil)
	a := s.browser().do("GET", "/q/panic/now", nil)
	a.want(t, "panic", 500)
	var body problem.Body
	if err := json.Unmarshal([]byte(a.body), &body); err != nil || body.Type != "/problems/internal" {
		t.Errorf("%v %s", err, a.body)
	}
	id := a.Header.Get(problem.RequestIDHeader)
	if strings.Contains(a.body, "glue") || !strings.Contains(body.Detail, id) {
		t.Errorf("shown: %s", a.body)
	}
	for _, want := range []string{"the glue pot fell", id, "guard_test.go"} {
		if !strings.Contains(s.log.String(), want) {
			t.Errorf("the log lacks %q: %s", want, s.log)
		}
	}
}

func TestDeadline(t *testing.T) {
	s := open(t, func(o *guard.Options) { o.Deadline = 50 * time.Millisecond })
	a := s.browser().do("GET", "/q/slow/now", nil)
	a.want(t, "a slow page", 503)
	if !strings.Contains(a.body, "took too long") {
		t.Error(a.body)
	}
}

// TestAFailingDatabaseIsNotNobody: who has a cookie is not sent to the sign-in page because the books do not answer.
func TestAFailingDatabaseIsNotNobody(t *testing.T) {
	b := open(t, func(o *guard.Options) { o.Deadline = time.Nanosecond }).browser()
	b.cookies["foamwright"] = strings.Repeat("x", 43)
	a := b.do("GET", "/me", nil)
	a.want(t, "a page", 503)
	if len(b.cookies) != 1 {
		t.Error("the cookie was dropped")
	}
	b.do("GET", "/api/stock", nil, "Authorization", "Bearer fw_x").want(t, "a call", 503)
}
