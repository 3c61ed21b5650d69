package pdf

import (
	"github.com/johnfercher/maroto/v2/pkg/core"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/props"

	"foamwright/pricing/transfer"
)

// payCode is the side of the payment code, mm.
const payCode = 34.0

// payment says how to pay, with a code for the payer's bank where the currency is EUR and an account is there.
func (i *invoice) payment() {
	t := i.tongue
	var facts [][2]string
	said := i.Terms
	payload := ""
	switch {
	case i.credit() && said == "":
		said = t.Say("The amount is set off against what is open, or paid back.")
	case i.credit():
	case i.Payable().Sign() <= 0:
		said = t.Say("Nothing is left to pay.")
	default:
		facts = i.account()
		payload = i.payload()
	}
	width := full - inset
	b := &block{height: 5}
	if payload != "" {
		width -= payCode + 8
		b.marks = append(b.marks, func(p core.Provider, x, y float64) {
			cell := entity.Cell{X: x + full - payCode, Y: y + 6, Width: payCode, Height: payCode}
			p.AddQrCode(payload, &cell, &props.Rect{Percent: 100})
		})
	}
	b.texts(0, b.height+3.1, i.wrap(t.Say("Payment"), aside, inset-4))
	y := b.height + 3.1
	if said != "" {
		y = b.texts(inset, y, i.wrap(said, text, width)) + 1
	}
	const value = inset + 30
	for _, f := range facts {
		b.text(inset, y, i.short(f[0], quiet, value-inset-2))
		y = b.texts(value, y, i.wrap(f[1], text, width-value+inset))
	}
	if payload != "" {
		caption := i.wrap(t.Say("Scan to pay with your bank's app"), fine, payCode)
		at := 6 + payCode + 7.0
		for _, l := range caption {
			b.text(full-payCode/2-l.width/2, at, l)
			at += l.lead
		}
		y = max(y, at)
	}
	if said == "" && facts == nil {
		return
	}
	b.height = y
	i.add(b)
}

// account is where to pay to, and by when unless the terms say it; without an IBAN it is only how much and by when.
func (i *invoice) account() (list [][2]string) {
	t := i.tongue
	add := func(what, value string) {
		if value != "" {
			list = append(list, [2]string{what, value})
		}
	}
	add(t.Say("To pay"), t.Price(i.Payable()))
	if !i.Due.IsZero() && i.Terms == "" {
		add(t.Say("Payable by"), t.Date(i.Due))
	}
	if i.Account.IBAN != "" {
		add(t.Say("Account holder"), i.holder())
		add(t.Say("IBAN"), transfer.Grouped(i.Account.IBAN))
		add(t.Say("BIC"), i.Account.BIC)
	}
	add(t.Say("Reference"), transfer.Grouped(i.Reference))
	return list
}

func (i *invoice) holder() string {
	if i.Account.Name != "" {
		return i.Account.Name
	}
	return i.Seller.Name
}

// payload is what the code says; empty where there can be no code: another currency, no account, or more than it
// has room for. The same stands beside it in print.
func (i *invoice) payload() string {
	o := transfer.Order{Name: i.holder(), IBAN: i.Account.IBAN, BIC: i.Account.BIC, Amount: i.Payable(), Reference: i.Reference}
	if o.Reference == "" {
		o.Text = i.name()
	}
	said, err := o.Payload()
	if err != nil {
		return ""
	}
	return said
}
