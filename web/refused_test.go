package web_test

import (
	"bufio"
	"fmt"
	"io"
	"maps"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/google/go-cmp/cmp"
	"github.com/shopspring/decimal"
)

// many are fields without end.
func many(name string, n int) []string {
	var typed []string
	for i := range n {
		typed = append(typed, fmt.Sprintf(name, i), "x")
	}
	return typed
}

func TestWhatIsNoSpecIsNeverKept(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Ferry buckler")
	form := v.filled(path)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	design := "/designs/" + designs[0].ID
	before, err := s.sales.Quote(t.Context(), strings.TrimPrefix(path, "/quotes/"))
	s.must(err)
	for _, c := range []struct {
		name  string
		typed []string
	}{
		{"unknown field", []string{"outline.wobble", "3"}},
		{"unknown group", []string{"<script>alert(1)</script>", "3"}},
		{"a group where a text belongs", []string{"outline.width.inner", "3"}},
		{"rows without numbers", []string{"pieces.first.name", "x"}},
		{"rows that start late", []string{"pieces.7.name", "x", "pieces.x.name", "y"}},
		{"thousands of rows", many("pieces.%d.name", 1000)},
		{"thousands of fields", many("field-%d", 1000)},
		{"a path as deep as it gets", []string{strings.Repeat("outline.", 500) + "width", "1"}},
	} {
		for _, do := range []string{"keep", "issue", "recompute"} {
			for _, at := range []string{path, design} {
				a := v.post(at, over(form, append(c.typed, "do", do, "title", "Ferry buckler")...))
				if a.StatusCode != http.StatusUnprocessableEntity || !strings.Contains(a.words(), "No price yet") {
					t.Errorf("%s, %s: %d %s", c.name, do, a.StatusCode, a.words())
				}
				for i := 0; i < len(c.typed); i += 2 {
					delete(form, c.typed[i]) // only what has a place in the form can be kept there
				}
				if lost := a.keeps(form); at == path && lost != nil {
					t.Errorf("%s, %s: lost %v", c.name, do, lost)
				}
				if len(a.body) > 1<<20 || strings.Contains(a.body, "<script>alert") {
					t.Errorf("%s, %s: %d bytes", c.name, do, len(a.body))
				}
			}
		}
	}
	after, err := s.sales.Quote(t.Context(), before.ID)
	s.must(err)
	kept, err := s.sales.Designs(t.Context())
	s.must(err)
	if diff := cmp.Diff(before, after) + cmp.Diff(designs, kept); diff != "" {
		t.Errorf("something was stored: %s", diff)
	}
}

func TestTooLargeAndForeignPostsAreRefused(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Ferry buckler")
	form := over(v.filled(path), "do", "keep", "title", "Changed")
	if a := s.tooLarge(path); a.StatusCode != http.StatusRequestEntityTooLarge || !strings.Contains(a.words(), "send less") {
		t.Errorf("10 MB: %d %s", a.StatusCode, a.words())
	}
	for name, token := range map[string]string{"none": "", "another": strings.Repeat("A", 43)} {
		a := v.post(path, over(form, "csrf", token)).want(http.StatusForbidden)
		if !strings.Contains(a.words(), "Load the page again") {
			t.Errorf("form token %s: %s", name, a.words())
		}
	}
	for header, value := range map[string]string{"Origin": "https://elsewhere.example", "Sec-Fetch-Site": "cross-site"} {
		form.Set("csrf", v.csrf)
		r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set(header, value)
		v.send(r).want(http.StatusForbidden)
	}
	q, err := s.sales.Quote(t.Context(), strings.TrimPrefix(path, "/quotes/"))
	s.must(err)
	if q.Edit != 0 || q.Title != "Ferry buckler" {
		t.Errorf("stored: %+v", q)
	}
}

// tooLarge announces a form of 10 MB on a real connection: app.Test gives the server's error instead of the answer.
func (s *shop) tooLarge(path string) reply {
	s.t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	s.must(err)
	go func() { _ = s.app.Listener(listener) }() // its end is Shutdown's
	defer func() { s.must(s.app.Shutdown()) }()
	conn, err := net.Dial("tcp", listener.Addr().String())
	s.must(err)
	defer conn.Close()
	_, err = fmt.Fprintf(conn, "POST %s HTTP/1.1\r\nHost: workshop.test\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: %d\r\n\r\n", path, 10<<20)
	s.must(err)
	w, err := http.ReadResponse(bufio.NewReader(conn), nil)
	s.must(err)
	defer w.Body.Close()
	text, err := io.ReadAll(w.Body)
	s.must(err)
	return newReply(s.t, w, string(text))
}

