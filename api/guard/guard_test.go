package guard_test

import (
	"bytes"
	"crypto/rand"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"

	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/db/dbtest"
	"foamwright/pricing/people"

	"github.com/gofiber/fiber/v2"
)

const boots = "three old boots"

// shop is a small application behind the guard, with a real database and everybody who works there.
type shop struct {
	t      *testing.T
	app    *fiber.App
	people *people.Service
	ids    map[string]int64
	log    *safeBuffer
}

type safeBuffer struct {
	mu sync.Mutex
	bytes.Buffer
}

func (b *safeBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.Buffer.Write(p)
}

func open(t *testing.T, change func(*guard.Options)) *shop {
	o := guard.Defaults()
	s := &shop{t: t, log: &safeBuffer{}, ids: map[string]int64{}}
	s.people = people.New(dbtest.New(t).People(), people.NewHasher(people.Params{Memory: 64, Passes: 1, Threads: 1}, 2, rand.Reader),
		people.DefaultPolicy(), o.Clock, rand.Reader)
	for login, role := range map[string]people.Role{"mara": people.Owner, "jonas": people.Helper, "ilse": people.Bookkeeper} {
		p, err := s.people.Add(t.Context(), people.Entry{Login: login, Name: login, Role: role, Password: boots})
		if err != nil {
			t.Fatal(err)
		}
		s.ids[login] = p.ID
	}
	o.People = s.people
	if change != nil {
		change(&o)
	}
	g := guard.New(o)
	s.app = fiber.New(fiber.Config{Immutable: true, DisableStartupMessage: true, UnescapePath: true,
		ErrorHandler: problem.Writer{Log: slog.New(slog.NewTextHandler(s.log, nil))}.Write})
	s.routes(g)
	return s
}

func (s *shop) routes(g *guard.Guard) {
	g.Wrap(s.app)
	s.app.Get("/static/mark", func(c *fiber.Ctx) error { return c.SendString("mark") })
	g.Close(s.app, guard.Open("/sign-in"), guard.Open("/q"), guard.For("/stock", people.Helper), guard.For("/stock/prices", people.Bookkeeper),
		guard.For("/me"), guard.For("/"), guard.Open("/api/open"), guard.For("/api/stock", people.Helper))
	name := func(c *fiber.Ctx) error {
		p, ok := guard.Person(c)
		if !ok {
			return c.SendString("nobody")
		}
		return c.SendString(p.Name)
	}
	for _, path := range []string{"/", "/stock", "/stock/prices", "/stock/:lot", "/quotes", "/api/open", "/api/stock", "/api/quotes", "/q/:token"} {
		s.app.Get(path, name)
		s.app.Post(path, name)
	}
	s.app.Get("/me", func(c *fiber.Ctx) error { return c.SendString(g.CSRFToken(c)) })
	s.app.Post("/me", g.Require(people.Bookkeeper), name)
	s.app.Get("/sign-in", func(c *fiber.Ctx) error { return c.SendString(g.CSRFToken(c)) })
	s.app.Post("/sign-in", func(c *fiber.Ctx) error {
		if err := g.SignIn(c, c.FormValue("login"), c.FormValue("password")); err != nil {
			return err
		}
		return c.Redirect(guard.LocalPath(c.Query("next")), fiber.StatusSeeOther)
	})
	s.app.Post("/sign-in/link", func(c *fiber.Ctx) error { return g.UseLink(c, c.FormValue("token")) })
	s.app.Post("/me/sign-out", g.SignOut)
	s.app.Get("/q/panic/now", func(*fiber.Ctx) error { panic("the glue pot fell") })
	s.app.Get("/q/slow/now", func(c *fiber.Ctx) error { <-c.UserContext().Done(); return c.UserContext().Err() })
	s.app.Get("/q/paper/now", func(c *fiber.Ctx) error { return c.Type("pdf").SendString("%PDF-") })
}

// browser keeps cookies as a browser does.
type browser struct {
	*shop
	cookies map[string]string
}

func (s *shop) browser() *browser { return &browser{s, map[string]string{}} }

// answer is what came back, read to its end.
type answer struct {
	*http.Response
	body string
}

// do sends a request with the cookies kept; headers are name, value, name, value.
func (b *browser) do(method, path string, form url.Values, headers ...string) answer {
	b.t.Helper()
	var body io.Reader = http.NoBody
	if form != nil {
		body = strings.NewReader(form.Encode())
	}
	r := httptest.NewRequest(method, "http://workshop.test"+path, body)
	r.RequestURI = path
	if form != nil {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	for i := 0; i < len(headers); i += 2 {
		r.Header.Add(headers[i], headers[i+1])
	}
	for name, value := range b.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w, err := b.app.Test(r, -1)
	if err != nil {
		b.t.Fatal(err)
	}
	text, err := io.ReadAll(w.Body)
	if err != nil {
		b.t.Fatal(err)
	}
	for _, c := range w.Cookies() {
		if b.cookies[c.Name] = c.Value; c.Value == "" {
			delete(b.cookies, c.Name)
		}
	}
	return answer{w, string(text)}
}

// signIn goes through the form.
func (b *browser) signIn(login string) *browser {
	b.t.Helper()
	form := url.Values{"login": {login}, "password": {boots}, guard.TokenField: {b.do("GET", "/sign-in", nil).body}}
	if a := b.do("POST", "/sign-in", form); a.StatusCode != fiber.StatusSeeOther {
		b.t.Fatalf("sign in: %d %s", a.StatusCode, a.body)
	}
	return b
}

// token is the form token of whoever is signed in.
func (b *browser) token() string { return b.do("GET", "/me", nil).body }

func (a answer) want(t *testing.T, what string, status int) {
	t.Helper()
	if a.StatusCode != status {
		t.Errorf("%s: %d %s, want %d", what, a.StatusCode, a.body, status)
	}
}
