package web_test

import (
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

func TestStaticFilesMayBeKeptAndPagesMayNot(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	page := v.get("/quotes").want(http.StatusOK)
	if page.Header.Get("Cache-Control") != "no-store" {
		t.Errorf("a page with prices may be kept: %q", page.Header.Get("Cache-Control"))
	}
	addresses := regexp.MustCompile(`/static/[a-z]+\.([a-z]+)\?v=[0-9a-f]{12}`).FindAllStringSubmatch(page.body, -1)
	if len(addresses) != 3 {
		t.Fatalf("%v", addresses)
	}
	kinds := map[string]string{"css": "text/css", "js": "text/javascript", "svg": "image/svg+xml"}
	for _, address := range addresses {
		for _, method := range []string{http.MethodGet, http.MethodHead} {
			a := s.visit().send(httptest.NewRequest(method, address[0], nil)).want(http.StatusOK)
			h := a.Header
			if h.Get("Cache-Control") != "public, max-age=31536000, immutable" || !strings.HasPrefix(h.Get("Content-Type"), kinds[address[1]]) ||
				h.Get("X-Content-Type-Options") != "nosniff" || len(h.Values("Set-Cookie")) > 0 || a.ContentLength <= 0 {
				t.Errorf("%s %s: %v", method, address[0], h)
			}
			if (method == http.MethodHead) != (a.body == "") {
				t.Errorf("%s %s: %d bytes", method, address[0], len(a.body))
			}
		}
		plain, _, _ := strings.Cut(address[0], "?")
		for _, old := range []string{plain, plain + "?v=000000000000"} {
			if got := s.visit().get(old).want(http.StatusOK).Header.Get("Cache-Control"); strings.Contains(got, "immutable") {
				t.Errorf("%s may be kept for ever: %q", old, got)
			}
		}
	}
	for _, missing := range []string{"/static/", "/static/none.css", "/static/..%2fweb.go", "/static/%2e%2e/templates/quote.html", "/static/foamwright.css/x"} {
		if a := s.visit().get(missing); a.StatusCode != http.StatusNotFound {
			t.Errorf("%s: %d", missing, a.StatusCode)
		}
	}
}

func TestAPDFIsAskedForAgainButNotSentAgain(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := ""
	for _, p := range s.everyPath() {
		if strings.HasSuffix(p, ".pdf") {
			path = p
		}
	}
	a := v.get(path).want(http.StatusOK)
	if !strings.HasPrefix(a.body, "%PDF-") || a.Header.Get("Content-Type") != "application/pdf" || a.Header.Get("Content-Disposition") == "" {
		t.Errorf("%v", a.Header)
	}
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.Header.Set("If-None-Match", a.Header.Get("ETag"))
	if b := v.send(r).want(http.StatusNotModified); b.body != "" {
		t.Error("sent again")
	}
	if b := v.get(path); b.body != a.body {
		t.Error("the same quote has other bytes")
	}
}

// The palette is held to WCAG 2.2, 1.4.3 (contrast of text, 4.5:1) and 1.4.11 (of what shows focus and state, 3:1).
func TestPaletteContrast(t *testing.T) {
	css, err := os.ReadFile("static/foamwright.css")
	if err != nil {
		t.Fatal(err)
	}
	light, rest, found := strings.Cut(string(css), "prefers-color-scheme: dark")
	if !found {
		t.Fatal("there is no dark theme")
	}
	dark, _, _ := strings.Cut(rest, "}")
	day := palette(light)
	night := palette(light)
	for name, colour := range palette(dark) {
		night[name] = colour
	}
	for theme, p := range map[string]map[string]float64{"light": day, "dark": night} {
		for _, c := range []struct {
			upper, lower string
			least        float64
		}{
			{"ink", "paper", 4.5}, {"ink", "sheet", 4.5}, {"soft", "paper", 4.5}, {"soft", "sheet", 4.5},
			{"accent", "paper", 4.5}, {"accent", "sheet", 4.5}, {"warn", "paper", 4.5}, {"warn", "sheet", 4.5},
			{"on-accent", "accent", 4.5}, {"warn", "warn-ground", 4.5},
		} {
			over, under, ok := p[c.upper], p[c.lower], both(p, c.upper, c.lower)
			ratio := (math.Max(over, under) + 0.05) / (math.Min(over, under) + 0.05)
			if !ok || ratio < c.least {
				t.Errorf("%s: %s on %s is %.2f:1, want %.1f:1", theme, c.upper, c.lower, ratio, c.least)
			}
		}
	}
}

func both(p map[string]float64, a, b string) bool {
	_, ok := p[a]
	_, also := p[b]
	return ok && also
}

// palette gives the relative luminance of each custom property that is a colour (WCAG 2.2, relative luminance).
func palette(css string) map[string]float64 {
	p := map[string]float64{}
	for _, m := range regexp.MustCompile(`--([a-z-]+): #([0-9a-f]{3}|[0-9a-f]{6});`).FindAllStringSubmatch(css, -1) {
		hex := m[2]
		if len(hex) == 3 {
			hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
		}
		v, _ := strconv.ParseUint(hex, 16, 32) // three or six digits of a colour always are a number
		linear := func(c uint64) float64 {
			f := float64(c&0xff) / 255
			if f <= 0.04045 {
				return f / 12.92
			}
			return math.Pow((f+0.055)/1.055, 2.4)
		}
		p[m[1]] = 0.2126*linear(v>>16) + 0.7152*linear(v>>8) + 0.0722*linear(v)
	}
	return p
}
