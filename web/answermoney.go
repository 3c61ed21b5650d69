package web

import (
	"html/template"
	"strconv"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
	"foamwright/pricing/pdf"
	"foamwright/pricing/sales"
	"foamwright/pricing/transfer"
)

// answerBill is an invoice as the customer of an order sees it.
type answerBill struct {
	sales.Owed
	Code template.HTML // to scan for the transfer; empty where none can be made
}

// IBAN is the account in groups of four.
func (b answerBill) IBAN() string { return transfer.Grouped(b.Account.IBAN) }

// RF is a payment reference in groups of four.
func (d answerView) RF(reference string) string { return transfer.Grouped(reference) }

// money reads what was invoiced of the order, with a code for what is open.
func (o *answerOrder) money(d sales.Dues, v visit) {
	for _, owed := range d.Bills {
		b := answerBill{Owed: owed}
		if owed.Open.Sign() > 0 && owed.Account.IBAN != "" {
			asked := transfer.Order{Name: owed.Account.Name, IBAN: owed.Account.IBAN, BIC: owed.Account.BIC, Amount: owed.Open, Reference: owed.Reference}
			if asked.Reference == "" {
				asked.Text = owed.Invoice.Number.In(v.Tongue)
			}
			if said, err := asked.Payload(); err == nil { // not in euro, or no account for it
				if svg, err := pdf.QR(said, v.Tongue.Say("Code to scan for the transfer")); err == nil {
					b.Code = template.HTML(svg) // of squares alone, its label escaped
				}
			}
		}
		o.Bills = append(o.Bills, b)
	}
	o.Credits = d.Credits
	o.Open, o.Paid, o.Lost = d.Open(), d.Paid, d.DepositLost()
}

// answerInvoice is an invoice or a credit note of the order as it was issued.
func (p *Pages) answerInvoice(c *fiber.Ctx, v visit) error {
	if v.Order == nil {
		return p.noSuchAnswer(c)
	}
	d, err := p.sales.Dues(c.UserContext(), v.Order.ID)
	if err != nil {
		return err
	}
	all := d.Credits
	for _, b := range d.Bills {
		all = append(all, b.Invoice)
	}
	for _, i := range all {
		if strconv.Itoa(i.Number.Year)+"-"+strconv.Itoa(i.Number.No) == c.Params("number") && string(i.Kind) == c.Params("kind") {
			doc, err := p.sales.InvoiceDocument(c.UserContext(), i.ID, false)
			if err != nil {
				return err
			}
			return sendAnswerPDF(c, doc)
		}
	}
	return p.noSuchAnswer(c)
}

// answerPaper is another document of the order that its customer is handed.
func (p *Pages) answerPaper(c *fiber.Ctx, v visit) error {
	no, err := strconv.Atoi(c.Params("no"))
	if err != nil || v.Order == nil {
		return p.noSuchAnswer(c)
	}
	doc, err := p.sales.Paper(c.UserContext(), v.Order.ID, sales.PaperKind(c.Params("kind")), no)
	if fault.KindOf(err) == fault.NotFound {
		return p.noSuchAnswer(c)
	}
	if err != nil {
		return err
	}
	return sendAnswerPDF(c, doc)
}

// PaperName is what a document is called in the visitor's language.
func (d answerView) PaperName(paper sales.OrderPaper) string {
	t := d.Tongue
	switch paper.Kind {
	case sales.ConfirmationPaper:
		return t.Say("Order confirmation")
	case sales.ChangePaper:
		return t.Say("Change note %d", paper.No)
	case sales.CarePaper:
		return t.Say("Care sheet")
	}
	return t.Say("Account of the cancellation")
}

func sendAnswerPDF(c *fiber.Ctx, doc sales.Document) error {
	c.Set(fiber.HeaderContentType, "application/pdf")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="`+doc.Name+`"`)
	return c.Send(doc.Bytes)
}
