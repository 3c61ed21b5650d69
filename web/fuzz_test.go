package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
)

// FuzzPosted posts any body as somebody's form: the answer is a page for people, whole, and never a fault of ours.
func FuzzPosted(f *testing.F) {
	s := stocked(f)
	owner := s.as(people.Owner)
	path := owner.draft("Ferry buckler")
	form := owner.filled(path)
	f.Add("outline.shape=round&outline.diameter=50+cm&core.foam=mat-10&core.layers=2")
	f.Add(over(form, "outline.diameter", "1e308 cm").Encode())
	f.Add("pieces.0.d=M0%2C0+L100%2C100+L100%2C0+L0%2C100+Z&pieces.0.foam=half-5&pieces.99999999999999999999.name=x")
	f.Add("outline=1&outline.width=2&outline.width.x=3&outline..=4&.=5&=6&gems.0.at.-1.x=%ff&paint.00.colour=white")
	f.Add("name=%00%1b%5b31m&quantity=%E2%88%9E&delivery.by=9999-99-99&coat.coats=-0&core.former_radius=0")
	f.Fuzz(func(t *testing.T, body string) {
		if len(body) > bodyLimit/2 {
			t.Skip("the server refuses it by its size")
		}
		inside := *s
		inside.t = t
		v := &visitor{shop: &inside, cookies: owner.cookies, csrf: owner.csrf}
		for _, to := range []string{path, path + "/live"} {
			r := httptest.NewRequest(http.MethodPost, to, strings.NewReader(body+"&do=recompute&csrf="+url.QueryEscape(v.csrf)))
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			r.Header.Set("X-CSRF", v.csrf)
			a := v.send(r)
			if a.StatusCode >= 500 || a.StatusCode == http.StatusSeeOther {
				t.Fatalf("%s: %d %s", to, a.StatusCode, a.words())
			}
			a.see()
		}
	})
}
