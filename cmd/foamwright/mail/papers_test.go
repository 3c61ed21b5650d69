package mail_test

import (
	"bytes"
	"crypto/rand"
	"strings"
	"testing"
	"time"

	"foamwright/cmd/foamwright/mail"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/sales"
)

// offers is a mail as it is offered, or why there is none.
func (o *office) offers(kind sales.MailKind, about string) (sales.MailDraft, string) {
	o.t.Helper()
	d, err := o.MailDraft(o.t.Context(), kind, about)
	if err != nil && fault.KindOf(err) != fault.State {
		o.t.Fatal(err)
	}
	if err != nil {
		return d, err.Error()
	}
	return d, ""
}

// posted sends a mail as it is offered and gives its parts as they arrived.
func (o *office) posted(b *box, kind sales.MailKind, about string) []part {
	o.t.Helper()
	d, why := o.offers(kind, about)
	if why != "" {
		o.t.Fatalf("%s: %s", kind, why)
	}
	was := len(b.kept())
	m, err := o.Post(o.t.Context(), sales.PostRequest{Token: rand.Text(), Kind: kind, About: about, To: d.To, Subject: d.Subject, Text: d.Text, Site: "https://bench.example"}, "Wren")
	fatal(o.t, err)
	o.until(m, "sent", sent)
	got := b.kept()
	if len(got) != was+1 {
		o.t.Fatalf("%s: %d mails arrived", kind, len(got)-was)
	}
	_, parts := parsed(o.t, got[was])
	return parts
}

// Everything about an order goes out with its own documents, to the byte, and only while there is something to send.
func TestPapersOfAnOrderAndItsMoney(t *testing.T) {
	t.Parallel()
	o := open(t)
	ctx := t.Context()
	taken, err := o.Accept(ctx, o.quote.ID, sales.Choice{Name: "Márton"}, "Wren")
	fatal(t, err)
	order := taken.Order
	b := (&box{}).start(t, "127.0.0.1:0")
	o.runs(mail.Sender{Server: b.to(t)})

	parts := o.posted(b, sales.MailConfirmation, order.ID)
	paper, err := o.Paper(ctx, order.ID, sales.ConfirmationPaper, 1)
	fatal(t, err)
	if len(parts) != 3 || parts[2].kind != "application/pdf" || parts[2].name != paper.Name || !bytes.Equal(parts[2].body, paper.Bytes) || !strings.Contains(string(parts[0].body), "Die Anzahlung bucht") {
		t.Errorf("the confirmation has %d parts: %s", len(parts), parts[0].body)
	}

	for _, kind := range []sales.MailKind{sales.MailChange, sales.MailApproval} {
		if _, why := o.offers(kind, order.ID); !strings.Contains(why, "waits for an answer, so there is nothing to send") {
			t.Errorf("%s: %q", kind, why)
		}
	}
	_, err = o.ShowDrawing(ctx, order.ID, "Bitte auf den Rand achten.", "Wren")
	fatal(t, err)
	parts = o.posted(b, sales.MailApproval, order.ID)
	if len(parts) != 3 || parts[2].kind != "image/svg+xml" || !bytes.HasPrefix(parts[2].body, []byte("<svg xmlns=")) || parts[2].name != "drawing-2026-1-round-1.svg" {
		t.Errorf("the drawing has %d parts, the last a %s called %s", len(parts), parts[2].kind, parts[2].name)
	}

	form, err := orderform.Parse([]byte(`{"name": "Target", "outline": {"shape": "round", "diameter": "30 cm"}, "core": {"foam": "mat-10", "layers": 2}}`))
	fatal(t, err)
	change, err := o.PriceChange(ctx, order.ID, form)
	fatal(t, err)
	note, err := o.OfferChange(ctx, order.ID, change.Order.Edit, change.After.Gross.String(), "Zwei Lagen", form, "Wren")
	fatal(t, err)
	parts = o.posted(b, sales.MailChange, order.ID)
	paper, err = o.Paper(ctx, order.ID, sales.ChangePaper, note.No)
	fatal(t, err)
	if len(parts) != 3 || !bytes.Equal(parts[2].body, paper.Bytes) {
		t.Errorf("the change has %d parts", len(parts))
	}

	i, err := o.Bill(ctx, order.ID, sales.Billing{Kind: sales.DepositBill, Token: rand.Text()}, "Wren")
	fatal(t, err)
	parts = o.posted(b, sales.MailInvoice, i.ID)
	if i.XML == "" {
		t.Errorf("the invoice has no XML: %s", i.NoXML)
	}
	if len(parts) != 4 || parts[2].kind != "application/pdf" || !bytes.HasPrefix(parts[2].body, []byte("%PDF-")) || parts[3].kind != "application/xml" || !bytes.HasPrefix(parts[3].body, []byte("<?xml")) {
		t.Errorf("the invoice has %d parts", len(parts))
	}
	if _, why := o.offers(sales.MailInvoiceReminder, i.ID); !strings.Contains(why, "is due on") {
		t.Errorf("it is reminded of before its day: %q", why)
	}
	o.later(60 * 24 * time.Hour)
	if parts = o.posted(b, sales.MailInvoiceReminder, i.ID); !strings.Contains(string(parts[0].body), "fällig; davon sind noch") || len(parts) != 4 {
		t.Errorf("the reminder is %s", parts[0].body)
	}
	_, err = o.Receive(ctx, order.ID, sales.Paying{Day: o.now(), Amount: i.Totals.Gross.Decimal(), Way: sales.ByTransfer, Token: rand.Text()}, "Wren")
	fatal(t, err)
	if _, why := o.offers(sales.MailInvoiceReminder, i.ID); !strings.Contains(why, "so there is nothing to remind of") {
		t.Errorf("what is paid is reminded of: %q", why)
	}

	if _, why := o.offers(sales.MailCare, order.ID); !strings.Contains(why, "handed over yet") {
		t.Errorf("a care sheet before the hand-over: %q", why)
	}
	now, err := o.Order(ctx, order.ID)
	fatal(t, err)
	if now.Order.State != sales.Booked {
		t.Fatalf("it is %s", now.Order.State)
	}
	_, err = o.Deliver(ctx, order.ID, now.Order.Edit, sales.Delivery{Day: o.now(), Pieces: 1, Way: "collected"}, "Wren")
	fatal(t, err)
	parts = o.posted(b, sales.MailCare, order.ID)
	paper, err = o.Paper(ctx, order.ID, sales.CarePaper, 1)
	fatal(t, err)
	if len(parts) != 3 || !bytes.Equal(parts[2].body, paper.Bytes) || !strings.Contains(string(parts[0].body), "wie Sie pflegen") {
		t.Errorf("the care sheet has %d parts: %s", len(parts), parts[0].body)
	}
}
