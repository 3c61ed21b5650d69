package web

import (
	"context"
	"crypto/rand"
	"net/url"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api/guard"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// mostMoney is how many rows a page of invoices or payments shows; files have all.
const mostMoney = 200

// moneyDoors are who may look at invoices and payments.
func moneyDoors() []guard.Door {
	return []guard.Door{guard.For("/money", people.Bookkeeper), guard.For("/invoices", people.Bookkeeper)}
}

// registerMoney mounts invoices, payments and who owes.
func (p *Pages) registerMoney(r fiber.Router) {
	books := p.guard.Require(people.Bookkeeper)
	r.Get("/money", p.money)
	r.Get("/money/payments", p.payments)
	r.Get("/money/payments.csv", p.paymentsCSV)
	r.Get("/money/customers/:id", p.statement)
	r.Get("/money/customers/:id/statement.csv", p.statementCSV)
	r.Get("/money/customers/:id/statement.pdf", p.statementPDF)
	r.Get("/invoices", p.invoices)
	r.Get("/money/invoices.csv", p.invoicesCSV)
	r.Get("/invoices/:id", p.invoice)
	r.Get("/invoices/:id/invoice.pdf", p.invoiceFile(false))
	r.Get("/invoices/:id/invoice.xml", p.invoiceFile(true))
	r.Post("/invoices/:id/credit", p.creditInvoice)
	r.Get("/invoices/:id/credit", backTo("/invoices/", "id"))
	p.writes(r, "/invoices/:id/send", sales.MailInvoice)
	p.writes(r, "/invoices/:id/remind", sales.MailInvoiceReminder)

	r.Post("/orders/:id/bill", books, p.billOrder)
	r.Post("/orders/:id/receive", books, p.receivePayment)
	r.Post("/orders/:id/refund", books, p.refundPayment)
	r.Post("/orders/:id/take-back", books, p.takeBackPayment)
	for _, act := range []string{"bill", "receive", "refund", "take-back"} {
		r.Get("/orders/:id/"+act, backTo("/orders/", "id"))
	}
}

// money is who owes, what came without an invoice, and what was made and not invoiced.
func (p *Pages) money(c *fiber.Ctx) error {
	owing, err := p.sales.Owing(c.UserContext())
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "money", "Money", "money", moneyPage{owing})
}

type moneyPage struct{ sales.Owing }

// Ages are what the columns of who owes are called.
func (moneyPage) Ages() [sales.Ages]string {
	return [sales.Ages]string{"not due yet", "1 to 30 days late", "31 to 60", "61 to 90", "over 90"}
}

// Age is what one of them is called.
func (m moneyPage) Age(i int) string { return m.Ages()[i] }

// searched is what a list of invoices or payments was narrowed by, as it was typed.
type searched struct {
	Words, From, To string
	Problems        map[string]string
}

// Query is the same list as a file.
func (s searched) Query() string {
	return url.Values{"words": {s.Words}, "from": {s.From}, "to": {s.To}}.Encode()
}

// moneyFound reads what is looked for; what cannot be read is left out and said beside its entry.
func moneyFound(c *fiber.Ctx) (sales.MoneyFound, searched) {
	t := &typing{v: url.Values{"from": {c.Query("from")}, "to": {c.Query("to")}}}
	f := sales.MoneyFound{Words: c.Query("words"), From: t.day("from"), To: t.day("to"), Most: mostMoney}
	if !f.To.IsZero() && f.To.Before(f.From) {
		t.problems.Add("to", c.Query("to"), "The last day is before the first. Write the same or a later one.")
	}
	return f, searched{f.Words, c.Query("from"), c.Query("to"), t.byField()}
}

type paymentsPage struct {
	searched
	Payments []sales.Payment
	More     bool
}

func (p *Pages) payments(c *fiber.Ctx) error {
	f, s := moneyFound(c)
	list, err := p.sales.Payments(c.UserContext(), f)
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "payments", "Payments", "money", paymentsPage{s, list, len(list) == mostMoney})
}

func (p *Pages) paymentsCSV(c *fiber.Ctx) error {
	return moneyCSV(c, "payments.csv", p.sales.Payments, sales.PaymentsCSV)
}

// moneyCSV is all that a page of invoices or payments finds, as a file.
func moneyCSV[T any](c *fiber.Ctx, name string, find func(context.Context, sales.MoneyFound) ([]T, error), write func([]T) []byte) error {
	f, s := moneyFound(c)
	if err := inOne(s.Problems); err != nil {
		return err
	}
	f.Most = 0
	list, err := find(c.UserContext(), f)
	if err != nil {
		return err
	}
	return sendCSV(c, name, write(list))
}

func sendCSV(c *fiber.Ctx, name string, data []byte) error {
	c.Set(fiber.HeaderContentType, "text/csv; charset=utf-8")
	c.Set(fiber.HeaderContentDisposition, `attachment; filename="`+name+`"`)
	c.Set(fiber.HeaderCacheControl, "no-store")
	return c.Send(data)
}

// statementPage is what passed between the workshop and a customer.
type statementPage struct {
	Customer   sales.Customer
	Statements []sales.Statement
	From, To   string
	Problems   map[string]string
}

func (s statementPage) Query() string { return url.Values{"from": {s.From}, "to": {s.To}}.Encode() }

func (p *Pages) statements(c *fiber.Ctx) (statementPage, error) {
	f, s := moneyFound(c)
	data := statementPage{From: s.From, To: s.To, Problems: s.Problems}
	if len(s.Problems) > 0 {
		f.From, f.To = time.Time{}, time.Time{}
	}
	var err error
	data.Customer, data.Statements, err = p.sales.Statements(c.UserContext(), c.Params("id"), f.From, f.To)
	return data, err
}

func (p *Pages) statement(c *fiber.Ctx) error {
	data, err := p.statements(c)
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "statement", "Statement of "+data.Customer.Name, "money", data)
}

func (p *Pages) statementCSV(c *fiber.Ctx) error {
	data, err := p.statements(c)
	if err != nil {
		return err
	}
	return sendCSV(c, "statement.csv", sales.StatementsCSV(data.Statements))
}

func (p *Pages) statementPDF(c *fiber.Ctx) error {
	f, _ := moneyFound(c)
	doc, err := p.sales.StatementDocument(c.UserContext(), c.Params("id"), f.From, f.To)
	if err != nil {
		return err
	}
	return sendDocument(c, doc)
}

// token is a form's: what is posted twice with it is done once.
func token() string { return rand.Text() }
