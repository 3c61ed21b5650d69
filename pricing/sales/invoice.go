package sales

import (
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
)

// Party is a seller or a buyer as they stand on a document.
type Party struct {
	Name      string
	Address   []string // lines, the town last
	Country   string   // ISO 3166-1 alpha-2; empty where it was not told
	TaxNumber string
	Email     string
	Phone     string
}

// Account is where a transfer goes.
type Account struct {
	Name string // of its holder
	IBAN string // ISO 13616, without spaces; empty where there is none
	BIC  string
}

// BillKind is what an invoice asks for.
type BillKind string

// The kinds of invoices. A credit note takes back an invoice or a part of it; its amounts are above zero.
const (
	DepositBill BillKind = "deposit"
	PartBill    BillKind = "part"
	BalanceBill BillKind = "balance" // the whole order less what was invoiced before
	SaleBill    BillKind = "sale"    // the whole order at once
	CreditNote  BillKind = "credit"
)

// BillLine is one printed line. Amount is net, or gross where prices are made with tax inside; one that takes off an
// earlier invoice is below zero.
type BillLine struct {
	Text     string
	Quantity decimal.Decimal // pieces
	Each     money.Amount
	Amount   money.Amount
	Net      money.Amount // of the line, without tax; the lines' sum to the invoice's
	Rate     tax.Rate
}

// Earlier is another invoice that one refers to.
type Earlier struct {
	ID     string
	Number Number
	Kind   BillKind
	Issued time.Time
	Gross  money.Amount
}

// Invoice is an invoice or a credit note as it was issued: frozen, read back and never computed again.
type Invoice struct {
	ID         string
	Token      string // of the form it was asked for with: asked for twice it is one
	Number     Number
	Kind       BillKind
	OrderID    string
	Order      Number
	CustomerID string
	Title      string // of the order
	Issued     time.Time
	Supplied   time.Time // handed over; zero while it has not been
	Due        time.Time // a day
	By         string    // who issued it
	Language   string    // ISO 639-1
	Seller     Party
	Buyer      Party
	Consumer   bool // the buyer is no business
	Account    Account
	Lines      []BillLine
	Regime     tax.Regime   // without its rates: how the sums were rounded
	Totals     tax.Totals   // below every line; Net + Tax = Gross
	Paid       money.Amount // of it by the day of issue, as at a show; a document says so, the balance goes by payments
	Rounding   money.Amount // to what can be paid, where small coins are gone
	Before     []Earlier    // invoices of the order that the lines take off
	Credits    Earlier      // what a credit note takes back; zero otherwise
	Reason     string       // of a credit note
	Remarks    []string     // wording that the law asks for
	Terms      string       // of payment, one sentence
	Reference  string       // RF reference of ISO 11649 to pay with
	Document   string       // hash of the PDF
	XML        string       // hash of the UBL document; empty where none could be made
	NoXML      string       // why there is none
}

// Payable is what a document asks for, or gives back as a credit note.
func (i Invoice) Payable() money.Amount { return i.Totals.Gross.Sub(i.Paid).Add(i.Rounding) }
