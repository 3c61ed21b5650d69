package einvoice

import (
	"cmp"
	"strconv"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// line is one of the invoice's. A line below zero has a quantity below zero, for a price must not be (BR-27).
func (d *document) line(no int, l sales.BillLine, name, quantity string) node {
	count, unit := l.Quantity.Abs(), "H87"
	if count.IsZero() {
		count, unit = decimal.NewFromInt(1), "C62"
	}
	price, per := d.each(l, count)
	if l.Net.Sign() < 0 {
		count = count.Neg()
	}
	return el(name, leaf("cbc:ID", strconv.Itoa(no)), leaf(quantity, count.String(), "unitCode", unit),
		d.amount("cbc:LineExtensionAmount", l.Net),
		el("cac:Item", leaf("cbc:Name", l.Text), d.category("cac:ClassifiedTaxCategory", kindOf(l.Rate, d.free()))),
		el("cac:Price", leaf("cbc:PriceAmount", price.String(), "currencyID", string(d.currency())), leaf("cbc:BaseQuantity", per, "unitCode", unit)))
}

// each is the price of a piece without tax. Where pieces × price is not the line's net (prices with tax inside, a
// share of a discount), it is the net of all pieces per all pieces, which is exact.
func (d *document) each(l sales.BillLine, count decimal.Decimal) (price decimal.Decimal, per string) {
	net, each := l.Net.Decimal().Abs(), l.Each.Decimal().Abs()
	switch {
	case each.Mul(count).Equal(net):
		return each, ""
	case count.Equal(decimal.NewFromInt(1)):
		return net, ""
	}
	return net, count.String()
}

// kind is what the breakdown goes by: a category of UNCL 5305 and a percentage.
type kind struct{ code, percent string }

// free is whether the seller is not registered for tax.
func (d *document) free() bool { return len(d.Totals.Shares) == 0 }

// kindOf is a rate's: its category, or what the percentage says.
func kindOf(r tax.Rate, free bool) kind {
	code := r.Category
	switch {
	case free:
		code = "O"
	case code == "" && r.Percent.IsZero():
		code = "Z"
	case code == "":
		code = "S"
	}
	if code == "O" {
		return kind{code, ""}
	}
	return kind{code, r.Percent.String()}
}

// group is what stands under one kind in the breakdown.
type group struct {
	kind
	net, tax money.Amount
	reason   string
}

// breakdown gathers the shares by kind: two codes of ours may be one to the standard. The lines must sum to it.
func (d *document) breakdown() error {
	shares := d.Totals.Shares
	if d.free() {
		shares = []tax.Share{{Net: d.Totals.Net, Tax: d.Totals.Tax}}
	}
	at := map[kind]int{}
	for _, s := range shares {
		k := kindOf(s.Rate, d.free())
		i, known := at[k]
		if !known {
			i = len(d.groups)
			at[k], d.groups = i, append(d.groups, group{kind: k})
		}
		g := &d.groups[i]
		g.net, g.tax = g.net.Add(s.Net), g.tax.Add(s.Tax)
		g.reason = cmp.Or(g.reason, s.Rate.Reason)
	}
	left := make([]money.Amount, len(d.groups))
	for i, g := range d.groups {
		left[i] = g.net
	}
	for i, l := range d.Lines {
		k, known := at[kindOf(l.Rate, d.free())]
		if !known {
			return d.wrong("no share of tax for line %d", i)
		}
		left[k] = left[k].Sub(l.Net)
	}
	for i, rest := range left {
		if rest.Sign() != 0 {
			return d.wrong("the lines at %s %s leave %s of the share", d.groups[i].code, d.groups[i].percent, rest)
		}
	}
	return nil
}

func (d *document) taxes() node {
	parts := []node{d.amount("cbc:TaxAmount", d.Totals.Tax)}
	for _, g := range d.groups {
		parts = append(parts, el("cac:TaxSubtotal", d.amount("cbc:TaxableAmount", g.net), d.amount("cbc:TaxAmount", g.tax),
			d.category("cac:TaxCategory", g.kind, d.why(g)...)))
	}
	return el("cac:TaxTotal", parts...)
}

func (d *document) category(name string, k kind, why ...node) node {
	parts := append([]node{leaf("cbc:ID", k.code), leaf("cbc:Percent", k.percent)}, why...)
	return el(name, append(parts, el("cac:TaxScheme", leaf("cbc:ID", "VAT")))...)
}

// why is the reason for charging no tax, which all categories but S and Z need: a code where there is one that goes
// without knowing the law it is by, and wording.
func (d *document) why(g group) []node {
	code, usual := "", ""
	switch g.code {
	case "AE":
		code, usual = "VATEX-EU-AE", "Reverse charge"
	case "G":
		code, usual = "VATEX-EU-G", "Export outside the tax area"
	case "O":
		code, usual = "VATEX-EU-O", "No tax is charged: the workshop is not registered for it."
	case "E":
		usual = "Exempt from tax"
	default:
		return nil
	}
	return []node{leaf("cbc:TaxExemptionReasonCode", code), leaf("cbc:TaxExemptionReason", d.tongue.Wording(cmp.Or(g.reason, usual)))}
}
