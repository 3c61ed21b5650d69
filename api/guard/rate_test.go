package guard_test

import (
	"testing"

	"foamwright/api/guard"
)

func TestLimit(t *testing.T) {
	s := open(t, func(o *guard.Options) {
		o.Anonymous, o.SignedIn = guard.Rate{Burst: 8, PerSecond: 0.001}, guard.Rate{Burst: 4, PerSecond: 0.001}
	})
	mara, again := s.browser().signIn("mara"), s.browser().signIn("mara") // two requests of the address each
	for range 4 {
		s.browser().do("GET", "/api/stock", nil, "Authorization", "Bearer x").want(t, "nobody", 401) // bad tokens count as well
	}
	a := s.browser().do("GET", "/sign-in", nil, "X-Forwarded-For", "203.0.113.5")
	a.want(t, "nobody once more", 429)
	if a.Header.Get("Retry-After") == "" {
		t.Error("not told how long to wait")
	}
	s.browser().do("GET", "/static/mark", nil).want(t, "a static file", 200)
	for range 4 {
		mara.do("GET", "/me", nil).want(t, "a session", 200)
	}
	mara.do("GET", "/me", nil).want(t, "a session once more", 429)
	again.do("GET", "/me", nil).want(t, "another session of the same person", 200)
}
