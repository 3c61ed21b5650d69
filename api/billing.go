package api

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// moneyNarrowing is how a list of invoices or payments is narrowed.
type moneyNarrowing struct {
	Words    string `query:"words" doc:"found anywhere in a name, title, number or reference"`
	Order    string `query:"order" doc:"only of this order"`
	Customer string `query:"customer" doc:"only of this customer"`
	From     string `query:"from" doc:"a day; only from it on"`
	To       string `query:"to" doc:"a day; only until it"`
	Most     most   `query:"most"`
}

func (n moneyNarrowing) found() (sales.MoneyFound, error) {
	f, err := narrowing{n.Words, n.Most}.found()
	out := sales.MoneyFound{Words: n.Words, Order: n.Order, Customer: n.Customer, Most: f.Most}
	var l fault.List
	_ = l.Take("", err) // always a fault
	out.From, out.To = optionalDay(&l, "from", n.From), optionalDay(&l, "to", n.To)
	return out, l.Err()
}

type newInvoice struct {
	Token  string `json:"token" minLength:"8" maxLength:"100" doc:"new for every invoice: asked for again with the same one, it gives the invoice that is there"`
	Kind   string `json:"kind" enum:"deposit,part,balance,sale"`
	Amount string `json:"amount,omitempty" doc:"with tax; of a part, or else share"`
	Share  string `json:"share,omitempty" doc:"of what the whole order comes to, 0.3 for 30 %"`
	Text   string `json:"text,omitempty" maxLength:"200" doc:"what a part is for"`
}

type newCredit struct {
	Token  string `json:"token" minLength:"8" maxLength:"100" doc:"new for every credit note"`
	Reason string `json:"reason" maxLength:"300"`
	Amount string `json:"amount,omitempty" doc:"with tax; without it and without lines, all that is left"`
	Lines  []int  `json:"lines,omitempty" doc:"places of the invoice's lines, from 0"`
}

type newPayment struct {
	Token  string `json:"token" minLength:"8" maxLength:"100" doc:"new for every payment: written down again with the same one it is one payment"`
	Day    string `json:"day" format:"date"`
	Amount string `json:"amount" doc:"above zero what came, below zero what was paid back"`
	Way    string `json:"way" enum:"transfer,cash,card,other"`
	Note   string `json:"note,omitempty" maxLength:"400"`
}

type slip struct {
	Token string `json:"token" minLength:"8" maxLength:"100"`
	Note  string `json:"note,omitempty" maxLength:"400"`
}

type onePayment struct {
	ID      string `path:"id" format:"uuid"`
	Payment string `path:"payment" format:"uuid"`
}

func (f *face) money() {
	operation(f, op("GET /orders/{id}/money", "order-money", "How the money of an order stands").also(people.Bookkeeper).
		saying("Worked out from its lines, invoices and payments."),
		func(ctx context.Context, in *byID) (*answer[OrderMoney], error) {
			return f.moneyAnswer(f.Sales.Dues(ctx, in.ID))
		})
	taking(f, op("POST /orders/{id}/invoices", "issue-invoice", "Issue an invoice of an order", conflict).created().also(people.Bookkeeper).
		saying("An order is never invoiced above what it comes to: deposit, parts and balance sum to it in net, tax and gross. What asks for all of an order at once is its sale."),
		func(ctx context.Context, in *byID, e newInvoice) (*made[Invoice], error) {
			var l fault.List
			b := sales.Billing{Kind: sales.BillKind(e.Kind), Token: e.Token, Text: e.Text, Amount: figure(&l, "amount", e.Amount), Share: figure(&l, "share", e.Share)}
			if err := l.Err(); err != nil {
				return nil, err
			}
			i, err := f.Sales.Bill(ctx, in.ID, b, callOf(ctx).by)
			return &made[Invoice]{Path + "/invoices/" + i.ID, invoiceOf(i)}, err
		})
	taking(f, op("POST /orders/{id}/payments", "note-payment", "Write down a payment or a refund", conflict).also(people.Bookkeeper).
		saying("The payment that completes the deposit books the order: its material is promised for good."),
		func(ctx context.Context, in *byID, e newPayment) (*answer[OrderMoney], error) {
			var l fault.List
			p := sales.Paying{Day: day(&l, "day", e.Day), Amount: figure(&l, "amount", e.Amount), Way: sales.Way(e.Way), Note: e.Note, Token: e.Token}
			if err := l.Err(); err != nil {
				return nil, err
			}
			return f.moneyAnswer(f.Sales.Receive(ctx, in.ID, p, callOf(ctx).by))
		})
	taking(f, op("POST /orders/{id}/payments/{payment}/take-back", "take-back-payment", "Write down that a payment never was", conflict).also(people.Bookkeeper).
		saying("Both stay in the books."),
		func(ctx context.Context, in *onePayment, e slip) (*answer[OrderMoney], error) {
			return f.moneyAnswer(f.Sales.TakeBack(ctx, in.ID, in.Payment, e.Note, e.Token, callOf(ctx).by))
		})
	operation(f, op("GET /payments", "list-payments", "Payments, the newest first", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *moneyNarrowing) (*answer[paymentList], error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			list, err := f.Sales.Payments(ctx, found)
			return &answer[paymentList]{paymentList{each(list, paymentOf)}}, err
		})
	f.invoices()
	f.owing()
}

