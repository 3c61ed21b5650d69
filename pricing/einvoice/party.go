package einvoice

import (
	"slices"
	"strings"
	"unicode"

	"foamwright/pricing/sales"
)

// seller is who sends the invoice. A tax number that begins with the country's letters is the VAT number (BT-31);
// another is a tax registration (BT-32) and, since the seller must be known by a number, its identifier too (BT-29).
// Who is not registered must not name a VAT number.
func (d *document) seller() node {
	p := d.Seller
	number, isVAT := vat(p)
	id, scheme := "", "VAT"
	if !isVAT || d.free() {
		id, scheme = number, "TAX"
	}
	return el("cac:Party",
		el("cac:PartyIdentification", leaf("cbc:ID", id)),
		address(p), registered(number, scheme),
		el("cac:PartyLegalEntity", leaf("cbc:RegistrationName", p.Name)),
		el("cac:Contact", leaf("cbc:Telephone", p.Phone), leaf("cbc:ElectronicMail", p.Email)))
}

// buyer is who gets the invoice: its VAT number (BT-48) or else the number it is registered under (BT-47). Where no
// tax is charged for want of a registration, no VAT number may stand there.
func (d *document) buyer() node {
	p := d.Buyer
	number, isVAT := vat(p)
	tax, legal := number, ""
	switch {
	case !isVAT:
		tax, legal = "", number
	case d.free():
		tax = ""
	}
	return el("cac:Party", address(p), registered(tax, "VAT"),
		el("cac:PartyLegalEntity", leaf("cbc:RegistrationName", p.Name), leaf("cbc:CompanyID", legal)),
		el("cac:Contact", leaf("cbc:Telephone", p.Phone), leaf("cbc:ElectronicMail", p.Email)))
}

// registered is a tax number under its scheme.
func registered(number, scheme string) node {
	if number == "" {
		return node{}
	}
	return el("cac:PartyTaxScheme", leaf("cbc:CompanyID", number), el("cac:TaxScheme", leaf("cbc:ID", scheme)))
}

// vat is a party's tax number without spaces and signs, and whether it is a VAT number: one that begins with the
// letters of the party's own country (Greece's are EL, Northern Ireland's XI).
func vat(p sales.Party) (number string, is bool) {
	number = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || strings.ContainsRune("-./", r) {
			return -1
		}
		return unicode.ToUpper(r)
	}, p.TaxNumber)
	prefixes := []string{p.Country}
	switch p.Country {
	case "GR":
		prefixes = []string{"EL"}
	case "GB":
		prefixes = []string{"GB", "XI"}
	}
	return number, len(number) > 2 && slices.Contains(prefixes, number[:2])
}

// address spreads the lines: the last is the town with its code, those before are streets.
func address(p sales.Party) node {
	var lines []string
	for _, s := range p.Address {
		if s = strings.TrimSpace(s); s != "" {
			lines = append(lines, s)
		}
	}
	town := ""
	if n := len(lines); n > 0 {
		town, lines = lines[n-1], lines[:n-1]
	}
	street := func(i int) string {
		if i < len(lines) {
			return lines[i]
		}
		return ""
	}
	more := ""
	if len(lines) > 2 {
		more = strings.Join(lines[2:], ", ")
	}
	return el("cac:PostalAddress", leaf("cbc:StreetName", street(0)), leaf("cbc:AdditionalStreetName", street(1)), leaf("cbc:CityName", town),
		el("cac:AddressLine", leaf("cbc:Line", more)), el("cac:Country", leaf("cbc:IdentificationCode", p.Country)))
}
