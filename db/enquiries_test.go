package db_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/enquiry"
	"foamwright/pricing/sales"
)

var november = time.Date(2026, 11, 27, 10, 0, 0, 0, time.UTC)

// asking is the demo workshop with nobody in it, on 27 November 2026.
func asking(t *testing.T) (*db.DB, *sales.Service) {
	t.Helper()
	d := dbtest.New(t)
	s := sales.NewService(d.Sales(), nil, func() time.Time { return november })
	w, err := demo.Workshop(november)
	fatal(t, err)
	fatal(t, s.Begin(t.Context(), w, demo.Stock(november)))
	return d, s
}

func fatal(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

const wish = "A kite shield, 56 cm wide and 88 cm high, for Marshlight medium.\nThanks,\nIlse of the White Fen\nilse@white-fen.example"

func refusedFor(err error) string {
	for _, p := range fault.ProblemsOf(err) {
		return p.Field
	}
	return ""
}

func TestAnEnquiryBecomesAQuote(t *testing.T) {
	_, s := asking(t)
	ctx := t.Context()
	e, err := s.KeepEnquiry(ctx, sales.Enquiry{ID: uuid.NewString(), Words: wish, Answers: map[enquiry.Topic]string{enquiry.Latex: "no"}}, "Wren")
	fatal(t, err)
	if e.Name != "Ilse of the White Fen" || e.Mail != "ilse@white-fen.example" || e.State != sales.EnquiryNew || e.Answers[enquiry.Latex] != "no" {
		t.Errorf("%+v", e.Enquiry)
	}
	asked, err := s.Asked(ctx, e.ID, e.Edit, e.Wording("Kestrel Yard Propworks"))
	fatal(t, err)
	if asked.State != sales.EnquiryAsked || !asked.Asked.Equal(november) || !strings.Contains(asked.Letter, "Hello Ilse of the White Fen,") {
		t.Errorf("%+v", asked.Enquiry)
	}
	q, err := s.QuoteEnquiry(ctx, e.ID, "")
	fatal(t, err)
	c, err := s.Customer(ctx, q.CustomerID)
	fatal(t, err)
	if c.Email != e.Mail || c.Language != "en" || q.Form.Outline.Width.String() != "56 cm" || q.Form.Rule.String() != "marsh-medium" || q.Form.Coat.System.String() != "latex" {
		t.Errorf("%+v %+v", c, q.Form)
	}
	again, err := s.QuoteEnquiry(ctx, e.ID, sales.NewCustomer) // pressed twice
	fatal(t, err)
	if again.ID != q.ID {
		t.Error("a second quote was made")
	}
	of, notes, found, err := s.EnquiryOf(ctx, q)
	fatal(t, err)
	if !found || of.ID != e.ID || of.Quote.ID != q.ID || !strings.Contains(notes["grip.hand"], "arm") || notes["coat.system"] != "" {
		t.Errorf("found %v: %+v %v", found, of.Enquiry, notes)
	}
	if err := s.ForgetEnquiry(ctx, e.ID); fault.KindOf(err) != fault.State {
		t.Errorf("what belongs to a quote was deleted: %v", err)
	}
	fatal(t, s.Discard(ctx, q.ID))
	back, err := s.Enquiry(ctx, e.ID)
	fatal(t, err)
	if back.State != sales.EnquiryAsked || back.QuoteID != "" {
		t.Errorf("after its draft was thrown away: %+v", back.Enquiry)
	}
	// The next one with the same mail address is offered the customer, and never becomes it silently.
	second, err := s.KeepEnquiry(ctx, sales.Enquiry{Words: strings.ReplaceAll(wish, "ilse@", "Ilse@")}, "Wren")
	fatal(t, err)
	if len(second.Same) != 1 || second.Same[0].ID != c.ID {
		t.Fatalf("offered %+v", second.Same)
	}
	if _, err := s.QuoteEnquiry(ctx, second.ID, ""); refusedFor(err) != "customer" {
		t.Errorf("merged silently: %v", err)
	}
	q, err = s.QuoteEnquiry(ctx, second.ID, c.ID)
	fatal(t, err)
	if q.CustomerID != c.ID {
		t.Error("not the one that was chosen")
	}
	third, err := s.KeepEnquiry(ctx, sales.Enquiry{Words: wish}, "Wren")
	fatal(t, err)
	q, err = s.QuoteEnquiry(ctx, third.ID, sales.NewCustomer)
	fatal(t, err)
	if q.CustomerID == c.ID {
		t.Error("a new customer was asked for")
	}
	if all, err := s.Customers(ctx, sales.Found{}); err != nil || len(all) != 2 {
		t.Errorf("%d customers, %v", len(all), err)
	}
}

func TestEnquiriesThatAreNotTaken(t *testing.T) {
	_, s := asking(t)
	ctx := t.Context()
	answer := func(about enquiry.Topic, value string) sales.Enquiry {
		return sales.Enquiry{Words: "a shield", Answers: map[enquiry.Topic]string{about: value}}
	}
	for field, e := range map[string]sales.Enquiry{
		"words":            {Words: " \n"},
		"mail":             {Words: "a shield", Mail: "ilse at the fen"},
		"name":             {Words: "a shield", Name: strings.Repeat("x", 121)},
		"language":         {Words: "a shield", Language: "xx"},
		"answers.width":    answer(enquiry.Width, "80"),
		"answers.date":     answer(enquiry.Date, "2020-01-01"),
		"answers.latex":    answer(enquiry.Latex, "maybe"),
		"answers.hand":     answer(enquiry.Hand, "both"),
		"answers.quantity": answer(enquiry.Quantity, "0"),
		"answers.budget":   answer(enquiry.Budget, strings.Repeat("9", 200)),
		"answers.wobble":   answer("wobble", "yes"),
	} {
		if _, err := s.KeepEnquiry(ctx, e, "Wren"); refusedFor(err) != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	if _, err := s.KeepEnquiry(ctx, sales.Enquiry{Words: strings.Repeat("é", enquiry.MaxWords+1)}, "Wren"); refusedFor(err) != "words" {
		t.Error(err)
	}
	_, err := s.KeepEnquiry(ctx, sales.Enquiry{Words: strings.Repeat("é", enquiry.MaxWords)}, "Wren")
	fatal(t, err)

	// Two at once: one wins, the other is told; nothing is overwritten.
	e, err := s.KeepEnquiry(ctx, sales.Enquiry{ID: uuid.NewString(), Words: "a shield"}, "Wren")
	fatal(t, err)
	var wait sync.WaitGroup
	told := make([]error, 6)
	for i := range told {
		wait.Go(func() {
			mine := e.Enquiry
			mine.Words = fmt.Sprint("a shield, said by ", i)
			_, told[i] = s.KeepEnquiry(ctx, mine, "Wren")
		})
	}
	wait.Wait()
	won := 0
	for _, err := range told {
		if err == nil {
			won++
		} else if fault.KindOf(err) != fault.Conflict {
			t.Error(err)
		}
	}
	if won != 1 {
		t.Errorf("%d won", won)
	}
	closed, err := s.Enquiry(ctx, e.ID)
	fatal(t, err)
	if _, err := s.CloseEnquiry(ctx, e.ID, closed.Edit, " "); refusedFor(err) != "reason" {
		t.Error(err)
	}
	closed, err = s.CloseEnquiry(ctx, e.ID, closed.Edit, "found another maker")
	fatal(t, err)
	if _, err := s.QuoteEnquiry(ctx, e.ID, ""); fault.KindOf(err) != fault.State {
		t.Error(err)
	}
	if _, err := s.Asked(ctx, e.ID, closed.Edit, "How wide?"); fault.KindOf(err) != fault.State {
		t.Error(err)
	}
	reopened, err := s.ReopenEnquiry(ctx, e.ID, closed.Edit)
	fatal(t, err)
	if reopened.State != sales.EnquiryNew || reopened.Reason != "" {
		t.Errorf("%+v", reopened.Enquiry)
	}
	if _, err := s.QuoteEnquiry(ctx, e.ID, ""); refusedFor(err) != "name" {
		t.Errorf("nobody's quote: %v", err)
	}
	fatal(t, s.ForgetEnquiry(ctx, e.ID))
	if _, err := s.Enquiry(ctx, e.ID); fault.KindOf(err) != fault.NotFound {
		t.Error(err)
	}
}

// An enquiry that is pressed into a quote by many at once becomes one, with one customer.
func TestManyPressesMakeOneQuote(t *testing.T) {
	_, s := asking(t)
	ctx := t.Context()
	id := uuid.NewString()
	var wait sync.WaitGroup
	quotes := make([]string, 8)
	for i := range quotes {
		wait.Go(func() {
			if _, err := s.KeepEnquiry(ctx, sales.Enquiry{ID: id, Words: wish}, "Wren"); err != nil && fault.KindOf(err) != fault.Conflict {
				t.Error(err)
			}
			q, err := s.QuoteEnquiry(ctx, id, sales.NewCustomer)
			if err != nil {
				t.Error(err)
			}
			quotes[i] = q.ID
		})
	}
	wait.Wait()
	for _, q := range quotes {
		if q != quotes[0] {
			t.Errorf("%v", quotes)
		}
	}
	customers, err := s.Customers(ctx, sales.Found{})
	fatal(t, err)
	all, err := s.Enquiries(ctx, sales.EnquiryFound{})
	fatal(t, err)
	if len(customers) != 1 || len(all) != 1 {
		t.Errorf("%d customers, %d enquiries", len(customers), len(all))
	}
}

func TestThePublicForm(t *testing.T) {
	_, s := asking(t)
	ctx := t.Context()
	visitor := sales.Enquiry{ID: uuid.NewString(), Words: "A round shield", Name: "Jonas", Mail: "jonas@tidewall.example", Language: "de",
		Answers: map[enquiry.Topic]string{enquiry.Event: "Marshlight large, 3rd edition"}}
	if err := s.TakeEnquiry(ctx, visitor); fault.KindOf(err) != fault.NotFound {
		t.Errorf("it is shut by default, but: %v", err)
	}
	w, err := s.Workshop(ctx)
	fatal(t, err)
	w.Enquiries.Open = true
	fatal(t, s.SetWorkshop(ctx, w, "Wren"))
	for range 2 { // a second press is no second enquiry
		fatal(t, s.TakeEnquiry(ctx, visitor))
	}
	e, err := s.Enquiry(ctx, visitor.ID)
	fatal(t, err)
	if e.By != "" || e.Language != "de" || e.Reading.Value(enquiry.Rule) != "marsh-large" || e.Answers[enquiry.Edition] == "" || !strings.Contains(e.Wording("x"), "Naturlatex") {
		t.Errorf("%+v\n%s", e.Enquiry, e.Wording("x"))
	}
	err = s.TakeEnquiry(ctx, sales.Enquiry{Words: "x", Language: "fr", Answers: map[enquiry.Topic]string{enquiry.Width: "80"}})
	if said := fmt.Sprint(fault.ProblemsOf(err)); !strings.Contains(said, "son unité") || !strings.Contains(said, "votre nom") {
		t.Errorf("not said in French, or not all at once: %s", said)
	}
	for i := range 99 {
		fatal(t, s.TakeEnquiry(ctx, sales.Enquiry{ID: uuid.NewString(), Words: fmt.Sprint("flood ", i), Name: "x", Mail: "x@y.example"}))
	}
	if err := s.TakeEnquiry(ctx, sales.Enquiry{ID: uuid.NewString(), Words: "one more", Name: "x", Mail: "x@y.example"}); fault.KindOf(err) != fault.TooMany {
		t.Errorf("no end: %v", err)
	}
}

func TestTheWaitingList(t *testing.T) {
	_, s := asking(t)
	ctx := t.Context()
	c, err := s.KeepCustomer(ctx, sales.Customer{Name: "Jonas Adler"})
	fatal(t, err)
	e, err := s.KeepEnquiry(ctx, sales.Enquiry{Words: wish}, "Wren")
	fatal(t, err)
	first, err := s.Wait(ctx, sales.Waiting{CustomerID: c.ID, Wish: "a heater", Since: stock.Day(november).AddDate(0, 0, -9), Note: "after the fair"}, "Wren")
	fatal(t, err)
	second, err := s.Wait(ctx, sales.Waiting{EnquiryID: e.ID}, "Wren")
	fatal(t, err)
	twice, err := s.Wait(ctx, sales.Waiting{EnquiryID: e.ID}, "Wren")
	fatal(t, err)
	if twice.ID != second.ID || second.Who != "Ilse of the White Fen" || !strings.HasPrefix(second.Wish, "Kite shield: ") || first.Who != "Jonas Adler" {
		t.Errorf("%+v %+v", first, second)
	}
	for field, w := range map[string]sales.Waiting{"who": {Wish: "x"}, "wish": {Who: "Mara"}, "since": {Who: "Mara", Wish: "x", Since: november.AddDate(0, 0, 2)}, "customer": {CustomerID: uuid.NewString(), Wish: "x"}} {
		if _, err := s.Wait(ctx, w, "Wren"); refusedFor(err) != field {
			t.Errorf("%s: %v", field, err)
		}
	}
	if e, err := s.Enquiry(ctx, e.ID); err != nil || !e.Waits {
		t.Errorf("%v %v", e.Waits, err)
	}
	turn, free, err := s.Next(ctx)
	fatal(t, err)
	if !free || turn.Waiting.ID != first.ID || turn.Behind != 1 || !turn.Free.Equal(stock.Day(november)) {
		t.Errorf("%v %+v", free, turn)
	}
	// While no new order is begun it is nobody's turn, until the day is near.
	w, err := s.Workshop(ctx)
	fatal(t, err)
	for days, want := range map[int]bool{30: false, 3: true, 0: true} {
		if w, err = s.Workshop(ctx); err == nil {
			w.NoOrdersBefore = stock.Day(november).AddDate(0, 0, days)
			err = s.SetWorkshop(ctx, w, "Wren")
		}
		fatal(t, err)
		if turn, free, err = s.Next(ctx); err != nil || free != want || free && turn.Free.Before(w.NoOrdersBefore) {
			t.Errorf("no orders before %d days from now: %v %v %v", days, free, turn.Free, err)
		}
	}
	if err := s.EndWait(ctx, first.ID, ""); refusedFor(err) != "reason" {
		t.Error(err)
	}
	fatal(t, s.EndWait(ctx, first.ID, "quoted"))
	fatal(t, s.EndWait(ctx, first.ID, "quoted again")) // pressed twice
	list, err := s.WaitingList(ctx, false)
	fatal(t, err)
	over, err := s.WaitingList(ctx, true)
	fatal(t, err)
	fatal(t, s.ForgetEnquiry(ctx, e.ID))
	if left, err := s.WaitingList(ctx, false); err != nil || len(left) != 0 {
		t.Errorf("who is forgotten still waits: %+v %v", left, err)
	}
	if len(list) != 1 || list[0].ID != second.ID || len(over) != 1 || over[0].Reason != "quoted" || !over[0].Since.Equal(first.Since) {
		t.Errorf("%+v %+v", list, over)
	}
}
