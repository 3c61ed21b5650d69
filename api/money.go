package api

import (
	"time"

	"foamwright/pricing/sales"
	"foamwright/pricing/tax"

	"github.com/shopspring/decimal"
)

// Invoice is an invoice or a credit note as it was issued. Amounts are above zero on a credit note too.
type Invoice struct {
	ID        string        `json:"id" format:"uuid"`
	Number    Number        `json:"number"`
	Kind      string        `json:"kind" enum:"deposit,part,balance,sale,credit"`
	Order     string        `json:"order" format:"uuid"`
	Customer  string        `json:"customer" format:"uuid"`
	Name      string        `json:"customer_name" doc:"as it stood when it was issued"`
	Title     string        `json:"title"`
	Issued    time.Time     `json:"issued"`
	By        string        `json:"by"`
	Due       string        `json:"due" format:"date"`
	Supplied  string        `json:"supplied,omitempty" format:"date" doc:"the day it was handed over"`
	Currency  string        `json:"currency"`
	Lines     []InvoiceLine `json:"lines,omitempty" doc:"left out in lists"`
	Taxes     []TaxShare    `json:"taxes,omitempty" doc:"by rate; none where the workshop is not registered"`
	Net       string        `json:"net"`
	Tax       string        `json:"tax"`
	Gross     string        `json:"gross"`
	Paid      string        `json:"paid_before" doc:"had come when it was issued"`
	Payable   string        `json:"payable"`
	Credits   string        `json:"credits,omitempty" format:"uuid" doc:"the invoice that a credit note takes back"`
	Reason    string        `json:"reason,omitempty" doc:"of a credit note"`
	Remarks   []string      `json:"remarks,omitempty" doc:"wording for why no tax is charged"`
	Reference string        `json:"reference,omitempty" doc:"RF reference (ISO 11649) to pay with"`
	Document  string        `json:"document" doc:"SHA-256 of the PDF, hexadecimal"`
	XML       string        `json:"xml,omitempty" doc:"SHA-256 of the UBL document, hexadecimal"`
	NoXML     string        `json:"no_xml,omitempty" doc:"why there is none"`
}

// InvoiceLine is one printed line; what takes off an earlier invoice is below zero.
type InvoiceLine struct {
	Text     string          `json:"text"`
	Quantity decimal.Decimal `json:"quantity"`
	Each     string          `json:"each"`
	Amount   string          `json:"amount" doc:"net, or with tax where prices are made with tax inside"`
	Net      string          `json:"net"`
	Percent  decimal.Decimal `json:"percent" doc:"tax"`
}

// TaxShare is what stands under one rate.
type TaxShare struct {
	Code    string          `json:"code"`
	Percent decimal.Decimal `json:"percent"`
	Net     string          `json:"net"`
	Tax     string          `json:"tax"`
	Gross   string          `json:"gross"`
}

// Sums are net, tax and gross.
type Sums struct {
	Net   string `json:"net"`
	Tax   string `json:"tax"`
	Gross string `json:"gross"`
}

// Bill is an invoice of an order with what became of it.
type Bill struct {
	Invoice  Invoice `json:"invoice"`
	Credited string  `json:"credited"`
	Settled  string  `json:"settled" doc:"payments settle the oldest invoice of an order first"`
	Open     string  `json:"open"`
}

// Payment is money that came; below zero what was paid back.
type Payment struct {
	ID        string    `json:"id" format:"uuid"`
	Order     string    `json:"order" format:"uuid"`
	Number    Number    `json:"order_number"`
	Name      string    `json:"customer_name"`
	Day       string    `json:"day" format:"date"`
	Amount    string    `json:"amount"`
	Currency  string    `json:"currency"`
	Way       string    `json:"way" enum:"transfer,cash,card,other"`
	Note      string    `json:"note,omitempty"`
	By        string    `json:"by,omitempty"`
	At        time.Time `json:"at" doc:"when it was written down"`
	TakesBack string    `json:"takes_back,omitempty" format:"uuid" doc:"the payment that never was"`
}

