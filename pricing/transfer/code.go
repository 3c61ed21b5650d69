package transfer

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/pricing/money"
)

// Order is a transfer to make, as a code to scan says it.
type Order struct {
	Name      string // who is paid, at most 70 characters
	IBAN, BIC string // the BIC may be missing within the European Economic Area
	Amount    money.Amount
	Purpose   string // up to four letters; usually none
	Reference string // RF reference; or else
	Text      string // up to 140 characters
	Info      string // for the payer, up to 70 characters
}

// The limits of EPC069-12 (version 2.1 of 2012): characters of the fields, bytes of the whole, and the least and
// the largest amount in EUR.
const (
	mostName, mostPurpose, mostText, mostInfo = 70, 4, 140, 70
	mostBytes                                 = 331
)

// area is the European Economic Area by the letters that IBANs begin with, from memory; there the BIC may be left out.
const area = "AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IS IT LI LT LU LV MT NL NO PL PT RO SE SI SK"

// Payload is the text of the order's code: UTF-8, lines parted by a line feed, empty ones at the end left out. A
// fault says what the code has no room for; the code itself is to be of error level M, which keeps 331 bytes within
// version 13.
func (o Order) Payload() (string, error) {
	var l fault.List
	note := func(field string, err error) { _ = l.Take(field, err) } // always a fault
	iban, err := ParseIBAN(o.IBAN)
	note("iban", err)
	bic, err := ParseBIC(o.BIC)
	note("bic", err)
	switch {
	case err == nil && iban == "":
		l.Add("iban", "", "Write the IBAN that is paid to.")
	case err == nil && iban != "" && bic == "" && !strings.Contains(area, iban[:2]):
		l.Add("bic", "", "An account outside the European Economic Area needs its BIC in a code. Write it beside the IBAN.")
	}
	reference := ""
	if o.Reference != "" {
		reference, err = ParseReference(o.Reference)
		note("reference", err)
	}
	least, most := decimal.New(1, -2), decimal.New(99999999999, -2)
	if a := o.Amount.Decimal(); o.Amount.Currency() != "EUR" || a.LessThan(least) || a.GreaterThan(most) {
		l.Add("amount", o.Amount.String()+" "+string(o.Amount.Currency()), "A code can ask for 0.01 to 999999999.99 EUR and for no other currency.")
	}
	name, text, info := line(o.Name), line(o.Text), line(o.Info)
	if name == "" {
		l.Add("name", "", "Write who holds the account.")
	}
	if reference != "" && text != "" {
		l.Add("text", text, "A code has either a reference or a text. Leave one of them out.")
	}
	for _, f := range []struct {
		field, value string
		most         int
	}{{"name", name, mostName}, {"purpose", o.Purpose, mostPurpose}, {"text", text, mostText}, {"info", info, mostInfo}} {
		if utf8.RuneCountInString(f.value) > f.most {
			l.Add(f.field, f.value, fmt.Sprintf("A code has room for %d characters. Shorten it.", f.most))
		}
	}
	said := strings.TrimRight(strings.Join([]string{
		"BCD", "002", "1", "SCT", bic, name, iban, "EUR" + o.Amount.String(), bare(o.Purpose), reference, text, info,
	}, "\n"), "\n")
	if l.Empty() && len(said) > mostBytes {
		l.Add("", said, fmt.Sprintf("The code would have %d bytes, %d are the most. Shorten the name or the text.", len(said), mostBytes))
	}
	return said, l.Err()
}

// line is a text on one line.
func line(s string) string { return strings.Join(strings.Fields(s), " ") }
