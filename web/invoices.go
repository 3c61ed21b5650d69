package web

import (
	"net/url"
	"slices"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
	"foamwright/pricing/transfer"
)

type invoicesPage struct {
	searched
	Invoices []sales.Invoice
	More     bool
}

func (p *Pages) invoices(c *fiber.Ctx) error {
	f, s := moneyFound(c)
	list, err := p.sales.Invoices(c.UserContext(), f)
	if err != nil {
		return err
	}
	return p.render(c, fiber.StatusOK, "invoices", "Invoices", "money", invoicesPage{s, list, len(list) == mostMoney})
}

func (p *Pages) invoicesCSV(c *fiber.Ctx) error {
	return moneyCSV(c, "invoices.csv", p.sales.Invoices, sales.InvoicesCSV)
}

// billNames are what the kinds of invoices are called on screen.
func billName(k sales.BillKind) string {
	switch k {
	case sales.DepositBill:
		return "Deposit invoice"
	case sales.PartBill:
		return "Part invoice"
	case sales.BalanceBill:
		return "Final invoice"
	case sales.CreditNote:
		return "Credit note"
	}
	return "Invoice"
}

// invoicePage is an invoice or a credit note as it was issued, with what became of it.
type invoicePage struct {
	forms
	sales.Invoice
	Dues  sales.Dues
	Owed  sales.Owed      // zero of a credit note
	Notes []sales.Invoice // credit notes of it
	Mail  mailBox
	Token string
}

// Called is what kind of document it is.
func (d invoicePage) Called() string { return billName(d.Kind) }

// Credit tells that it is a credit note.
func (d invoicePage) Credit() bool { return d.Kind == sales.CreditNote }

// Grouped is the reference as it is printed.
func (d invoicePage) Grouped() string { return transfer.Grouped(d.Reference) }

// Late tells that something is open after its day.
func (d invoicePage) Late() bool { return d.Owed.Late(today()) }

// Left is what can still be credited.
func (d invoicePage) Left() money.Amount { return d.Owed.Left().Gross }

// Shares are the sums by rate.
func (d invoicePage) Shares() []tax.Share { return d.Totals.Shares }

// WithTax tells that the lines' amounts have tax in them.
func (d invoicePage) WithTax() bool { return d.Regime.Registered && d.Regime.GrossPrices }

// Asks tells that a line can be credited on its own.
func (d invoicePage) Asks(l sales.BillLine) bool { return l.Net.Sign() > 0 }

// Ticked tells that a line was chosen to be credited.
func (d invoicePage) Ticked(i int) bool {
	return slices.Contains(d.v["lines"], strconv.Itoa(i))
}

// Text is an entry of the form of a credit note as it was typed.
func (d invoicePage) Text(name, label string) entry {
	return entry{Name: name, Label: label, Value: d.v.Get(name), Problem: d.problems[name], ID: id(name)}
}

// Whole is what is wrong with the form as a whole.
func (d invoicePage) Whole() string { return unplaced(d.problems, []string{"amount", "reason"}) }

// Refused tells that the form came back.
func (d invoicePage) Refused() bool { return len(d.problems) > 0 }

func (p *Pages) invoice(c *fiber.Ctx) error {
	return p.showInvoice(c, fiber.StatusOK, invoicePage{Token: token()})
}

func (p *Pages) showInvoice(c *fiber.Ctx, status int, data invoicePage) error {
	var err error
	if data.Invoice, data.Dues, err = p.sales.Invoice(c.UserContext(), c.Params("id")); err != nil {
		return err
	}
	data.Owed, _ = data.Dues.Bill(data.ID)
	for _, n := range data.Dues.Credits {
		if n.Credits.ID == data.ID {
			data.Notes = append(data.Notes, n)
		}
	}
	if data.Mail, err = p.mailsOf(c, data.ID); err != nil {
		return err
	}
	return p.render(c, status, "invoice", data.Called()+" "+data.Number.String(), "money", data)
}

// invoiceFile sends an invoice as it was issued.
func (p *Pages) invoiceFile(xml bool) fiber.Handler {
	return func(c *fiber.Ctx) error {
		doc, err := p.sales.InvoiceDocument(c.UserContext(), c.Params("id"), xml)
		if err != nil {
			return err
		}
		if err := sendDocument(c, doc); err != nil || !xml {
			return err
		}
		c.Set(fiber.HeaderContentType, "application/xml")
		c.Set(fiber.HeaderContentDisposition, `attachment; filename="`+doc.Name+`"`)
		return nil
	}
}

// creditInvoice issues a credit note: over all that is left, an amount, or some lines.
func (p *Pages) creditInvoice(c *fiber.Ctx) error {
	return act(c, "credit", func(t *typing) (string, error) {
		credit := sales.Crediting{Reason: t.v.Get("reason"), Token: t.v.Get("token"), Amount: t.optional("amount")}
		if a := t.maybe("amount"); a != nil && a.IsZero() && t.problems.Empty() { // nothing is not all of it
			t.problems.Add("amount", t.v.Get("amount"), "Write an amount above 0, or leave it empty to credit all that is left.")
		}
		for _, at := range t.v["lines"] {
			n, err := strconv.Atoi(at)
			if err != nil {
				n = -1
			}
			credit.Lines = append(credit.Lines, n)
		}
		if err := t.problems.Err(); err != nil {
			return "", err
		}
		note, err := p.sales.Credit(c.UserContext(), c.Params("id"), credit, by(c))
		return "/invoices/" + note.ID, err
	}, unlessChanged(func(status int, f forms) error {
		return p.showInvoice(c, status, invoicePage{forms: f, Token: kept(f.v)})
	}))
}

// kept is the token of a form that came back: it is still the same one.
func kept(v url.Values) string {
	if s := v.Get("token"); s != "" {
		return s
	}
	return token()
}
