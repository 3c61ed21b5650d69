package web

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/pricing/money"
	"foamwright/pricing/tax"
	"foamwright/pricing/transfer"
	"foamwright/pricing/workshop"
)

// taxPage is how invoices are numbered and paid, and how tax is charged where the workshop is.
type taxPage struct {
	settled
	Kept bool
	w    workshop.Workshop
	rows int // rates that are typed
}

// registerTaxes mounts the settings of invoices and tax.
func (p *Pages) registerTaxes(r fiber.Router) {
	r.Get("/workshop/invoices", p.taxes)
	r.Post("/workshop/invoices", p.editTaxes)
}

func (p *Pages) taxes(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	return p.showTaxes(c, fiber.StatusOK, w, taxPage{settled: asKept(w), Kept: c.Query("kept") != "", rows: len(w.Figures.Tax.Rates)})
}

func (p *Pages) showTaxes(c *fiber.Ctx, status int, w workshop.Workshop, data taxPage) error {
	data.w = w
	return p.render(c, status, "taxes", "Invoices and tax", "workshop", data)
}

// Seller are the entries of who is paid and how.
func (d taxPage) Seller() []entry {
	h := d.w.Head
	return []entry{
		d.Text("head.country", "Country, two letters", h.Country), d.Text("head.tax_number", "Tax number", h.TaxNumber),
		d.Text("head.holder", "Who holds the account, if not the workshop", h.Holder),
		d.Text("head.iban", "IBAN", strings.ReplaceAll(transfer.Grouped(h.IBAN), "\u00a0", " ")), d.Text("head.bic", "BIC", h.BIC),
	}
}

// Numbers are the entries of how invoices are numbered and when they are due.
func (d taxPage) Numbers() []entry {
	return []entry{
		d.Text("invoice_series", "Series of invoices", d.w.InvoiceSeries), d.Text("credit_series", "Series of credit notes", d.w.CreditSeries),
		d.Text("invoice_days", "An invoice is due after, days", strconv.Itoa(d.w.InvoiceDays)),
	}
}

// Registered, Gross, PerLine and NetFirst are ticks.
func (d taxPage) Registered() entry {
	return d.tick("tax.registered", "The workshop is registered for tax", d.w.Figures.Tax.Registered)
}

// Gross is whether prices are made with tax inside.
func (d taxPage) Gross() entry {
	return d.tick("tax.gross", "Prices are made with tax inside, as consumers see them", d.w.Figures.Tax.GrossPrices)
}

// PerLine is whether tax is rounded on every line.
func (d taxPage) PerLine() entry {
	e := d.tick("tax.per_line", "Tax is rounded on every line, not once on the sum", d.w.Figures.Tax.PerLine)
	if d.w.Figures.Rates.Currency.Digits() == 0 {
		e.Asked = "Over many lines that is too far off for an e-invoice, as the currency has no cents: such a document goes out as PDF alone."
	}
	return e
}

// NetFirst is whether the net of a price with tax is rounded and not the tax.
func (d taxPage) NetFirst() entry {
	return d.tick("tax.net_first", "Of a price with tax inside the net is rounded, the tax is the rest", d.w.Figures.Tax.NetFirst)
}

func (d taxPage) tick(name, label string, on bool) entry {
	is := ""
	if on {
		is = "yes"
	}
	return d.Text(name, label, is)
}

// Mode is how tax is rounded.
func (d taxPage) Mode() entry {
	e := d.Text("tax.mode", "Half a cent", string(d.w.Figures.Tax.Mode))
	e.Options = []option{{string(money.HalfUp), "goes up, as nearly everywhere"}, {string(money.HalfDown), "is dropped"}, {string(money.Down), "and all above a cent is dropped"}}
	return e
}

// Code is the rate that shields are sold at.
func (d taxPage) Code() entry {
	return d.Text("tax_code", "Code of the rate that shields are sold at", d.w.Figures.TaxCode)
}

