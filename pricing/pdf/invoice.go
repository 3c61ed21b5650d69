package pdf

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"foamwright/pricing/sales"
	"foamwright/pricing/transfer"
	"foamwright/pricing/words"
)

// invoice is an invoice or a credit note while it is laid out.
type invoice struct {
	sales.Invoice
	tongue words.Tongue
	paper
}

// Invoice prints an invoice or a credit note in its language. Fields are those that check lists of several countries
// ask for; whether they are all that local law wants is the maker's to know. It fails when ctx ends before its turn
// comes.
func (r *Renderer) Invoice(ctx context.Context, s sales.Invoice) ([]byte, error) {
	leave, err := r.wait(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	i := &invoice{Invoice: s, tongue: words.Speak(s.Language), paper: paper{setter: newSetter(r.faces)}}
	i.compose()
	subject := i.name()
	if i.Buyer.Name != "" {
		subject = i.tongue.Say("%s for %s", i.name(), i.Buyer.Name)
	}
	return i.bind(about{
		title: i.name() + ": " + i.Title, subject: subject, author: i.Seller.Name,
		foot: i.name() + "  ·  " + i.Seller.Name, date: i.Issued, tongue: i.tongue,
	})
}

// compose lays it out: head, facts and buyer, lines with the sums under them, what was invoiced before, wording, and
// how to pay.
func (i *invoice) compose() {
	i.head()
	i.top()
	i.table()
	i.earlier()
	if i.Reason != "" {
		i.section(i.tongue.Say("Reason"), []string{i.Reason})
	}
	remarks := i.Remarks
	if i.free() && len(remarks) == 0 {
		remarks = []string{i.tongue.Say("No tax is charged: the workshop is not registered for it.")}
	}
	i.section(i.tongue.Say("Remarks"), remarks)
	i.payment()
}

func (i *invoice) credit() bool { return i.Kind == sales.CreditNote }

// free is whether the seller is not registered for tax.
func (i *invoice) free() bool { return len(i.Totals.Shares) == 0 }

// abroad is whether seller and buyer are known to be in two countries.
func (i *invoice) abroad() bool {
	return i.Seller.Country != "" && i.Buyer.Country != "" && i.Seller.Country != i.Buyer.Country
}

// name is what the document is called, with its number.
func (i *invoice) name() string { return i.called() + " " + i.Number.In(i.tongue) }

func (i *invoice) called() string { return cmp.Or(i.titleWords(), i.kind(i.Kind)) }

// titleWords are those that the law of the seller's country wants at the top of a registered seller's document:
// Australia (ATO) and South Africa (VAT Act, section 20) say so; New Zealand took the same, from memory.
func (i *invoice) titleWords() string {
	switch {
	case i.free() || !slices.Contains([]string{"AU", "NZ", "ZA"}, i.Seller.Country):
	case !i.credit():
		return i.tongue.Say("Tax invoice")
	case i.Seller.Country == "AU":
		return i.tongue.Say("Adjustment note")
	}
	return ""
}

func (i *invoice) kind(k sales.BillKind) string {
	switch k {
	case sales.DepositBill:
		return i.tongue.Say("Deposit invoice")
	case sales.PartBill:
		return i.tongue.Say("Part invoice")
	case sales.BalanceBill:
		return i.tongue.Say("Final invoice")
	case sales.CreditNote:
		return i.tongue.Say("Credit note")
	}
	return i.tongue.Say("Invoice")
}

// head is the seller: name, address, and the tax number where tax is charged or a number is there all the same.
func (i *invoice) head() { i.letterhead(i.Seller.Name, i.ways(i.Seller)) }

// ways are a party's address and how else to reach it.
func (i *invoice) ways(p sales.Party) []string {
	ways := slices.Clone(p.Address)
	if i.abroad() {
		ways = append(ways, i.tongue.Country(p.Country))
	}
	ways = append(ways, p.Email, p.Phone)
	if p.TaxNumber != "" {
		ways = append(ways, i.tongue.Say("Tax number %s", p.TaxNumber))
	}
	return ways
}

// top is the document's name with its facts, and beside them whom it is for. An invoice over the counter may name
// nobody.
func (i *invoice) top() {
	b := &block{}
	const right, value = 104.0, 34.0
	lines := i.wrap(i.name(), heading, right-8)
	if len(lines) > 1 { // a number stays whole
		lines = append(i.wrap(i.called(), heading, right-8), i.wrap(i.Number.In(i.tongue), heading, right-8)...)
	}
	y := b.texts(0, 7, lines)
	if i.titleWords() != "" && i.Kind != sales.SaleBill {
		y = b.texts(0, y-2.5, i.wrap(i.kind(i.Kind), quiet, right-8)) + 1.5
	}
	for _, f := range i.facts() {
		b.text(0, y, i.short(f[0], quiet, value-2))
		y = b.texts(value, y, i.wrap(f[1], text, right-8-value))
	}
	r := 3.0
	if i.Buyer.Name != "" {
		b.text(right, r, i.set(i.tongue.Say("For"), fine))
		r = b.texts(right, r+5, i.wrap(i.Buyer.Name, aside, full-right))
		for _, s := range i.ways(i.Buyer) {
			if s != "" {
				r = b.texts(right, r, i.wrap(s, text, full-right))
			}
		}
	}
	b.height = max(y, r) + 5
	i.add(b)
}

// facts stand beside the buyer: what, and its value.
func (i *invoice) facts() (list [][2]string) {
	t := i.tongue
	add := func(what, value string) {
		if value != "" {
			list = append(list, [2]string{what, value})
		}
	}
	add(t.Say("Date"), t.Date(i.Issued))
	if i.Credits.Number.No != 0 {
		add(t.Say("For invoice"), t.Say("%s, issued on %s", i.Credits.Number.In(t), t.Date(i.Credits.Issued)))
	}
	if !i.Supplied.IsZero() {
		add(t.Say("Date of supply"), t.Date(i.Supplied))
	}
	order := i.Order.In(t)
	if order != "" && i.Title != "" {
		order += ", " + i.Title
	}
	add(t.Say("Order"), strings.TrimSpace(order))
	if !i.credit() {
		if !i.Due.IsZero() && i.Payable().Sign() > 0 { // sold and paid at a stall, it asks for nothing
			add(t.Say("Payable by"), t.Date(i.Due))
		}
		add(t.Say("Reference"), transfer.Grouped(i.Reference))
	}
	return list
}

// earlier are the invoices that the lines take off.
func (i *invoice) earlier() {
	var list []string
	for _, e := range i.Before {
		list = append(list, i.tongue.Say("%s of %s: %s", i.kind(e.Kind)+" "+e.Number.In(i.tongue), i.tongue.Date(e.Issued), i.tongue.Price(e.Gross)))
	}
	i.section(i.tongue.Say("Invoiced before"), list)
}
