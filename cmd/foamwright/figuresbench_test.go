package main

import (
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/jackc/pgx/v5"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db/dbtest"
)

// BenchmarkFigures is what an owner waits for at the figures: whole pages, from request to the last byte, of books of
// 500, 5 000 and 50 000 orders with twenty and more movements each (see grown). Every page below /figures that the
// program has is measured, its files too. The 95th of 100 is to be under 300 ms at each size: printed, never asserted.
//
//	go test -run '^$' -bench Figures ./cmd/foamwright                # all sizes, some minutes
//	go test -run '^$' -bench 'Figures/orders-500$' ./cmd/foamwright  # the smallest
func BenchmarkFigures(b *testing.B) {
	for _, orders := range []int{500, 5_000, 50_000} {
		b.Run(fmt.Sprintf("orders-%d", orders), func(b *testing.B) {
			at := dbtest.URL(b)
			p := &program{in: strings.NewReader(""), out: io.Discard, err: io.Discard, getenv: func(string) string { return "" }, now: time.Now, log: slog.New(slog.DiscardHandler)}
			shop, err := p.open(b.Context(), settings{databaseURL: at}, theDemo())
			fatal(b, err)
			b.Cleanup(shop.close)
			_, err = demo.LoadWithHistory(b.Context(), shop.books(p.now))
			fatal(b, err)
			began := time.Now()
			grown(b, at, orders)
			b.Logf("%s in %s", rows(b, at), time.Since(began).Round(time.Second/10))
			app, err := p.app(b.Context(), settings{}, shop, "")
			fatal(b, err)
			owner, err := demo.Owner(b.Context(), shop.people)
			fatal(b, err)
			link, _, err := shop.people.NewLink(b.Context(), owner.ID)
			fatal(b, err)
			cookie := signedIn(b, app, "/link/"+link)
			for _, page := range figuresPages(b, app, at) {
				b.Run(strings.ReplaceAll(strings.TrimPrefix(page, "/"), "/", "_"), func(b *testing.B) { waited(b, app, page, cookie) })
			}
		})
	}
}

// waited measures a page, twenty times at least: of fewer there is no 95th of 100.
func waited(b *testing.B, app *fiber.App, page, cookie string) {
	var took []time.Duration
	size := 0
	ask := func() {
		began := time.Now()
		r := httptest.NewRequest(http.MethodGet, page, nil)
		r.Header.Set("Cookie", cookie)
		status, body := answered(b, app, r)
		for status == http.StatusTooManyRequests { // a page quicker than a person may ask
			b.StopTimer()
			time.Sleep(time.Second)
			b.StartTimer()
			began = time.Now()
			status, body = answered(b, app, r.Clone(b.Context()))
		}
		took = append(took, time.Since(began))
		if size = len(body); status != http.StatusOK {
			b.Fatal(page, status, body)
		}
	}
	for b.Loop() {
		ask()
	}
	for len(took) < 20 {
		ask()
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)*95/100].Microseconds())/1000, "p95-ms")
	b.ReportMetric(float64(size)/1024, "kB")
}

// figuresPages are the pages below /figures as the program routes them, each once: of a design, an order or a month
// one that the books have.
func figuresPages(b *testing.B, app *fiber.App, at string) (pages []string) {
	b.Helper()
	conn, err := pgx.Connect(b.Context(), at)
	fatal(b, err)
	defer func() { fatal(b, conn.Close(b.Context())) }()
	var design, order string
	fatal(b, conn.QueryRow(b.Context(), `SELECT (SELECT id::text FROM design WHERE name = 'Reed oval'), (SELECT id::text FROM sales_order WHERE state = 'done' ORDER BY accepted DESC LIMIT 1)`).Scan(&design, &order))
	month := time.Now().AddDate(0, -2, 0).Format("2006-01")
	fill := strings.NewReplacer(":design", design, ":order", order, ":month", month, ":id", design)
	for _, r := range app.GetRoutes(true) {
		if r.Method != http.MethodGet || r.Path != "/figures" && !strings.HasPrefix(r.Path, "/figures/") {
			continue
		}
		if page := fill.Replace(r.Path); !slices.Contains(pages, page) {
			pages = append(pages, page)
		}
	}
	// All designs side by side.
	rows, err := conn.Query(b.Context(), "SELECT 'design=' || id FROM design ORDER BY id LIMIT 8")
	fatal(b, err)
	designs, err := pgx.CollectRows(rows, pgx.RowTo[string])
	fatal(b, err)
	pages = append(pages, "/figures/compare?"+strings.Join(designs, "&"))
	// Documents of the largest figures, of a month and of a year.
	last := time.Now().AddDate(0, -2, 0)
	first := time.Date(last.Year(), last.Month(), 1, 0, 0, 0, 0, time.UTC)
	for _, what := range []string{"taken", "stock", "owed", "at+bench", "worked", "finished"} {
		pages = append(pages, "/figures/documents?what="+what+"&from="+first.Format(time.DateOnly)+"&to="+first.AddDate(0, 1, -1).Format(time.DateOnly))
	}
	for _, what := range []string{"taken", "ordered", "tax"} {
		pages = append(pages, "/figures/documents?what="+what+"&from="+first.AddDate(0, -11, 0).Format(time.DateOnly)+"&to="+first.AddDate(0, 1, -1).Format(time.DateOnly))
	}
	return pages
}

// rows says how large the books are.
func rows(b *testing.B, at string) string {
	b.Helper()
	conn, err := pgx.Connect(b.Context(), at)
	fatal(b, err)
	defer func() { fatal(b, conn.Close(b.Context())) }()
	var says string
	fatal(b, conn.QueryRow(b.Context(), `SELECT format('%s orders, %s quotes, %s invoices, %s payments, %s logs, %s movements, %s', (SELECT count(*) FROM sales_order), (SELECT count(*) FROM quote), (SELECT count(*) FROM invoice),
		(SELECT count(*) FROM payment), (SELECT count(*) FROM time_log), (SELECT count(*) FROM movement), pg_size_pretty(pg_database_size(current_database())))`).Scan(&says))
	return says
}