func TestTwoAtOnceLoseNothing(t *testing.T) {
	s := stocked(t)
	v, other := s.as(people.Owner), s.as(people.Owner)
	path := v.draft("Ferry buckler")
	mine, theirs := over(v.filled(path), "do", "keep"), over(other.filled(path), "do", "keep", "outline.diameter", "44 cm")
	if to := other.post(path, theirs).to(); to != path {
		t.Error(to)
	}
	// However often it is pressed, and whichever button: what the other one kept is not overwritten.
	mine = over(mine, "outline.diameter", "47 cm", "title", "Mine")
	for _, do := range []string{"keep", "keep", "issue"} {
		a := v.post(path, over(mine, "do", do)).want(http.StatusConflict)
		if lost := a.keeps(mine); lost != nil || !strings.Contains(a.words(), "Somebody else changed this quote") || !strings.Contains(a.body, "<span data-unsaved>") {
			t.Errorf("lost %v: %s", lost, a.words())
		}
		mine.Set("edit", a.fields()["edit"])
	}
	q, err := s.sales.Quote(t.Context(), strings.TrimPrefix(path, "/quotes/"))
	s.must(err)
	if q.Form.Outline.Diameter.String() != "44 cm" || q.State != sales.Draft {
		t.Errorf("the other's is gone: %+v", q)
	}
}

func TestIssuingThatFailsKeepsWhatWasTyped(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Owner)
	path := v.draft("Ferry buckler")
	typed := over(v.filled(path), "do", "issue", "outline.diameter", "47 cm", "title", "For the ferry")
	issued := func() int {
		found, err := s.sales.Quotes(t.Context(), sales.Found{})
		s.must(err)
		n := 0
		for _, q := range found {
			if q.State == sales.Issued {
				n++
			}
		}
		return n
	}
	before := issued()

	// The digest on the page is not that of what was typed after it: both prices are named.
	a := v.post(path, typed).want(http.StatusConflict)
	if lost := a.keeps(typed); lost != nil || !strings.Contains(a.words(), "you saw "+typed.Get("gross")) || issued() != before {
		t.Errorf("lost %v: %s", lost, a.words())
	}
	if strings.Contains(a.body, "<span data-unsaved>") {
		t.Error("it was kept, but is marked as not kept")
	}

	// A rate that moved in the meantime.
	w, err := s.sales.Workshop(t.Context())
	s.must(err)
	w.Figures.Rates.Hour = decimal.NewFromInt(40)
	s.must(s.sales.SetWorkshop(t.Context(), w, "wren"))
	typed = again(a, typed)
	a = v.post(path, typed).want(http.StatusConflict)
	if lost := a.keeps(typed); lost != nil || !strings.Contains(a.words(), "Look at it again, then issue") || issued() != before {
		t.Errorf("lost %v: %s", lost, a.words())
	}

	// A printer that jams is not the maker's fault, and its own words stay in the log.
	typed = again(a, typed)
	s.printer.jammed = true
	b := v.post(path, typed).want(http.StatusInternalServerError)
	if strings.Contains(b.body, "10.1.2.3") || strings.Contains(b.body, "mara refused") || !strings.Contains(s.log.String(), "10.1.2.3") || issued() != before {
		t.Error(b.words())
	}
	s.printer.jammed = false
	if got := v.filled(path); got.Get("outline.diameter") != "47 cm" || got.Get("title") != "For the ferry" {
		t.Errorf("what was typed is gone: %v", got)
	}

	// The same press again issues it, once.
	typed = over(v.filled(path), "do", "issue")
	if to := v.post(path, typed).to(); to != path || issued() != before+1 {
		t.Error(to)
	}
	if to := v.post(path, typed); to.StatusCode != http.StatusConflict || issued() != before+1 {
		t.Errorf("%d %s", to.StatusCode, to.words())
	}
	quotes, err := s.sales.Quotes(t.Context(), sales.Found{})
	s.must(err)
	last, count := map[int]int{}, map[int]int{} // by year: one may end while this runs
	for _, q := range quotes {
		if year := q.Number.Year; q.State == sales.Issued {
			last[year], count[year] = max(last[year], q.Number.No), count[year]+1
		}
	}
	if !maps.Equal(last, count) {
		t.Errorf("numbers have a gap: the last are %v, there are %v", last, count)
	}
}

// again is what a browser would send from the page that came back: the same entries, with that page's hidden ones.
func again(a reply, typed url.Values) url.Values {
	seen := a.fields()
	return over(typed, "edit", seen["edit"], "digest", seen["digest"], "gross", seen["gross"])
}
