package web_test

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"foamwright/api/guard"
	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/pdf"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"
	"foamwright/web"

	"github.com/gofiber/fiber/v2"
)

// bodyLimit is the one the program serves with.
const bodyLimit = 1 << 20

const password = "three old boots"

// key opens the page that makes the first owner.
const key = "key-of-the-one-who-started-it"

// shop is the pages as cmd joins them, on a real database and with the real printer.
type shop struct {
	t       testing.TB
	app     *fiber.App
	books   *db.DB
	sales   *sales.Service
	people  *people.Service
	printer *printer
	log     *safeBuffer
}

// printer is the PDF printer with a switch that jams it.
type printer struct {
	sales.Renderer
	jammed bool
}

func (p *printer) Quote(ctx context.Context, s sales.Sheet) ([]byte, error) {
	if p.jammed {
		return nil, errors.New("printer 10.1.2.3: password of mara refused")
	}
	return p.Renderer.Quote(ctx, s)
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

// open is a shop with the demo's figures and nobody and nothing in it.
func open(t testing.TB) *shop {
	t.Helper()
	return opened(t, dbtest.URL(t))
}

// opened is a shop on a database that may have something in it.
func opened(t testing.TB, url string) *shop {
	t.Helper()
	s := &shop{t: t, printer: &printer{}, log: &safeBuffer{}}
	store, err := db.Open(t.Context(), url)
	s.must(err)
	t.Cleanup(store.Close)
	s.books = store
	renderer, err := pdf.New()
	s.must(err)
	s.printer.Renderer = renderer
	s.sales = sales.NewService(store.Sales(), s.printer, time.Now)
	first, err := demo.Workshop(time.Now())
	s.must(err)
	first.Air = workshop.Usual().Air // else a wait goes by the month that the tests are run in
	s.must(s.sales.Begin(t.Context(), first, demo.Stock(time.Now())))
	o := guard.Defaults()
	s.people = people.New(store.People(), people.NewHasher(people.Params{Memory: 64, Passes: 1, Threads: 1}, 2, rand.Reader),
		people.DefaultPolicy(), o.Clock, rand.Reader)
	o.People = s.people
	o.Anonymous, o.SignedIn = guard.Rate{Burst: 1e6, PerSecond: 1e6}, guard.Rate{Burst: 1e6, PerSecond: 1e6}
	g := guard.New(o)
	pages, err := web.New(t.Context(), web.Options{Sales: s.sales, List: stock.NewCatalogue(store.Catalogue(), time.Now), Shelf: stock.NewService(store.Stock(), time.Now), Figures: figures.NewService(store.Figures(), s.sales, s.printer, time.Now), People: s.people, Guard: g, Log: slog.New(slog.NewTextHandler(s.log, nil)), SetUpKey: key})
	s.must(err)
	s.app = fiber.New(fiber.Config{Immutable: true, DisableStartupMessage: true, UnescapePath: true, BodyLimit: bodyLimit, ErrorHandler: pages.Error})
	g.Wrap(s.app)
	pages.Open(s.app)
	g.Close(s.app, web.Doors()...)
	pages.Register(s.app)
	return s
}

// stocked is a shop with the demo's designs, three customers, one issued quote (of the least work, so that every
// test can have it) and a person of each role.
func stocked(t testing.TB) *shop {
	t.Helper()
	return opened(t, dbtest.Filled(t, "stocked", func(_ context.Context, url string) error {
		s := opened(t, url)
		defer s.books.Close()
		s.fill()
		return nil
	}))
}

func (s *shop) fill() {
	s.t.Helper()
	t := s.t
	for _, role := range people.Roles() {
		_, err := s.people.Add(t.Context(), people.Entry{Login: string(role), Name: "The " + string(role), Role: role, Password: password})
		s.must(err)
	}
	var customer sales.Customer
	for _, name := range []string{"Ilse of the White Fen", "Jonas Adler", "Mara Quist"} {
		kept, err := s.sales.KeepCustomer(t.Context(), sales.Customer{Name: name, Email: "somebody@white-fen.example"})
		s.must(err)
		customer = kept
	}
	for _, file := range []string{"heron-kite", "reed-oval", "tidewall-heater", "ferry-buckler"} {
		written, err := os.ReadFile("../cmd/foamwright/demo/designs/" + file + ".json")
		s.must(err)
		form, err := orderform.Parse(written)
		s.must(err)
		_, err = s.sales.KeepDesign(t.Context(), sales.Design{Name: form.Name.String(), Note: "Of the demo", Form: form})
		s.must(err)
		if file == "ferry-buckler" {
			s.issue(customer, form)
		}
	}
}

// issue issues a quote at the price it is estimated at.
func (s *shop) issue(customer sales.Customer, form orderform.Form) {
	s.t.Helper()
	q, err := s.sales.NewQuote(s.t.Context(), customer.ID, form.Name.String(), form)
	s.must(err)
	e, err := s.sales.Estimate(s.t.Context(), customer.ID, form)
	s.must(err)
	_, err = s.sales.Issue(s.t.Context(), q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "The owner")
	s.must(err)
}

func (s *shop) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

// visitor is a browser: it keeps cookies, and sends the form token of the latest page.
type visitor struct {
	*shop
	cookies map[string]string
	csrf    string
}

// visit is somebody at the door.
func (s *shop) visit() *visitor { return &visitor{shop: s, cookies: map[string]string{}} }

// as is a visitor who has signed in.
func (s *shop) as(role people.Role) *visitor {
	s.t.Helper()
	v := s.visit()
	v.get(guard.SignInPath).want(http.StatusOK)
	v.post(guard.SignInPath, url.Values{"login": {string(role)}, "password": {password}, "next": {"/"}}).want(http.StatusSeeOther)
	v.get("/account").want(http.StatusOK) // its form token is the session's
	return v
}

// reply is what came back, read to its end.
type reply struct {
	*http.Response
	t    testing.TB
	body string
	seen *sight // nil for what is no page
}

func (v *visitor) get(path string) reply {
	v.t.Helper()
	return v.send(httptest.NewRequest(http.MethodGet, path, nil))
}

// post sends fields as a browser does, with the form token unless they have one.
func (v *visitor) post(path string, fields url.Values) reply {
	v.t.Helper()
	sent := url.Values{"csrf": {v.csrf}}
	for name, typed := range fields {
		sent[name] = typed
	}
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(sent.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	return v.send(r)
}

func (v *visitor) send(r *http.Request) reply {
	v.t.Helper()
	for name, value := range v.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w, err := v.app.Test(r, -1)
	v.must(err)
	text, err := io.ReadAll(w.Body)
	v.must(err)
	for _, c := range w.Cookies() {
		if v.cookies[c.Name] = c.Value; c.MaxAge < 0 || c.Value == "" {
			delete(v.cookies, c.Name)
		}
	}
	a := newReply(v.t, w, string(text))
	if token := a.fields()["csrf"]; token != "" {
		v.csrf = token
	}
	return a
}

func newReply(t testing.TB, w *http.Response, body string) reply {
	t.Helper()
	a := reply{w, t, body, nil}
	if strings.HasPrefix(w.Header.Get("Content-Type"), "text/html") {
		a.seen = a.look()
	}
	return a
}

// want holds a reply to a status.
func (a reply) want(status int) reply {
	a.t.Helper()
	if a.StatusCode != status {
		a.t.Fatalf("%d, want %d: %s", a.StatusCode, status, a.words())
	}
	return a
}

// to is where the reply sends the browser.
func (a reply) to() string {
	a.t.Helper()
	return a.want(http.StatusSeeOther).Header.Get("Location")
}
