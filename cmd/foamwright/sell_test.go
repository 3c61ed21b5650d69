package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/shopspring/decimal"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/pdf"
	"foamwright/pricing/sales"
)

// jamming prints for real, but for quotes whose title tells it to jam.
type jamming struct{ sales.Renderer }

func (j jamming) Quote(ctx context.Context, s sales.Sheet) ([]byte, error) {
	if strings.Contains(s.Title, "jam") {
		return nil, errors.New("the printer jams")
	}
	return j.Renderer.Quote(ctx, s)
}

// till is the demo workshop on a real database, at one fixed moment.
type till struct {
	*sales.Service
	t        testing.TB
	customer sales.Customer
	form     orderform.Form
	shown    sales.Shown // what every draft of the form costs
}

// openTill joins a pool of its own to the books at url. The form is a small round, so that issuing is quick.
func openTill(t testing.TB, url string) *till {
	t.Helper()
	books, err := db.Open(t.Context(), url)
	fatal(t, err)
	t.Cleanup(books.Close)
	printer, err := pdf.New()
	fatal(t, err)
	s := &till{Service: sales.NewService(books.Sales(), jamming{printer}, thursday), t: t}
	first, err := demo.Workshop(thursday())
	fatal(t, err)
	fatal(t, s.Begin(t.Context(), first, demo.Stock(thursday())))
	s.customer, err = s.KeepCustomer(t.Context(), sales.Customer{Name: "Mara Quist"})
	fatal(t, err)
	s.form, err = orderform.Parse([]byte(`{"name": "Target", "outline": {"shape": "round", "diameter": "30 cm"}, "core": {"foam": "mat-10", "layers": 1}}`))
	fatal(t, err)
	e, err := s.Estimate(t.Context(), "", s.form)
	fatal(t, err)
	s.shown = sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}
	return s
}

func (s *till) draft(title string) sales.Quote {
	s.t.Helper()
	q, err := s.NewQuote(s.t.Context(), s.customer.ID, title, s.form)
	fatal(s.t, err)
	return q
}

func (s *till) issue(id string) (sales.Quote, error) {
	return s.Issue(s.t.Context(), id, s.shown, "Wren Calloway")
}

// issued is a draft that was just issued.
func (s *till) issued(title string) sales.Quote {
	s.t.Helper()
	q, err := s.issue(s.draft(title).ID)
	fatal(s.t, err)
	return q
}

// kept fails unless an issued quote's document is there under its hash and is a PDF.
func (s *till) kept(q sales.Quote) []byte {
	s.t.Helper()
	doc, err := s.Document(s.t.Context(), q.ID)
	fatal(s.t, err)
	sum := sha256.Sum256(doc.Bytes)
	if hex.EncodeToString(sum[:]) != q.Document || !strings.HasPrefix(string(doc.Bytes), "%PDF-") {
		s.t.Errorf("the document of %s is not what was issued: %d bytes", q.Number, len(doc.Bytes))
	}
	return doc.Bytes
}

// together runs do for every i below n at the same time, eight at once.
func together(n int, do func(i int)) {
	work := make(chan int)
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for i := range work {
				do(i)
			}
		})
	}
	for i := range n {
		work <- i
	}
	close(work)
	all.Wait()
}

// Twenty-four drafts issued from two pools by eight at once, while every fifth one besides fails at the printer: the
// numbers are 1 to 24, none twice, none missing; what failed is still a draft and gets its number when it is tried
// again.
func TestNumbersHaveNoGaps(t *testing.T) {
	url := dbtest.URL(t)
	tills := []*till{openTill(t, url), openTill(t, url)}
	var drafts []sales.Quote
	for i := range 30 {
		title := fmt.Sprintf("Target %d", i)
		if i%5 == 4 {
			title += ", jam"
		}
		drafts = append(drafts, tills[0].draft(title))
	}
	var mu sync.Mutex
	var numbers []int
	together(len(drafts), func(i int) {
		q, err := tills[i%2].issue(drafts[i].ID)
		mu.Lock()
		defer mu.Unlock()
		switch jams := i%5 == 4; {
		case jams && (err == nil || fault.KindOf(err) != fault.Internal):
			t.Errorf("%s: %v", drafts[i].Title, err)
		case !jams && err != nil:
			t.Errorf("%s: %v", drafts[i].Title, err)
		case !jams:
			numbers = append(numbers, q.Number.No)
		}
	})
	for i := 4; i < len(drafts); i += 5 {
		q, err := tills[0].Quote(t.Context(), drafts[i].ID)
		fatal(t, err)
		if q.State != sales.Draft || q.Number.No != 0 {
			t.Fatalf("%s failed and is %s %s", q.Title, q.State, q.Number)
		}
		_, err = tills[0].SaveDraft(t.Context(), q.ID, q.Edit, q.CustomerID, "Target again", q.Form)
		fatal(t, err)
		q, err = tills[1].issue(q.ID)
		fatal(t, err)
		numbers = append(numbers, q.Number.No)
	}
	slices.Sort(numbers)
	for i, no := range numbers {
		if no != i+1 {
			t.Fatalf("the numbers are %v", numbers)
		}
	}
	all, err := tills[1].Quotes(t.Context(), sales.Found{Most: 100})
	fatal(t, err)
	if len(numbers) != 30 || len(all) != 30 {
		t.Errorf("%d numbers, %d quotes", len(numbers), len(all))
	}
	for _, q := range all {
		if q.State != sales.Issued || q.Number.Year != 2026 {
			t.Errorf("%s is %s", q.Number, q.State)
		}
		tills[0].kept(q)
	}
}

