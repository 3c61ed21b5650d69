package sales

import (
	"context"
	"fmt"
	"slices"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/money"
)

// orderMail is a mail about an order: its confirmation, the change that waits for an answer, the drawing that does, or the care
// sheet. They are answered by mail, or on the customer's page.
func (s *Service) orderMail(ctx context.Context, tx Tx, kind MailKind, id string) (MailDraft, error) {
	o, err := tx.LockOrder(ctx, id)
	if err != nil {
		return MailDraft{}, err
	}
	if o.State == Cancelled {
		return MailDraft{}, ended(o)
	}
	c, err := tx.Customer(ctx, o.CustomerID)
	if err != nil {
		return MailDraft{}, err
	}
	f := MailFacts{Kind: kind, Customer: c, Number: o.Number, Title: o.Title, Sum: o.Totals().Gross}
	var doc Document
	switch kind {
	case MailConfirmation:
		doc, err = kept(ctx, tx, id, ConfirmationPaper, "The order has no confirmation, so there is nothing to send.")
		if o.State == Accepted && o.Deposit.Sign() > 0 {
			f.Until = o.DepositDue
		}
	case MailChange:
		doc, err = offered(ctx, tx, id)
	case MailApproval:
		doc, err = shown(ctx, tx, o)
	case MailCare:
		doc, err = kept(ctx, tx, id, CarePaper, "Nothing of this order was handed over yet: its care sheet is printed with the first piece.")
	}
	if err != nil {
		return MailDraft{}, err
	}
	return s.compose(ctx, tx, f, id, doc)
}

// kept is the paper of an order of a kind there is one of; else a fault that says why there is none.
func kept(ctx context.Context, tx Tx, order string, kind PaperKind, none string) (Document, error) {
	papers, err := tx.Papers(ctx, order)
	if err != nil {
		return Document{}, err
	}
	i := slices.IndexFunc(papers, func(p OrderPaper) bool { return p.Kind == kind })
	if i < 0 {
		return Document{}, fault.New(fault.State, "%s", none)
	}
	return Document{Hash: papers[i].Document}, nil
}

// offered is the document of the change of an order that waits for its answer.
func offered(ctx context.Context, tx Tx, order string) (Document, error) {
	notes, err := tx.ChangeNotes(ctx, order)
	if err != nil {
		return Document{}, err
	}
	if n := len(notes); n > 0 && notes[n-1].State == Offered {
		return Document{Hash: notes[n-1].Document}, nil
	}
	return Document{}, fault.New(fault.State, "No change of this order waits for an answer, so there is nothing to send.")
}

// shown is the drawing of an order that waits for its answer.
func shown(ctx context.Context, tx Tx, o Order) (Document, error) {
	rounds, err := tx.Approvals(ctx, o.ID)
	if err != nil {
		return Document{}, err
	}
	if len(rounds) == 0 || rounds[len(rounds)-1].Verdict != "" {
		return Document{}, fault.New(fault.State, "No drawing of this order waits for an answer, so there is nothing to send.")
	}
	last := rounds[len(rounds)-1]
	picture := []byte(last.Picture)
	return Document{Hash: hash(picture), Name: fmt.Sprintf("%s-round-%d.svg", o.file("drawing"), last.Round), Bytes: picture}, nil
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
	documents := []Document{{Hash: i.Document}}
	if f.XML {
		documents = append(documents, Document{Hash: i.XML})
	}
	if !f.Credit && i.Payable().Sign() > 0 && !stock.Day(i.Due).Before(stock.Day(s.now())) {
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
