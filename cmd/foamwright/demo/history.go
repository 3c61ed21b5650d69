package demo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
)

// LoadWithHistory is Load with half a year of work before it, so that the figures have something to say.
func LoadWithHistory(ctx context.Context, b Books) (sales.Quote, error) {
	b.busy = true
	return Load(ctx, b)
}

// happening is something that was done so many days ago.
type happening struct {
	days int
	do   func(ctx context.Context) error
}

// happen does what happened in the order of its days: numbers and the ledger follow the calendar.
func happen(ctx context.Context, all []happening) error {
	slices.SortStableFunc(all, func(a, b happening) int { return b.days - a.days })
	for _, h := range all {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		if err := h.do(ctx); err != nil {
			return fmt.Errorf("%d days ago: %w", h.days, err)
		}
	}
	return nil
}

// teller turns tales into happenings. Quotes are written by one hand while another does what follows of them: neither
// needs more of the other than a quote that is there, so that both come out the same every time, and the demo opens
// sooner.
type teller struct {
	Books
	folk            map[string]string // ID of a customer, by name
	designs         map[string]sales.Design
	written, follow []happening
}

// history is what happened in the last half year, beside what else did.
func (b Books) history(ctx context.Context, known []sales.Customer) error {
	t := &teller{Books: b, folk: map[string]string{}, designs: map[string]sales.Design{}, follow: b.lately()}
	for _, c := range known {
		t.folk[c.Name] = c.ID
	}
	for _, c := range others() {
		kept, err := b.Sales(b.ago(190)).KeepCustomer(ctx, c)
		if err != nil {
			return err
		}
		t.folk[c.Name] = kept.ID
	}
	all, err := b.Sales(b.Now).Designs(ctx)
	if err != nil {
		return err
	}
	for _, d := range all {
		t.designs[d.Name] = d
	}
	t.written = append(t.written, happening{97, t.change})
	for _, story := range tales() {
		t.tell(story)
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	followed := make(chan error, 1)
	go func() {
		err := happen(ctx, t.follow)
		stop(err)
		followed <- err
	}()
	err = happen(ctx, t.written)
	if err != nil {
		stop(err)
	}
	return errors.Join(err, <-followed)
}

// older is a design as it was half a year ago: the Reed oval had a coat more of everything.
func older(name string, f orderform.Form) orderform.Form {
	if name == "Reed oval" {
		f.Coat.Coats, f.ClearCoats = orderform.T("4"), orderform.T("2")
	}
	return f
}

// change makes the Reed oval what it is today.
func (t *teller) change(ctx context.Context) error {
	d := t.designs["Reed oval"]
	d.Form.Coat.Coats, d.Form.ClearCoats = orderform.T("3"), orderform.T("1")
	kept, err := t.Sales(t.ago(97)).KeepDesign(ctx, d)
	t.designs[d.Name] = kept
	return err
}

// tell puts one quote and what came of it on its days.
func (t *teller) tell(s tale) {
	var q sales.Quote
	write := func(days int, do func(ctx context.Context) (sales.Quote, error)) {
		t.written = append(t.written, happening{days, func(ctx context.Context) (err error) {
			q, err = do(ctx)
			return err
		}})
	}
	write(s.began, func(ctx context.Context) (sales.Quote, error) { return t.begin(ctx, s) })
	write(s.issued, func(ctx context.Context) (sales.Quote, error) { return t.send(ctx, s.issued, q) })
	if s.again > 0 {
		write(s.again, func(ctx context.Context) (sales.Quote, error) { return t.revise(ctx, s.again, q) })
	}
	if s.answered == 0 {
		return
	}
	sent := make(chan sales.Quote, 1)
	t.written = append(t.written, happening{cmp.Or(s.again, s.issued), func(context.Context) error {
		sent <- q
		return nil
	}})
	t.answered(s, sent)
}

// revise sends a second version, which shall look worn.
func (t *teller) revise(ctx context.Context, days int, q sales.Quote) (sales.Quote, error) {
	books := t.Sales(t.ago(days))
	next, err := books.Revise(ctx, q.ID)
	if err != nil {
		return q, err
	}
	next.Form.Weathering = orderform.T("2")
	if next, err = books.SaveDraft(ctx, next.ID, next.Edit, next.CustomerID, next.Title, next.Form); err != nil {
		return q, err
	}
	return t.send(ctx, days, next)
}

// begin drafts the quote: from the customer's own words where there are some, else from the design.
func (t *teller) begin(ctx context.Context, s tale) (q sales.Quote, err error) {
	books, d := t.Sales(t.ago(s.began)), t.designs[s.design]
	if s.pieces != "" {
		d.Form.Quantity = orderform.T(s.pieces)
	}
	if s.words == "" {
		return books.NewQuoteOf(ctx, t.folk[s.customer], s.design, d)
	}
	e, err := books.KeepEnquiry(ctx, sales.Enquiry{Words: s.words}, wren)
	if err != nil {
		return q, err
	}
	if q, err = books.QuoteEnquiry(ctx, e.ID, t.folk[s.customer]); err != nil {
		return q, err
	}
	return books.SaveDraft(ctx, q.ID, q.Edit, q.CustomerID, s.design, d.Form)
}

// send issues a draft as it stands.
func (t *teller) send(ctx context.Context, days int, q sales.Quote) (sales.Quote, error) {
	books := t.Sales(t.ago(days))
	e, err := books.Estimate(ctx, q.CustomerID, q.Form)
	if err != nil {
		return q, err
	}
	return books.Issue(ctx, q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, wren)
}
