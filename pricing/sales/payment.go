package sales

import (
	"context"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
)

// Way is how money came or went.
type Way string

// The ways.
const (
	ByTransfer Way = "transfer"
	ByCash     Way = "cash"
	ByCard     Way = "card"
	OtherWay   Way = "other"
)

// Ways are all there are, the usual one first.
func Ways() []Way { return []Way{ByTransfer, ByCash, ByCard, OtherWay} }

// Payment is money that came for an order; below zero, what was paid back. Payments are only ever added: one that was
// written down wrongly is taken back by another.
type Payment struct {
	ID        string
	Token     string // of the form: written down twice with the same one it is one payment
	OrderID   string
	Day       time.Time
	Amount    money.Amount
	Way       Way
	Note      string
	By        string // who wrote it down
	At        time.Time
	TakesBack string // ID of the payment that never was
	// For lists of several orders.
	Order    Number
	Customer string
}

// Paying is money as somebody writes it down: above zero what came, below zero what was paid back.
type Paying struct {
	Day    time.Time
	Amount decimal.Decimal
	Way    Way
	Note   string
	Token  string
}

// MoneyFound is what lists of invoices and payments are narrowed by: words in number, name, title or reference; one
// order's or customer's; days from and to, both within; how many rows at most.
type MoneyFound struct {
	Words, Order, Customer string
	From, To               time.Time
	Most                   int // 0 for all there are
}

// MoneyTx is invoices and payments within one transaction. Who adds one holds the order's lock.
type MoneyTx interface {
	AddInvoice(ctx context.Context, i Invoice) error
	Invoice(ctx context.Context, id string) (Invoice, error)
	InvoiceBy(ctx context.Context, token string) (Invoice, error)        // NotFound where none was asked for with it
	Invoices(ctx context.Context, f MoneyFound) ([]Invoice, error)       // credit notes too, newest first
	InvoicesOf(ctx context.Context, orders ...string) ([]Invoice, error) // credit notes too, oldest first
	AddPayment(ctx context.Context, p Payment) error
	PaymentBy(ctx context.Context, token string) (Payment, error)
	Payments(ctx context.Context, f MoneyFound) ([]Payment, error)       // newest first
	PaymentsOf(ctx context.Context, orders ...string) ([]Payment, error) // oldest first
	// Unsettled are the orders of which more or less was paid than was invoiced.
	Unsettled(ctx context.Context) ([]string, error)
	// MadeUninvoiced are the newest orders that are done and have neither a balance nor a sale invoice.
	MadeUninvoiced(ctx context.Context) ([]string, error)
}
