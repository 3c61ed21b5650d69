package guard_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"foamwright/api/guard"
	"foamwright/pricing/people"
)

func TestCookieFlags(t *testing.T) {
	for prefix, secure := range map[string]bool{"": false, "__Host-": true} {
		b := open(t, func(o *guard.Options) { o.Secure = secure }).browser()
		visit := b.do("GET", "/sign-in", nil)
		form := url.Values{"login": {"mara"}, "password": {boots}, guard.TokenField: {visit.body}}
		entered := b.do("POST", "/sign-in", form)
		left := b.do("POST", "/me/sign-out", url.Values{guard.TokenField: {b.token()}})
		for name, c := range map[string]struct {
			answer
			lasts, value bool
		}{"foamwright-visit": {visit, false, true}, "foamwright": {entered, true, true}, "foamwright ": {left, true, false}} {
			cookies := c.Cookies()
			if len(cookies) != 1 {
				t.Fatalf("%s: %d cookies", name, len(cookies))
			}
			k := cookies[0]
			if k.Name != prefix+strings.TrimSpace(name) || k.Secure != secure || !k.HttpOnly || k.SameSite != http.SameSiteLaxMode ||
				k.Path != "/" || k.Domain != "" || k.Expires.IsZero() == c.lasts || (k.Value != "") != c.value {
				t.Errorf("%s: %s", name, k.Raw)
			}
		}
		if ends := entered.Cookies()[0].Expires; time.Until(ends) < 29*24*time.Hour {
			t.Errorf("the session cookie ends %v", ends)
		}
		if expired := left.Cookies()[0].Expires; time.Now().Before(expired) {
			t.Errorf("the cookie was not dropped: %v", expired)
		}
	}
}

func TestSignInAndOut(t *testing.T) {
	s := open(t, nil)
	b := s.browser()
	token := b.do("GET", "/sign-in", nil).body
	refused := b.do("POST", "/sign-in", url.Values{"login": {"mara"}, "password": {"three new boots"}, guard.TokenField: {token}})
	refused.want(t, "a wrong password", 401)
	if len(refused.Cookies()) != 0 {
		t.Error("a wrong password sets a cookie")
	}
	b.do("POST", "/sign-in?next=/stock", url.Values{"login": {"mara"}, "password": {boots}, guard.TokenField: {token}}).want(t, "sign in", 303)
	first := b.cookies["foamwright"]
	if a := b.do("GET", "/stock", nil); a.body != "mara" || a.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("%s %v", a.body, a.Header)
	}
	b.signIn("ilse") // over the session of another
	if b.cookies["foamwright"] == first {
		t.Error("the session secret stayed the same")
	}
	if _, err := s.people.Session(t.Context(), first); err == nil {
		t.Error("the session before goes on")
	}
	second := b.cookies["foamwright"]
	b.do("POST", "/me/sign-out", url.Values{guard.TokenField: {b.token()}}).want(t, "sign out", 200)
	if _, err := s.people.Session(t.Context(), second); err == nil || b.cookies["foamwright"] != "" {
		t.Error("still signed in")
	}
}

// TestAPlantedCookieIsWorthNothing: a secret put into the browser before signing in does not become a session.
func TestAPlantedCookieIsWorthNothing(t *testing.T) {
	s := open(t, nil)
	b := s.browser()
	planted := strings.Repeat("x", 43)
	b.cookies["foamwright"] = planted
	b.signIn("mara")
	if b.cookies["foamwright"] == planted {
		t.Error("the planted secret was taken over")
	}
	b.cookies["foamwright"] = planted
	a := b.do("GET", "/me", nil)
	a.want(t, "the planted cookie", 303)
	if len(a.Cookies()) != 1 || b.cookies["foamwright"] != "" {
		t.Error("a dead cookie is not dropped")
	}
}

func TestUseLink(t *testing.T) {
	s := open(t, nil)
	link, _, err := s.people.NewLink(t.Context(), s.ids["jonas"])
	if err != nil {
		t.Fatal(err)
	}
	b := s.browser()
	form := url.Values{"token": {link}, guard.TokenField: {b.do("GET", "/sign-in", nil).body}}
	b.do("POST", "/sign-in/link", form).want(t, "link", 200)
	if a := b.do("GET", "/stock", nil); a.body != "jonas" {
		t.Errorf("signed in as %s", a.body)
	}
	other := s.browser()
	form.Set(guard.TokenField, other.do("GET", "/sign-in", nil).body)
	other.do("POST", "/sign-in/link", form).want(t, "link used", 401)
}

func TestGuessingIsBraked(t *testing.T) {
	b := open(t, nil).browser()
	form := url.Values{"login": {"mara"}, "password": {"three new boots"}, guard.TokenField: {b.do("GET", "/sign-in", nil).body}}
	for range people.DefaultPolicy().PerLogin {
		b.do("POST", "/sign-in", form).want(t, "a guess", 401)
	}
	form.Set("password", boots)
	a := b.do("POST", "/sign-in", form)
	a.want(t, "one too many", 429)
	if !strings.Contains(a.body, "Too many attempts; try again in 15 minutes.") || a.Header.Get("Retry-After") == "" {
		t.Errorf("%s %v", a.body, a.Header)
	}
}
