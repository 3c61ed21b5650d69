package api

import (
	"context"
	"mime"
	"net/http"
	"strconv"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"

	"github.com/danielgtaylor/huma/v2"
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
	for _, d := range []struct {
		field, text string
		day         *time.Time
	}{{"from", n.From, &out.From}, {"to", n.To, &out.To}} {
		if d.text != "" {
			*d.day, err = date(d.field, d.text)
			_ = l.Take("", err)
		}
	}
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
	operation(f, huma.Operation{
		OperationID: "order-money", Method: http.MethodGet, Path: "/orders/{id}/money", Summary: "How the money of an order stands",
		Description: "Worked out from its lines, invoices and payments.",
	}, bookkeeper(), func(ctx context.Context, in *byID) (*answer[OrderMoney], error) {
		return f.moneyAnswer(f.Sales.Dues(ctx, in.ID))
	})
	taking(f, huma.Operation{
		OperationID: "issue-invoice", Method: http.MethodPost, Path: "/orders/{id}/invoices", Summary: "Issue an invoice of an order", Errors: []int{http.StatusConflict},
		DefaultStatus: http.StatusCreated,
		Description:   "An order is never invoiced above what it comes to: deposit, parts and balance sum to it in net, tax and gross. What asks for all of an order at once is its sale.",
	}, bookkeeper(), func(ctx context.Context, in *byID, e newInvoice) (*made[Invoice], error) {
		var l fault.List
		b := sales.Billing{Kind: sales.BillKind(e.Kind), Token: e.Token, Text: e.Text, Amount: figure(&l, "amount", e.Amount), Share: figure(&l, "share", e.Share)}
		if err := l.Err(); err != nil {
			return nil, err
		}
		i, err := f.Sales.Bill(ctx, in.ID, b, callOf(ctx).by)
		return &made[Invoice]{Path + "/invoices/" + i.ID, invoiceOf(i)}, err
	})
	taking(f, huma.Operation{
		OperationID: "note-payment", Method: http.MethodPost, Path: "/orders/{id}/payments", Summary: "Write down a payment or a refund", Errors: []int{http.StatusConflict},
		Description: "The payment that completes the deposit books the order: its material is promised for good.",
	}, bookkeeper(), func(ctx context.Context, in *byID, e newPayment) (*answer[OrderMoney], error) {
		var l fault.List
		p := sales.Paying{Amount: figure(&l, "amount", e.Amount), Way: sales.Way(e.Way), Note: e.Note, Token: e.Token}
		var err error
		p.Day, err = date("day", e.Day)
		_ = l.Take("", err) // always a fault
		if err := l.Err(); err != nil {
			return nil, err
		}
		return f.moneyAnswer(f.Sales.Receive(ctx, in.ID, p, callOf(ctx).by))
	})
	taking(f, huma.Operation{
		OperationID: "take-back-payment", Method: http.MethodPost, Path: "/orders/{id}/payments/{payment}/take-back", Summary: "Write down that a payment never was", Errors: []int{http.StatusConflict},
		Description: "Both stay in the books.",
	}, bookkeeper(), func(ctx context.Context, in *onePayment, e slip) (*answer[OrderMoney], error) {
		return f.moneyAnswer(f.Sales.TakeBack(ctx, in.ID, in.Payment, e.Note, e.Token, callOf(ctx).by))
	})
	operation(f, huma.Operation{
		OperationID: "list-payments", Method: http.MethodGet, Path: "/payments", Summary: "Payments, the newest first", Errors: []int{http.StatusUnprocessableEntity},
	}, bookkeeper(), func(ctx context.Context, in *moneyNarrowing) (*answer[paymentList], error) {
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
	operation(f, huma.Operation{
		OperationID: "list-invoices", Method: http.MethodGet, Path: "/invoices", Summary: "Invoices and credit notes, the newest first", Errors: []int{http.StatusUnprocessableEntity},
	}, bookkeeper(), func(ctx context.Context, in *moneyNarrowing) (*answer[invoiceList], error) {
		found, err := in.found()
		if err != nil {
			return nil, err
		}
		list, err := f.Sales.Invoices(ctx, found)
		return &answer[invoiceList]{invoiceList{each(list, invoiceRow)}}, err
	})
	operation(f, huma.Operation{
		OperationID: "invoice", Method: http.MethodGet, Path: "/invoices/{id}", Summary: "One invoice or credit note as it was issued",
	}, bookkeeper(), func(ctx context.Context, in *byID) (*answer[Invoice], error) {
		i, _, err := f.Sales.Invoice(ctx, in.ID)
		return &answer[Invoice]{invoiceOf(i)}, err
	})
	taking(f, huma.Operation{
		OperationID: "credit-invoice", Method: http.MethodPost, Path: "/invoices/{id}/credit", Summary: "Issue a credit note", Errors: []int{http.StatusConflict}, DefaultStatus: http.StatusCreated,
		Description: "An invoice is never credited above what is left of it.",
	}, bookkeeper(), func(ctx context.Context, in *byID, e newCredit) (*made[Invoice], error) {
		var l fault.List
		c := sales.Crediting{Amount: figure(&l, "amount", e.Amount), Lines: e.Lines, Reason: e.Reason, Token: e.Token}
		if err := l.Err(); err != nil {
			return nil, err
		}
		i, err := f.Sales.Credit(ctx, in.ID, c, callOf(ctx).by)
		return &made[Invoice]{Path + "/invoices/" + i.ID, invoiceOf(i)}, err
	})
	for _, doc := range []struct{ id, path, summary, media string }{
		{"invoice-document", "/invoices/{id}/document", "An invoice's PDF, as it was issued", "application/pdf"},
		{"invoice-xml", "/invoices/{id}/xml", "An invoice as UBL 2.1 by EN 16931, as it was issued", "application/xml"},
	} {
		operation(f, huma.Operation{
			OperationID: doc.id, Method: http.MethodGet, Path: doc.path, Summary: doc.summary, Errors: []int{http.StatusConflict},
			Responses: map[string]*huma.Response{
				strconv.Itoa(http.StatusOK):          {Description: "the document", Content: map[string]*huma.MediaType{doc.media: {}}},
				strconv.Itoa(http.StatusNotModified): {Description: "you have it already"},
			},
		}, bookkeeper(), func(ctx context.Context, in *documentRequest) (*documentAnswer, error) {
			d, err := f.Sales.InvoiceDocument(ctx, in.ID, doc.media == "application/xml")
			if err != nil {
				return nil, err
			}
			out, err := frozen(d, in.IfNoneMatch)
			if err == nil && out.ContentType != "" {
				out.ContentType = doc.media
			}
			return out, err
		})
	}
	for name, get := range map[string]func(context.Context, sales.MoneyFound) ([]byte, error){
		"invoices": func(ctx context.Context, m sales.MoneyFound) ([]byte, error) {
			list, err := f.Sales.Invoices(ctx, m)
			return sales.InvoicesCSV(list), err
		},
		"payments": func(ctx context.Context, m sales.MoneyFound) ([]byte, error) {
			list, err := f.Sales.Payments(ctx, m)
			return sales.PaymentsCSV(list), err
		},
	} {
		f.moneyFile(name, get)
	}
}

// moneyFile mounts a list as a file for bookkeeping: all there is, unless it is narrowed.
func (f *face) moneyFile(name string, get func(context.Context, sales.MoneyFound) ([]byte, error)) {
	operation(f, huma.Operation{
		OperationID: "read-" + name + "-file", Method: http.MethodGet, Path: "/" + name + csvEnd, Summary: "The " + name + " as a file for bookkeeping",
		Errors:    []int{http.StatusUnprocessableEntity},
		Responses: map[string]*huma.Response{"200": {Description: "CSV in UTF-8", Content: map[string]*huma.MediaType{csvUTF8: {}}}},
	}, bookkeeper(), func(ctx context.Context, in *moneyNarrowing) (*documentAnswer, error) {
		found, err := in.found()
		if err != nil {
			return nil, err
		}
		if in.Most == "" {
			found.Most = 0
		}
		data, err := get(ctx, found)
		return &documentAnswer{Status: http.StatusOK, ContentType: csvUTF8, Body: data,
			Disposition: mime.FormatMediaType("attachment", map[string]string{"filename": name + csvEnd})}, err
	})
}