// Rates are the rates of tax, and room for one more.
func (d taxPage) Rates() (all [][]entry) {
	for i := range d.rows + 1 {
		var r tax.Rate
		percent, from, until := "", "", ""
		if i < len(d.w.Figures.Tax.Rates) {
			r = d.w.Figures.Tax.Rates[i]
			percent, from, until = r.Percent.String(), dayOf(r.From), dayOf(r.Until)
		}
		at := fmt.Sprintf("tax.rates.%d.", i)
		all = append(all, []entry{
			d.Text(at+"code", "Code", r.Code), d.Text(at+"name", "As printed", r.Name), d.Text(at+"percent", "%", percent),
			d.Text(at+"from", "From", from), d.Text(at+"until", "Until before", until),
			d.Text(at+"category", "EN 16931 category", r.Category), d.Text(at+"reason", "Why none is charged", r.Reason),
		})
	}
	return all
}

func dayOf(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return iso(t)
}

// Wording are the entries of what documents say where no tax is charged.
func (d taxPage) Wording() []entry {
	w := d.w.Figures.Tax.Wording
	return []entry{
		d.Text("tax.wording.unregistered", "Not registered for tax", w.Unregistered), d.Text("tax.wording.reverse", "The customer owes the tax (reverse charge)", w.Reverse),
		d.Text("tax.wording.export", "Export", w.Export), d.Text("tax.wording.exempt", "Exempt", w.Exempt),
	}
}

func (p *Pages) editTaxes(c *fiber.Ctx) error {
	w, err := p.sales.Workshop(c.UserContext())
	if err != nil {
		return err
	}
	t := typing{v: values(c)}
	again := taxPage{rows: rows(t.v, "tax.rates", "code", "name", "percent", "from", "until", "category", "reason")}
	t.taxes(&w, again.rows)
	return p.settle(c, &t, w, &again.settled, asNamed, func(status int) error { return p.showTaxes(c, status, w, again) })
}

// taxes reads what was typed into settings.
func (t *typing) taxes(w *workshop.Workshop, rates int) {
	said := func(name string) string { return strings.TrimSpace(t.v.Get(name)) }
	account := func(name string, parse func(string) (string, error)) string {
		s, err := parse(said(name))
		_ = t.problems.Take(name, err) // always a fault
		return s
	}
	h := &w.Head
	h.Country, h.TaxNumber, h.Holder = strings.ToUpper(said("head.country")), said("head.tax_number"), said("head.holder")
	if len([]rune(h.TaxNumber)) > 40 {
		t.problems.Add("head.tax_number", h.TaxNumber, "This is too long. Shorten it.")
	}
	h.IBAN, h.BIC = account("head.iban", transfer.ParseIBAN), account("head.bic", transfer.ParseBIC)
	w.InvoiceSeries, w.CreditSeries, w.InvoiceDays = said("invoice_series"), said("credit_series"), t.count("invoice_days")
	yes := func(name string) bool { return t.v.Get(name) != "" }
	g := &w.Figures.Tax
	g.Registered, g.GrossPrices, g.PerLine, g.NetFirst = yes("tax.registered"), yes("tax.gross"), yes("tax.per_line"), yes("tax.net_first")
	g.Mode, w.Figures.TaxCode = money.Mode(said("tax.mode")), said("tax_code")
	g.Wording = tax.Wording{Unregistered: said("tax.wording.unregistered"), Reverse: said("tax.wording.reverse"), Export: said("tax.wording.export"), Exempt: said("tax.wording.exempt")}
	g.Rates = nil
	for i := range rates {
		at := fmt.Sprintf("tax.rates.%d.", i)
		g.Rates = append(g.Rates, tax.Rate{
			Code: said(at + "code"), Name: said(at + "name"), Percent: t.number(at + "percent"), From: t.day(at + "from"), Until: t.day(at + "until"),
			Category: said(at + "category"), Reason: said(at + "reason"),
		})
	}
}