func (f *face) moneyAnswer(d sales.Dues, err error) (*answer[OrderMoney], error) {
	if err != nil {
		return nil, err
	}
	return &answer[OrderMoney]{moneyOf(d, f.Sales.Now())}, nil
}

func (f *face) invoices() {
	operation(f, op("GET /invoices", "list-invoices", "Invoices and credit notes, the newest first", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *moneyNarrowing) (*answer[invoiceList], error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			list, err := f.Sales.Invoices(ctx, found)
			return &answer[invoiceList]{invoiceList{each(list, invoiceRow)}}, err
		})
	operation(f, op("GET /invoices/{id}", "invoice", "One invoice or credit note as it was issued").also(people.Bookkeeper),
		func(ctx context.Context, in *byID) (*answer[Invoice], error) {
			i, _, err := f.Sales.Invoice(ctx, in.ID)
			return &answer[Invoice]{invoiceOf(i)}, err
		})
	taking(f, op("POST /invoices/{id}/credit", "credit-invoice", "Issue a credit note", conflict).created().also(people.Bookkeeper).
		saying("An invoice is never credited above what is left of it."),
		func(ctx context.Context, in *byID, e newCredit) (*made[Invoice], error) {
			var l fault.List
			c := sales.Crediting{Amount: figure(&l, "amount", e.Amount), Lines: e.Lines, Reason: e.Reason, Token: e.Token}
			if l.Empty() && e.Amount != "" && c.Amount.IsZero() { // nothing is not all of it
				l.Add("amount", e.Amount, "Write an amount above 0, or leave it out to credit all that is left.")
			}
			if err := l.Err(); err != nil {
				return nil, err
			}
			i, err := f.Sales.Credit(ctx, in.ID, c, callOf(ctx).by)
			return &made[Invoice]{Path + "/invoices/" + i.ID, invoiceOf(i)}, err
		})
	for _, doc := range []struct{ id, route, summary, media string }{
		{"invoice-document", "GET /invoices/{id}/document", "An invoice's PDF, as it was issued", pdfType},
		{"invoice-xml", "GET /invoices/{id}/xml", "An invoice as UBL 2.1 by EN 16931, as it was issued", xmlType},
	} {
		operation(f, op(doc.route, doc.id, doc.summary, conflict).also(people.Bookkeeper).giving("The document, byte for byte as it was issued", doc.media).unlessHad(),
			func(ctx context.Context, in *documentRequest) (*documentAnswer, error) {
				d, err := f.Sales.InvoiceDocument(ctx, in.ID, doc.media == xmlType)
				return frozen(d, err, doc.media, in.IfNoneMatch)
			})
	}
	moneyFile(f, "invoices", f.Sales.Invoices, sales.InvoicesCSV)
	moneyFile(f, "payments", f.Sales.Payments, sales.PaymentsCSV)
}

// moneyFile mounts a list as a file for bookkeeping: all there is, unless it is narrowed.
func moneyFile[T any](f *face, name string, list func(context.Context, sales.MoneyFound) ([]T, error), write func([]T) []byte) {
	operation(f, op("GET /"+name+csvEnd, "read-"+name+"-file", "The "+name+" as a file for bookkeeping", invalid).also(people.Bookkeeper).giving("CSV in UTF-8", csvUTF8),
		func(ctx context.Context, in *moneyNarrowing) (*documentAnswer, error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			if in.Most == "" {
				found.Most = 0
			}
			all, err := list(ctx, found)
			return csvFile(name, write(all)), err
		})
}
