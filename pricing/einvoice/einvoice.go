// Package einvoice writes invoices and credit notes for other programs: UBL 2.1 by EN 16931.
//
// Units: amounts in the document's currency, quantities in pieces (H87 of UN/ECE Rec. 20; C62 where nothing is
// counted), percentages as people write them. The same invoice gives the same bytes. What the standard asks for and
// an invoice lacks is a fault that says where to write it.
//
// Limits: the standard knows at most two places after the point, so that an amount in thousandths (KWD, TND …) cannot
// be said and is a fault. It holds the tax to less than 1 of the currency from the tax on the sum, so that tax rounded
// line by line, or down, can be too far off where the currency has no cents; that is a fault too. Discounts are lines
// below zero; there are no allowances and charges of the document, no tax representative, payee, delivery address or
// second currency. No country's own rules (CIUS) are looked at.
package einvoice

import (
	"fmt"
	"time"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// document is an invoice while it is written.
type document struct {
	sales.Invoice
	tongue words.Tongue
	groups []group // the tax breakdown
}

// UBL is the invoice as an XML document. What is missing or cannot be said is a fault with every problem; the fields
// are seller, buyer, lines.0 and so on.
func UBL(inv sales.Invoice) ([]byte, error) {
	d := document{Invoice: inv, tongue: words.Speak(inv.Language)}
	if err := d.check(); err != nil {
		return nil, err
	}
	if err := d.breakdown(); err != nil {
		return nil, err
	}
	if err := d.checkTax(); err != nil {
		return nil, err
	}
	root, line, quantity, kind := "Invoice", "cac:InvoiceLine", "cbc:InvoicedQuantity", leaf("cbc:InvoiceTypeCode", d.code())
	due := leaf("cbc:DueDate", day(d.Due))
	if d.credit() {
		root, line, quantity, kind, due = "CreditNote", "cac:CreditNoteLine", "cbc:CreditedQuantity", leaf("cbc:CreditNoteTypeCode", d.code()), node{}
	}
	parts := []node{
		leaf("cbc:CustomizationID", "urn:cen.eu:en16931:2017"),
		leaf("cbc:ID", d.Number.In(d.tongue)),
		leaf("cbc:IssueDate", day(d.Issued)),
		due, kind,
	}
	for _, s := range append([]string{d.Reason}, d.Remarks...) {
		parts = append(parts, leaf("cbc:Note", s))
	}
	parts = append(parts, leaf("cbc:DocumentCurrencyCode", string(d.currency())))
	if order := d.Order.In(d.tongue); order != "" { // UBL wants the buyer's number too; the order goes by ours
		parts = append(parts, el("cac:OrderReference", leaf("cbc:ID", order), leaf("cbc:SalesOrderID", order)))
	}
	for _, e := range append([]sales.Earlier{d.Credits}, d.Before...) {
		if number := e.Number.In(d.tongue); number != "" {
			parts = append(parts, el("cac:BillingReference", el("cac:InvoiceDocumentReference", leaf("cbc:ID", number), leaf("cbc:IssueDate", day(e.Issued)))))
		}
	}
	parts = append(parts,
		el("cac:AccountingSupplierParty", d.seller()),
		el("cac:AccountingCustomerParty", d.buyer()),
		el("cac:Delivery", leaf("cbc:ActualDeliveryDate", day(d.Supplied))),
		d.means(),
		el("cac:PaymentTerms", leaf("cbc:Note", d.terms())),
		d.taxes(), d.totals(),
	)
	for i, l := range d.Lines {
		parts = append(parts, d.line(i+1, l, line, quantity))
	}
	return written(root, parts), nil
}

func (d *document) credit() bool { return d.Kind == sales.CreditNote }

func (d *document) currency() money.Currency { return d.Totals.Gross.Currency() }

// code is the kind of document by UNTDID 1001.
func (d *document) code() string {
	switch d.Kind {
	case sales.DepositBill:
		return "386" // prepayment
	case sales.PartBill:
		return "326"
	case sales.CreditNote:
		return "381"
	}
	return "380"
}

// means is how to pay: by transfer, where there is an account; a credit note is not paid to the seller.
func (d *document) means() node {
	if d.Account.IBAN == "" || d.credit() {
		return node{}
	}
	code := "30" // credit transfer
	if d.currency() == "EUR" {
		code = "58" // by SEPA
	}
	return el("cac:PaymentMeans", leaf("cbc:PaymentMeansCode", code), leaf("cbc:PaymentID", d.Reference),
		el("cac:PayeeFinancialAccount", leaf("cbc:ID", d.Account.IBAN), leaf("cbc:Name", d.Account.Name),
			el("cac:FinancialInstitutionBranch", leaf("cbc:ID", d.Account.BIC))))
}

// terms are those of payment; the standard asks for some where anything is to pay and no day is said, as on every
// credit note.
func (d *document) terms() string {
	if d.Terms == "" && d.credit() {
		return d.tongue.Say("The amount is set off against what is open, or paid back.")
	}
	return d.Terms
}

func (d *document) totals() node {
	t := d.Totals
	return el("cac:LegalMonetaryTotal",
		d.amount("cbc:LineExtensionAmount", t.Net), d.amount("cbc:TaxExclusiveAmount", t.Net), d.amount("cbc:TaxInclusiveAmount", t.Gross),
		d.some("cbc:PrepaidAmount", d.Paid), d.some("cbc:PayableRoundingAmount", d.Rounding), d.amount("cbc:PayableAmount", d.Payable()))
}

// some is an amount unless it is nothing.
func (d *document) some(name string, a money.Amount) node {
	if a.Sign() == 0 {
		return node{}
	}
	return d.amount(name, a)
}

// amount is written with as many places as the currency has, two at most; check has seen that no more are needed.
func (d *document) amount(name string, a money.Amount) node {
	return leaf(name, a.Decimal().StringFixed(min(d.currency().Digits(), places)), "currencyID", string(d.currency()))
}

// places are how many an amount may have (BR-DEC-01 and those after it).
const places = 2

func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(time.DateOnly)
}

// wrong is a contradiction within an invoice: a fault of the program that made it, not of a person.
func (d *document) wrong(format string, args ...any) error {
	return fmt.Errorf("invoice %s: %s", d.Number, fmt.Sprintf(format, args...))
}