// OrderMoney is how the money of an order stands.
type OrderMoney struct {
	Order    string    `json:"order" format:"uuid"`
	State    string    `json:"state" enum:"accepted,booked,done,cancelled"`
	Currency string    `json:"currency"`
	Total    Sums      `json:"total" doc:"what it comes to"`
	Invoiced Sums      `json:"invoiced" doc:"less what was credited"`
	Rest     Sums      `json:"to_invoice"`
	Paid     string    `json:"paid" doc:"less what went back"`
	Open     string    `json:"open" doc:"of the total"`
	Owed     string    `json:"owed" doc:"invoiced, and has not come"`
	Late     string    `json:"late" doc:"of that, after its day"`
	Overpaid string    `json:"overpaid" doc:"came above the total: it is to go back"`
	Deposit  string    `json:"deposit_open" doc:"missing until the order is booked"`
	Bills    []Bill    `json:"bills" doc:"oldest first, without their lines"`
	Credits  []Invoice `json:"credit_notes"`
	Payments []Payment `json:"payments"`
}

type invoiceList struct {
	Invoices []Invoice `json:"invoices"`
}

type paymentList struct {
	Payments []Payment `json:"payments"`
}

func numberOf(n sales.Number) Number { return Number{n.String(), n.Series, n.Year, n.No} }

func sumsOf(t tax.Totals) Sums { return Sums{t.Net.String(), t.Tax.String(), t.Gross.String()} }

func invoiceRow(i sales.Invoice) Invoice {
	out := Invoice{
		ID: i.ID, Number: numberOf(i.Number), Kind: string(i.Kind), Order: i.OrderID, Customer: i.CustomerID, Name: i.Buyer.Name, Title: i.Title, Issued: i.Issued.UTC(), By: i.By,
		Due: dateOf(i.Due), Supplied: dateOf(i.Supplied), Currency: string(i.Totals.Gross.Currency()),
		Net: i.Totals.Net.String(), Tax: i.Totals.Tax.String(), Gross: i.Totals.Gross.String(), Paid: i.Paid.String(), Payable: i.Payable().String(),
		Credits: i.Credits.ID, Reason: i.Reason, Remarks: i.Remarks, Reference: i.Reference, Document: i.Document, XML: i.XML, NoXML: i.NoXML,
	}
	for _, s := range i.Totals.Shares {
		out.Taxes = append(out.Taxes, TaxShare{s.Rate.Code, s.Rate.Percent, s.Net.String(), s.Tax.String(), s.Gross.String()})
	}
	return out
}

func invoiceOf(i sales.Invoice) Invoice {
	out := invoiceRow(i)
	for _, l := range i.Lines {
		out.Lines = append(out.Lines, InvoiceLine{l.Text, l.Quantity, l.Each.String(), l.Amount.String(), l.Net.String(), l.Rate.Percent})
	}
	return out
}

func paymentOf(p sales.Payment) Payment {
	return Payment{
		ID: p.ID, Order: p.OrderID, Number: numberOf(p.Order), Name: p.Customer, Day: dateOf(p.Day), Amount: p.Amount.String(), Currency: string(p.Amount.Currency()),
		Way: string(p.Way), Note: p.Note, By: p.By, At: p.At.UTC(), TakesBack: p.TakesBack,
	}
}

// moneyOf is an order's money; today decides what is late.
func moneyOf(d sales.Dues, today time.Time) OrderMoney {
	return OrderMoney{
		Order: d.Order.ID, State: string(d.Order.State), Currency: string(d.Total.Gross.Currency()), Total: sumsOf(d.Total), Invoiced: sumsOf(d.Invoiced), Rest: sumsOf(d.Rest),
		Paid: d.Paid.String(), Open: d.Open().String(), Owed: d.Owed().String(), Late: d.Late(today).String(), Overpaid: d.Overpaid().String(), Deposit: d.DepositOpen().String(),
		Bills: each(d.Bills, func(b sales.Owed) Bill {
			return Bill{invoiceRow(b.Invoice), b.Totals.Gross.Sub(b.Left().Gross).String(), b.Settled.String(), b.Open.String()}
		}),
		Credits: each(d.Credits, invoiceRow), Payments: each(d.Payments, paymentOf),
	}
}