// Many issue the same draft at once: one issues it, the others get the same quote back. Two save the same draft at
// once: one is kept, the other told. Rounds enough that every order comes up.
func TestManyAtOnce(t *testing.T) {
	url := dbtest.URL(t)
	tills := []*till{openTill(t, url), openTill(t, url)}
	for round := range 50 {
		draft := tills[0].draft("Target")
		var mu sync.Mutex
		kept, told := 0, 0
		together(2, func(i int) {
			_, err := tills[i].SaveDraft(t.Context(), draft.ID, draft.Edit, draft.CustomerID, fmt.Sprintf("Hand %d", i), draft.Form)
			mu.Lock()
			defer mu.Unlock()
			switch {
			case err == nil:
				kept++
			case fault.KindOf(err) == fault.Conflict:
				told++
			default:
				t.Error(err)
			}
		})
		if kept != 1 || told != 1 {
			t.Fatalf("round %d: %d saved, %d were told", round, kept, told)
		}
		together(4, func(i int) {
			q, err := tills[i%2].issue(draft.ID)
			if err != nil || q.Number.No != round+1 || q.State != sales.Issued {
				t.Errorf("round %d: %s %s, %v", round, q.Number, q.State, err)
			}
		})
	}
}

// A price that moved since it was shown is not issued: the fault names both. Issued ones stay to the byte, a new
// version keeps the number and replaces the old one.
func TestAPriceThatMoved(t *testing.T) {
	url := dbtest.URL(t)
	s := openTill(t, url)
	before := s.issued("Target")
	paper := s.kept(before)
	before, err := s.Quote(t.Context(), before.ID)
	fatal(t, err)
	late := s.draft("Too late")

	w, err := s.Workshop(t.Context())
	fatal(t, err)
	w.Figures.Rates.Hour = decimal.NewFromInt(47)
	fatal(t, s.SetWorkshop(t.Context(), w, "wren"))

	e, err := s.Estimate(t.Context(), "", s.form)
	fatal(t, err)
	_, err = s.issue(late.ID)
	if fault.KindOf(err) != fault.Conflict || !strings.Contains(err.Error(), s.shown.Gross) || !strings.Contains(err.Error(), e.Price.Gross.String()) {
		t.Errorf("issued at a price that moved from %s to %s: %v", s.shown.Gross, e.Price.Gross, err)
	}
	after, err := s.Quote(t.Context(), before.ID)
	fatal(t, err)
	if string(s.kept(after)) != string(paper) || fmt.Sprintf("%+v", after) != fmt.Sprintf("%+v", before) {
		t.Errorf("an issued quote moved with the price:\n%+v\n%+v", before, after)
	}

	next, err := s.Revise(t.Context(), before.ID)
	fatal(t, err)
	s.shown = sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}
	next, err = s.issue(next.ID)
	fatal(t, err)
	old, err := s.Quote(t.Context(), before.ID)
	fatal(t, err)
	if next.Number != before.Number || next.Version != 2 || old.State != sales.Replaced || next.Gross.Equal(old.Gross) || string(s.kept(old)) != string(paper) {
		t.Errorf("version 2 is %s, %d; version 1 is %s, %s", next.Number, next.Version, old.State, old.Gross)
	}
	if q := s.issued("Next"); q.Number.No != before.Number.No+1 {
		t.Errorf("the number after a refusal and a version is %s", q.Number)
	}
}

// What was issued cannot be changed by hand either: the database refuses each of these.
func TestIssuedStaysByHand(t *testing.T) {
	url := dbtest.URL(t)
	s := openTill(t, url)
	q := s.issued("Target")
	s.draft("Another")
	hand, err := pgx.Connect(t.Context(), url)
	fatal(t, err)
	t.Cleanup(func() { _ = hand.Close(context.Background()) })
	for _, statement := range []string{
		"UPDATE quote SET gross = 1 WHERE no > 0", "UPDATE quote SET state = 'draft' WHERE no > 0", "UPDATE quote SET no = no + 1 WHERE no > 0",
		"UPDATE quote SET printed = '{}' WHERE no > 0", "UPDATE quote SET form = '{}', state = 'replaced' WHERE no > 0", "DELETE FROM quote WHERE no > 0",
		"UPDATE snapshot SET body = ''", "DELETE FROM snapshot", "UPDATE document SET bytes = ''", "UPDATE document SET name = 'x.pdf'", "DELETE FROM document",
		"TRUNCATE quote", "TRUNCATE quote, document, snapshot CASCADE",
	} {
		tag, err := hand.Exec(t.Context(), statement)
		var refused *pgconn.PgError
		// By our triggers (restrict_violation), or already since orders refer to it (feature_not_supported).
		if !errors.As(err, &refused) || refused.Code != "23001" && (refused.Code != "0A000" || statement != "TRUNCATE quote") {
			t.Errorf("%s: %v, %v", statement, tag, err)
		}
	}
	s.kept(q)
}
