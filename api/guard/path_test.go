package guard_test

import (
	"net/url"
	"strings"
	"testing"

	"foamwright/api/guard"
)

func TestLocalPath(t *testing.T) {
	for next, want := range map[string]string{
		"/": "/", "/quotes/7?tab=price&a=b#slip": "/quotes/7?tab=price&a=b#slip", "/stock?next=http://evil.test": "/stock?next=http://evil.test",
		"": "/", "quotes": "/", "//evil.test": "/", "///evil.test": "/", "/\\evil.test": "/", "\\\\evil.test": "/", "/\t/evil.test": "/",
		"/\n/evil.test": "/", " //evil.test": "/", "http://evil.test": "/", "https:evil.test": "/", "javascript:alert(1)": "/",
		"http:///quotes": "/", "/%zz": "/", "mailto:mara@example.org": "/",
	} {
		if got := guard.LocalPath(next); got != want {
			t.Errorf("%q: %q, want %q", next, got, want)
		}
	}
	b := open(t, nil).browser()
	form := url.Values{"login": {"mara"}, "password": {boots}, guard.TokenField: {b.do("GET", "/sign-in", nil).body}}
	if a := b.do("POST", "/sign-in?next=//evil.test/", form); a.Header.Get("Location") != "/" {
		t.Errorf("sent on to %s", a.Header.Get("Location"))
	}
}

// FuzzLocalPath: wherever the path came from, a browser that resolves it stays on the same host.
func FuzzLocalPath(f *testing.F) {
	f.Add("/quotes?x=1")
	f.Add("//evil.test")
	f.Add("/\\evil.test")
	base, _ := url.Parse("https://workshop.test/sign-in")
	f.Fuzz(func(t *testing.T, next string) {
		got := guard.LocalPath(next)
		// What a browser does before it reads an address (WHATWG URL): tabs and line ends go, backslashes turn.
		seen := strings.NewReplacer("\t", "", "\n", "", "\r", "", "\\", "/").Replace(strings.Trim(got, "\x00\x01\x02 "))
		u, err := base.Parse(seen)
		if err != nil || u.Host != base.Host || u.Scheme != base.Scheme || strings.HasPrefix(seen, "//") {
			t.Fatalf("%q leads to %q: %v", next, got, u)
		}
	})
}
