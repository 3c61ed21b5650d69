package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"foamwright/pricing/people"

	"pgregory.net/rapid"
)

// TestAnyPostIsAnswered: whatever is posted as a form, half right or none at all, the answer is a whole page for
// people and never a fault of ours. (A property, not a fuzz target: what the server's own goroutines cover differs
// from run to run, and the fuzzer would spend its time on that.)
func TestAnyPostIsAnswered(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	path := owner.draft("Ferry buckler")
	form := owner.filled(path)
	names := []string{"outline", "outline.width", "outline.width.x", "outline..", ".", "gems.0.at.-1.x", "paint.00.colour", "pieces.99999999999999999999.name", "pieces.0.d", "pieces.0.foam", "steps.0", "kind", "rim.width", "edge.foam", "back.seam_strip.width", "delivery.by"}
	for name := range form {
		names = append(names, name)
	}
	slices.Sort(names)
	values := []string{"", "0", "-0", "1e308", "NaN", "∞ cm", "80", "80 cm", "0.0001 mm", "99999999999 m", "yes", "M0,0 L100,100 L100,0 L0,100 Z", "M0,0", "M1e308,0 L0,1e308 Z", "mat-10", "round", "path", "half", "9999-99-99", "\x00\x1b[31m", "\xff\xfe", "</textarea><script>"}
	rapid.Check(t, func(r *rapid.T) {
		typed := url.Values{}
		if rapid.Bool().Draw(r, "from the page") {
			typed = over(form)
		}
		for range rapid.IntRange(0, 6).Draw(r, "changes") {
			value := rapid.OneOf(rapid.SampledFrom(values), rapid.StringN(0, 20, 60)).Draw(r, "value")
			typed[rapid.OneOf(rapid.SampledFrom(names), rapid.StringN(0, 10, 30)).Draw(r, "name")] = []string{value}
		}
		typed.Set("do", "recompute")
		typed.Set("csrf", owner.csrf)
		body := []byte(typed.Encode())
		for range rapid.IntRange(0, 3).Draw(r, "bytes") {
			body[rapid.IntRange(0, len(body)-1).Draw(r, "at")] = rapid.SampledFrom([]byte("0.-&=%+;aZ")).Draw(r, "byte")
		}
		for _, to := range []string{path + "/live", path} {
			q := httptest.NewRequest(http.MethodPost, to, strings.NewReader(string(body)))
			q.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			q.Header.Set("X-CSRF", owner.csrf)
			a := owner.send(q)
			if a.StatusCode >= 500 {
				r.Fatalf("%s: %d %s\n%s", to, a.StatusCode, a.words(), body)
			}
			if a.see(); t.Failed() {
				r.Fatalf("%s: no whole page\n%s", to, body)
			}
		}
	})
}
