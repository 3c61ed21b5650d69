package api_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/api"
	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/cmd/foamwright/demo"
	"foamwright/db/dbtest"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"

	"github.com/gofiber/fiber/v2"
)

// today is when every test plays: a Thursday.
var today = time.Date(2026, 3, 5, 10, 0, 0, 0, time.UTC)

// shop is the API of the demo workshop as cmd would join it, on a real database, with a token for everybody.
type shop struct {
	t        *testing.T
	app      *fiber.App
	document document
	tokens   map[people.Role]string
	sales    *sales.Service
	paper    *paper
	log      *safeBuffer
	answered map[string]bool // operations that were answered as asked
}

// safeBuffer is a log that requests may write at the same time.
type safeBuffer struct {
	mu sync.Mutex
	bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.Buffer.Write(p)
}

// paper renders a sheet as a few lines, and jams when told to.
type paper struct {
	sales.Renderer // of what these tests do not print
	jammed         bool
}

func (p *paper) Quote(_ context.Context, s sales.Sheet) ([]byte, error) {
	if p.jammed {
		return nil, errors.New("printer 10.1.2.3: password of mara refused")
	}
	return fmt.Appendf(nil, "%%PDF-1.7\n%s, version %d: %s for %s, %s\n", s.Number, s.Version, s.Title, s.Customer.Name, s.Estimate.Price.Gross), nil
}

func (p *paper) JobSheet(context.Context, sales.JobSheet) ([]byte, error) {
	return []byte("%PDF-1.7\n"), nil
}

func (p *paper) Letter(_ context.Context, l sales.Letter) ([]byte, error) {
	return fmt.Appendf(nil, "%%PDF-1.7\n%s: %s\n", l.Name, l.Title), nil
}

func (p *paper) Invoice(_ context.Context, i sales.Invoice) ([]byte, error) {
	return fmt.Appendf(nil, "%%PDF-1.7\n%s %s: %s\n", i.Kind, i.Number, i.Totals.Gross), nil
}

func (p *paper) Picture(sales.Sheet) string { return "<svg/>" }

func open(t *testing.T, limit int) *shop {
	t.Helper()
	s := &shop{t: t, tokens: map[people.Role]string{}, paper: &paper{}, log: &safeBuffer{}, answered: map[string]bool{}}
	store := dbtest.New(t)
	fixed := func() time.Time { return today }
	service := sales.NewService(store.Sales(), s.paper, fixed)
	s.sales = service
	service.SetMailServer("mail.test:587")
	snap, err := demo.Snapshot(today)
	s.must(err)
	first := workshop.Usual()
	first.Head.Name, first.Head.Email, first.Terms, first.Figures = "Kestrel Yard Propworks", "bench@kestrel-yard.example", workshop.UsualTerms(), snap
	s.must(service.Begin(t.Context(), first, demo.Stock(today)))
	o := guard.Defaults()
	o.Anonymous.Burst = 1000 // every operation is asked by everybody at once
	o.People = people.New(store.People(), people.NewHasher(people.Params{Memory: 64, Passes: 1, Threads: 1}, 2, rand.Reader),
		people.DefaultPolicy(), o.Clock, rand.Reader)
	for _, role := range people.Roles() {
		p, err := o.People.Add(t.Context(), people.Entry{Login: string(role), Name: "The " + string(role), Role: role, Password: "three old boots"})
		s.must(err)
		_, s.tokens[role], err = o.People.NewToken(t.Context(), p.ID, "test")
		s.must(err)
	}
	g := guard.New(o)
	s.app = fiber.New(fiber.Config{Immutable: true, DisableStartupMessage: true, UnescapePath: true, BodyLimit: limit,
		ErrorHandler: problem.Writer{Log: slog.New(slog.NewTextHandler(s.log, nil))}.Write})
	g.Wrap(s.app)
	g.Close(s.app, append(api.Doors(), guard.Open(guard.SignInPath))...)
	s.app.Get(guard.SignInPath, func(c *fiber.Ctx) error { return c.SendString(g.CSRFToken(c)) })
	s.app.Post(guard.SignInPath, func(c *fiber.Ctx) error {
		if err := g.SignIn(c, c.FormValue("login"), c.FormValue("password")); err != nil {
			return err
		}
		return c.SendString(g.CSRFToken(c))
	})
	s.must(api.Register(s.app, api.Services{Sales: service, List: stock.NewCatalogue(store.Catalogue(), fixed), Shelf: stock.NewService(store.Stock(), fixed), Figures: figures.NewService(store.Figures(), service, s.paper, fixed)}, g))
	s.must(json.Unmarshal([]byte(s.ask("GET", "/openapi.json", "", "", nil).body), &s.document))
	return s
}

func (s *shop) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

// reply is what came back, read to its end.
type reply struct {
	*http.Response
	t    *testing.T
	body string
}

// ask sends a request below the API's path; headers are name, value, name, value.
func (s *shop) ask(method, path, token, body string, headers []string) reply {
	s.t.Helper()
	return s.send(method, api.Path+path, token, body, headers)
}

func (s *shop) send(method, path, token, body string, headers []string) reply {
	s.t.Helper()
	r := httptest.NewRequest(method, "http://workshop.test"+path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	} else {
		r.Body = http.NoBody
	}
	if token != "" {
		r.Header.Set("Authorization", "Bearer "+token)
	}
	for i := 0; i < len(headers); i += 2 {
		if r.Header.Del(headers[i]); headers[i+1] != "" {
			r.Header.Set(headers[i], headers[i+1])
		}
	}
	w, err := s.app.Test(r, -1)
	s.must(err)
	text, err := io.ReadAll(w.Body)
	s.must(err)
	return reply{w, s.t, string(text)}
}

// as asks with the token of a role and holds the answer to the OpenAPI document.
func (s *shop) as(role people.Role, method, path, body string, headers ...string) reply {
	s.t.Helper()
	a := s.ask(method, path, s.tokens[role], body, headers)
	template, err := s.document.check(method, path, a)
	if err != nil {
		s.t.Errorf("%s %s answers %d, which is not as documented: %v\n%s", method, path, a.StatusCode, err, a.body)
	}
	if a.StatusCode < 400 {
		s.answered[template] = true
	}
	return a
}

// owner asks as the owner.
func (s *shop) owner(method, path, body string, headers ...string) reply {
	s.t.Helper()
	return s.as(people.Owner, method, path, body, headers...)
}

// want holds the reply to a status and reads its body into a value, when one is given.
func (a reply) want(status int, into any) reply {
	a.t.Helper()
	if a.StatusCode != status {
		a.t.Fatalf("%s %s: %d %s, want %d", a.Request.Method, a.Request.URL.Path, a.StatusCode, a.body, status)
	}
	if into != nil {
		if err := json.Unmarshal([]byte(a.body), into); err != nil {
			a.t.Fatalf("%v: %s", err, a.body)
		}
	}
	return a
}

// problem is the reply as a problem with this status.
func (a reply) problem(status int) problem.Body {
	a.t.Helper()
	var b problem.Body
	a.want(status, &b)
	if a.Header.Get("Content-Type") != problem.ContentType || b.Status != status || b.Title == "" || !strings.HasSuffix(b.Detail, ".") {
		a.t.Errorf("%s: %+v", a.Header.Get("Content-Type"), b)
	}
	return b
}
