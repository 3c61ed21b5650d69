package main

import (
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/jackc/pgx/v5"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db/dbtest"
)

// BenchmarkShelfPages is what a maker waits for at the shelf: whole pages, from request to the last byte of HTML, as
// the owner reads them. Beside the demo the books have 5 000 items of 20 suppliers at two packs each, 100 000
// movements, and more items below their least than a list takes. The 95th of 100 is to be under 100 ms.
func BenchmarkShelfPages(b *testing.B) {
	at := dbtest.URL(b)
	p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.DiscardHandler)}
	shop, err := p.open(b.Context(), settings{databaseURL: at}, theDemo())
	fatal(b, err)
	b.Cleanup(shop.close)
	_, err = demo.Load(b.Context(), shop.books(p.now))
	fatal(b, err)
	crowd(b, at)
	app, err := p.app(b.Context(), settings{}, shop, "")
	fatal(b, err)
	owner, err := demo.Owner(b.Context(), shop.people)
	fatal(b, err)
	link, _, err := shop.people.NewLink(b.Context(), owner.ID)
	fatal(b, err)
	cookie := signedIn(b, app, "/link/"+link)
	for _, page := range []string{"/stock", "/stock?words=item+77", "/stock?from=4800", "/stock/item-77", "/stock/count", "/buying", "/today", "/orders"} {
		b.Run(strings.TrimPrefix(page, "/"), func(b *testing.B) {
			var took []time.Duration
			size := 0
			for b.Loop() {
				began := time.Now()
				r := httptest.NewRequest(http.MethodGet, page, nil)
				r.Header.Set("Cookie", cookie)
				status, body := answered(b, app, r)
				took = append(took, time.Since(began))
				if size = len(body); status != http.StatusOK {
					b.Fatal(status, body)
				}
			}
			slices.Sort(took)
			b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
			b.ReportMetric(float64(size)/1024, "kB")
		})
	}
}

// crowd fills the books at a database, past the program.
func crowd(b *testing.B, at string) {
	b.Helper()
	conn, err := pgx.Connect(b.Context(), at)
	fatal(b, err)
	for _, statement := range []string{
		`INSERT INTO item (code, kind, name, unit, place, body, least) SELECT 'item-' || n, 'liquid', 'Item ' || n, 'l', 1000 + n, json_build_object('Code', 'item-' || n, 'Name', 'Item ' || n, 'Use', 'latex'), n % 9 FROM generate_series(1, 5000) n`,
		`INSERT INTO balance (item, unit, currency) SELECT code, unit, 'EUR' FROM item ON CONFLICT DO NOTHING`,
		`INSERT INTO supplier SELECT gen_random_uuid(), 'Supplier ' || n, '', '', n FROM generate_series(1, 20) n`,
		`INSERT INTO offer (id, item, supplier, pack, article, usual) SELECT gen_random_uuid(), i.code, s.id, p, '', p = 5
			FROM item i JOIN (SELECT id, row_number() OVER () AS no FROM supplier WHERE name LIKE 'Supplier %') s ON s.no = i.place % 20 + 1, unnest(ARRAY[1, 5]) p WHERE i.place > 1000`,
		`INSERT INTO offer_price (offer, valid_from, amount, noted, noted_by) SELECT o.id, current_date - 20 * n, 10 + n, now(), '' FROM offer o JOIN item i ON i.code = o.item, generate_series(1, 4) n WHERE i.place > 1000`,
		`INSERT INTO lot (id, item, received, label) SELECT gen_random_uuid(), code, now() - interval '100 days', '' FROM item WHERE place > 1000`,
		`INSERT INTO movement (at, item, unit, currency, lot, kind, quantity, cost, lot_cost, note, by_whom)
			SELECT now() - n * interval '4 days', l.item, 'l', 'EUR', l.id, CASE WHEN n % 2 = 1 THEN 'receipt' ELSE 'issue' END,
				CASE WHEN n % 2 = 1 THEN 1.5 ELSE -1 END, CASE WHEN n % 2 = 1 THEN 15 ELSE -10 END, CASE WHEN n % 2 = 1 THEN 15 ELSE -10 END, '', 'wren'
			FROM generate_series(1, 20) n, lot l JOIN item i ON i.code = l.item WHERE i.place > 1000`,
		`VACUUM ANALYZE`, // as a running server does by itself
	} {
		if _, err := conn.Exec(b.Context(), statement); err != nil {
			b.Fatal(statement, err)
		}
	}
	fatal(b, conn.Close(b.Context()))
}

// signedIn opens a sign-in link and gives the session's cookie.
func signedIn(b *testing.B, app *fiber.App, link string) string {
	b.Helper()
	door := httptest.NewRequest(http.MethodGet, link, nil)
	page, err := app.Test(door, -1)
	fatal(b, err)
	html, err := io.ReadAll(page.Body)
	fatal(b, err)
	token := regexp.MustCompile(`name="csrf" value="([^"]+)"`).FindSubmatch(html)
	in := httptest.NewRequest(http.MethodPost, link, strings.NewReader(url.Values{"csrf": {string(token[1])}}.Encode()))
	in.Header.Set("Content-Type", fiber.MIMEApplicationForm)
	for _, c := range page.Cookies() {
		in.AddCookie(c)
	}
	opened, err := app.Test(in, -1)
	fatal(b, err)
	var cookies []string
	for _, c := range opened.Cookies() {
		if c.MaxAge >= 0 && c.Value != "" {
			cookies = append(cookies, c.Name+"="+c.Value)
		}
	}
	return strings.Join(cookies, "; ")
}

func answered(b *testing.B, app *fiber.App, r *http.Request) (int, string) {
	b.Helper()
	answer, err := app.Test(r, -1)
	fatal(b, err)
	body, err := io.ReadAll(answer.Body)
	fatal(b, err)
	return answer.StatusCode, string(body)
}
