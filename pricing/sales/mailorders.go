package sales

import (
	"context"
	"slices"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// orderMail is a mail about an order: its confirmation, the change that waits for an answer, or the drawing that does.
func (s *Service) orderMail(ctx context.Context, tx Tx, kind MailKind, id string, linked bool) (MailDraft, error) {
	o, err := tx.LockOrder(ctx, id)
	if err != nil {
		return MailDraft{}, err
	}
	if o.State == Cancelled {
		return MailDraft{}, ended(o)
	}
	q, err := tx.Quote(ctx, o.QuoteID)
	if err != nil {
		return MailDraft{}, err
	}
	c, err := tx.Customer(ctx, o.CustomerID)
	if err != nil {
		return MailDraft{}, err
	}
	f := MailFacts{Kind: kind, Customer: c, Number: o.Number, Title: o.Title, Sum: o.Totals().Gross, Linked: linked}
	var documents []string
	switch kind {
	case MailConfirmation:
		documents, err = paper(ctx, tx, id, ConfirmationPaper, 1)
		if o.State == Accepted && o.Deposit.Sign() > 0 {
			f.Until = o.DepositDue
		}
		f.Linked = false // there is nothing more to be said on the page
	case MailChange:
		documents, err = offered(ctx, tx, id)
	case MailApproval:
		err = shown(ctx, tx, id)
	}
	if err != nil {
		return MailDraft{}, err
	}
	d, err := s.compose(ctx, tx, f, id, documents...)
	if f.Linked {
		d.Page = q
	}
	return d, err
}

// paper is the hash of a document of an order.
func paper(ctx context.Context, tx Tx, order string, kind PaperKind, no int) ([]string, error) {
	papers, err := tx.Papers(ctx, order)
	if err != nil {
		return nil, err
	}
	i := slices.IndexFunc(papers, func(p OrderPaper) bool { return p.Kind == kind && p.No == no })
	if i < 0 {
		return nil, fault.New(fault.State, "The order has no such document, so there is nothing to send.")
	}
	return []string{papers[i].Document}, nil
}

// offered is the document of the change of an order that waits for its answer.
func offered(ctx context.Context, tx Tx, order string) ([]string, error) {
	notes, err := tx.ChangeNotes(ctx, order)
	if err != nil {
		return nil, err
	}
	if n := len(notes); n > 0 && notes[n-1].State == Offered {
		return []string{notes[n-1].Document}, nil
	}
	return nil, fault.New(fault.State, "No change of this order waits for an answer, so there is nothing to send.")
}

// shown tells whether a drawing waits for its answer.
func shown(ctx context.Context, tx Tx, order string) error {
	rounds, err := tx.Approvals(ctx, order)
	if err == nil && (len(rounds) == 0 || rounds[len(rounds)-1].Verdict != "") {
		err = fault.New(fault.State, "No drawing of this order waits for an answer, so there is nothing to send.")
	}
	return err
}

// invoiceMail is an invoice or a credit note with its documents, or a reminder of one that is open after its day.
func (s *Service) invoiceMail(ctx context.Context, tx Tx, kind MailKind, id string) (MailDraft, error) {
	i, err := tx.Invoice(ctx, id)
	if err != nil {
		return MailDraft{}, err
	}
	c, err := tx.Customer(ctx, i.CustomerID)
	if err != nil {
		return MailDraft{}, err
	}
	c.Name, c.Language = i.Buyer.Name, i.Language
	f := MailFacts{Kind: kind, Customer: c, Number: i.Number, Title: i.Title, Sum: i.Totals.Gross, Credit: i.Kind == CreditNote, XML: i.XML != ""}
	documents := []string{i.Document}
	if f.XML {
		documents = append(documents, i.XML)
	}
	if !f.Credit && i.Payable().Sign() > 0 {
		f.Until = i.Due
	}
	if kind == MailInvoiceReminder {
		if f.Sum, err = s.late(ctx, tx, i); err != nil {
			return MailDraft{}, err
		}
		f.Issued, f.Until = i.Issued, i.Due
	}
	return s.compose(ctx, tx, f, id, documents...)
}

// late is what is open of an invoice after its day.
func (s *Service) late(ctx context.Context, tx Tx, i Invoice) (money.Amount, error) {
	o, err := tx.LockOrder(ctx, i.OrderID) // no payment comes while it is reminded of
	if err != nil {
		return money.Amount{}, err
	}
	d, err := dues(ctx, tx, o)
	if err != nil {
		return money.Amount{}, err
	}
	owed, found := d.Bill(i.ID)
	switch {
	case !found || owed.Open.Sign() <= 0:
		return money.Amount{}, fault.New(fault.State, "Nothing of invoice %s is open, so there is nothing to remind of.", i.Number)
	case !owed.Late(s.now()):
		return money.Amount{}, fault.New(fault.State, "Invoice %s is due on %s. Remind of it after that day.", i.Number, i.Due.Format("2 January 2006"))
	}
	return owed.Open, nil
}
