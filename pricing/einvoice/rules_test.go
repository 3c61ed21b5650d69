package einvoice_test

import (
	"fmt"
	"slices"
	"strings"

	"github.com/shopspring/decimal"
)

// rule is a business rule of EN 16931 over a parsed document. They were written anew from the standard's wording and
// compared with ConnectingEurope/eInvoicing-EN16931, ubl/schematron/UBL/EN16931-UBL-model.sch, ffa98ce2 (EUPL-1.2);
// none of its text is here. BR-CO-05 to 08 (a reason means the same as its code) are for people to judge. Rules on
// code lists are only those that our documents touch.
type rule struct {
	id    string
	holds func(d *element) bool
}

func each(list []*element, holds func(*element) bool) bool {
	return !slices.ContainsFunc(list, func(e *element) bool { return !holds(e) })
}

// having is a rule that everything at a path has something.
func having(at, what string) func(*element) bool {
	return func(d *element) bool {
		return each(d.all(at), func(e *element) bool { return e.has(what) })
	}
}

func present(path string) func(*element) bool { return func(d *element) bool { return d.has(path) } }

func perLine(holds func(*element) bool) func(*element) bool {
	return func(d *element) bool { return each(d.lines(), holds) }
}

// charges are allowances (false) or charges (true) of a document or a line.
func charges(e *element, indicator string) (found []*element) {
	for _, a := range e.all("AllowanceCharge") {
		if a.say("ChargeIndicator") == indicator {
			found = append(found, a)
		}
	}
	return found
}

func ofDocument(indicator string, holds func(*element) bool) func(*element) bool {
	return func(d *element) bool { return each(charges(d, indicator), holds) }
}

func ofLine(indicator string, holds func(*element) bool) func(*element) bool {
	return perLine(func(l *element) bool { return each(charges(l, indicator), holds) })
}

func reasoned(a *element) bool {
	return a.has("AllowanceChargeReason") || a.has("AllowanceChargeReasonCode")
}

func amounted(a *element) bool { return a.has("Amount") }

// ordered tells whether a period ends no earlier than it begins.
func ordered(p *element) bool {
	return !p.has("StartDate") || !p.has("EndDate") || p.say("EndDate") >= p.say("StartDate")
}

func filled(p *element) bool {
	return p.has("StartDate") || p.has("EndDate") || p.has("DescriptionCode")
}

// vatOf is the number a party has under the scheme VAT.
func vatOf(party *element) string {
	for _, s := range party.all("PartyTaxScheme") {
		if s.say("TaxScheme/ID") == "VAT" {
			return s.say("CompanyID")
		}
	}
	return ""
}

func first(d *element, path string) *element {
	for _, e := range d.all(path) {
		return e
	}
	return &element{}
}

func sum(list []*element, path string) (total decimal.Decimal) {
	for _, e := range list {
		total = total.Add(e.num(path))
	}
	return total
}

const (
	sellerAt = "AccountingSupplierParty/Party"
	buyerAt  = "AccountingCustomerParty/Party"
	repAt    = "TaxRepresentativeParty"
	totalAt  = "LegalMonetaryTotal"
	groupsAt = "TaxTotal/TaxSubtotal"
)

// near is CO-17 as published: the tax is less than 1 away from base × rate, rounded half away from zero.
func near(g *element) bool {
	of := g.num("TaxableAmount").Abs().Mul(g.num("TaxCategory/Percent")).Shift(-2).Round(2)
	if g.num("TaxCategory/Percent").Round(0).IsZero() {
		return g.num("TaxAmount").Round(0).IsZero()
	}
	return g.num("TaxAmount").Abs().Sub(of).Abs().LessThan(decimal.NewFromInt(1))
}

func rules() []rule {
	list := []rule{
		{"BR-01", present("CustomizationID")}, {"BR-02", present("ID")}, {"BR-03", present("IssueDate")},
		{"BR-04", func(d *element) bool { return d.has("InvoiceTypeCode") || d.has("CreditNoteTypeCode") }},
		{"BR-05", present("DocumentCurrencyCode")},
		{"BR-06", present(sellerAt + "/PartyLegalEntity/RegistrationName")}, {"BR-07", present(buyerAt + "/PartyLegalEntity/RegistrationName")},
		{"BR-08", present(sellerAt + "/PostalAddress")}, {"BR-09", present(sellerAt + "/PostalAddress/Country/IdentificationCode")},
		{"BR-10", present(buyerAt + "/PostalAddress")}, {"BR-11", present(buyerAt + "/PostalAddress/Country/IdentificationCode")},
		{"BR-12", present(totalAt + "/LineExtensionAmount")}, {"BR-13", present(totalAt + "/TaxExclusiveAmount")},
		{"BR-14", present(totalAt + "/TaxInclusiveAmount")}, {"BR-15", present(totalAt + "/PayableAmount")},
		{"BR-16", func(d *element) bool { return len(d.lines()) > 0 }},
		{"BR-17", func(d *element) bool {
			return each(d.all("PayeeParty"), func(p *element) bool {
				return p.has("PartyName/Name") && p.say("PartyName/Name") != d.say(sellerAt+"/PartyLegalEntity/RegistrationName")
			})
		}},
		{"BR-18", having(repAt, "PartyName/Name")}, {"BR-19", having(repAt, "PostalAddress")}, {"BR-20", having(repAt+"/PostalAddress", "Country/IdentificationCode")},
		{"BR-21", perLine(func(l *element) bool { return l.has("ID") })},
		{"BR-22", perLine(func(l *element) bool { return l.has("InvoicedQuantity") || l.has("CreditedQuantity") })},
		{"BR-23", perLine(func(l *element) bool {
			return each(append(l.all("InvoicedQuantity"), l.all("CreditedQuantity")...), func(q *element) bool { return q.attrs["unitCode"] != "" })
		})},
		{"BR-24", perLine(func(l *element) bool { return l.has("LineExtensionAmount") })}, {"BR-25", perLine(func(l *element) bool { return l.has("Item/Name") })},
		{"BR-26", perLine(func(l *element) bool { return l.has("Price/PriceAmount") })},
		{"BR-27", perLine(func(l *element) bool { return !l.num("Price/PriceAmount").IsNegative() })},
		{"BR-28", perLine(func(l *element) bool { return !l.num("Price/AllowanceCharge/BaseAmount").IsNegative() })},
		{"BR-29", func(d *element) bool { return each(d.all("InvoicePeriod"), ordered) }},
		{"BR-30", perLine(func(l *element) bool { return each(l.all("InvoicePeriod"), ordered) })},
		{"BR-31", ofDocument("false", amounted)}, {"BR-32", ofDocument("false", func(a *element) bool { return a.has("TaxCategory/ID") })}, {"BR-33", ofDocument("false", reasoned)},
		{"BR-36", ofDocument("true", amounted)}, {"BR-37", ofDocument("true", func(a *element) bool { return a.has("TaxCategory/ID") })}, {"BR-38", ofDocument("true", reasoned)},
		{"BR-41", ofLine("false", amounted)}, {"BR-42", ofLine("false", reasoned)}, {"BR-43", ofLine("true", amounted)}, {"BR-44", ofLine("true", reasoned)},
		{"BR-45", having(groupsAt, "TaxableAmount")}, {"BR-46", having(groupsAt, "TaxAmount")}, {"BR-47", having(groupsAt, "TaxCategory/ID")},
		{"BR-48", func(d *element) bool {
			return each(d.all(groupsAt), func(g *element) bool { return g.has("TaxCategory/Percent") || g.say("TaxCategory/ID") == "O" })
		}},
		{"BR-49", having("PaymentMeans", "PaymentMeansCode")}, {"BR-50", having("PaymentMeans/PayeeFinancialAccount", "ID")},
		{"BR-51", func(d *element) bool {
			return each(d.all("PaymentMeans/CardAccount"), func(c *element) bool { return len(c.say("PrimaryAccountNumberID")) <= 10 })
		}},
		{"BR-52", having("AdditionalDocumentReference", "ID")},
		{"BR-53", func(d *element) bool {
			return each(d.all("TaxCurrencyCode"), func(c *element) bool {
				return slices.ContainsFunc(d.all("TaxTotal/TaxAmount"), func(a *element) bool { return a.attrs["currencyID"] == c.text })
			})
		}},
		{"BR-54", perLine(func(l *element) bool {
			return each(l.all("Item/AdditionalItemProperty"), func(p *element) bool { return p.has("Name") && p.has("Value") })
		})},
		{"BR-55", having("BillingReference", "InvoiceDocumentReference/ID")},
		{"BR-56", func(d *element) bool { return each(d.all(repAt), func(p *element) bool { return vatOf(p) != "" }) }},
		{"BR-57", having("Delivery/DeliveryLocation/Address", "Country/IdentificationCode")},
		{"BR-61", func(d *element) bool {
			return each(d.all("PaymentMeans"), func(m *element) bool {
				return !slices.Contains([]string{"30", "58"}, m.say("PaymentMeansCode")) || m.has("PayeeFinancialAccount/ID")
			})
		}},
		{"BR-62", func(d *element) bool { return schemed(d.all(sellerAt+"/EndpointID"), "schemeID") }},
		{"BR-63", func(d *element) bool { return schemed(d.all(buyerAt+"/EndpointID"), "schemeID") }},
		{"BR-64", perLine(func(l *element) bool { return schemed(l.all("Item/StandardItemIdentification/ID"), "schemeID") })},
		{"BR-65", perLine(func(l *element) bool {
			return schemed(l.all("Item/CommodityClassification/ItemClassificationCode"), "listID")
		})},
		{"BR-CO-03", func(d *element) bool { return !d.has("TaxPointDate") || !d.has("InvoicePeriod/DescriptionCode") }},
		{"BR-CO-04", perLine(func(l *element) bool { return l.has("Item/ClassifiedTaxCategory/ID") })},
		{"BR-CO-09", func(d *element) bool {
			return each([]*element{first(d, sellerAt), first(d, buyerAt), first(d, repAt)}, func(p *element) bool {
				n := vatOf(p)
				return n == "" || len(n) > 2 && strings.Contains(countries, " "+n[:2]+" ")
			})
		}},
		{"BR-CO-10", func(d *element) bool {
			return d.num(totalAt + "/LineExtensionAmount").Equal(sum(d.lines(), "LineExtensionAmount"))
		}},
		{"BR-CO-11", func(d *element) bool {
			return d.num(totalAt + "/AllowanceTotalAmount").Equal(sum(charges(d, "false"), "Amount"))
		}},
		{"BR-CO-12", func(d *element) bool {
			return d.num(totalAt + "/ChargeTotalAmount").Equal(sum(charges(d, "true"), "Amount"))
		}},
		{"BR-CO-13", func(d *element) bool {
			t := first(d, totalAt)
			return t.num("TaxExclusiveAmount").Equal(t.num("LineExtensionAmount").Sub(t.num("AllowanceTotalAmount")).Add(t.num("ChargeTotalAmount")))
		}},
		{"BR-CO-14", func(d *element) bool { return d.num("TaxTotal/TaxAmount").Equal(sum(d.all(groupsAt), "TaxAmount")) }},
		{"BR-CO-15", func(d *element) bool {
			return d.num(totalAt + "/TaxInclusiveAmount").Equal(d.num(totalAt + "/TaxExclusiveAmount").Add(d.num("TaxTotal/TaxAmount")))
		}},
		{"BR-CO-16", func(d *element) bool {
			t := first(d, totalAt)
			return t.num("PayableAmount").Equal(t.num("TaxInclusiveAmount").Sub(t.num("PrepaidAmount")).Add(t.num("PayableRoundingAmount")))
		}},
		{"BR-CO-17", func(d *element) bool { return each(d.all(groupsAt), near) }},
		{"BR-CO-18", present(groupsAt)},
		{"BR-CO-19", func(d *element) bool { return each(d.all("InvoicePeriod"), filled) }},
		{"BR-CO-20", perLine(func(l *element) bool {
			return each(l.all("InvoicePeriod"), func(p *element) bool { return p.has("StartDate") || p.has("EndDate") })
		})},
		{"BR-CO-21", ofDocument("false", reasoned)}, {"BR-CO-22", ofDocument("true", reasoned)}, {"BR-CO-23", ofLine("false", reasoned)}, {"BR-CO-24", ofLine("true", reasoned)},
		{"BR-CO-25", func(d *element) bool {
			return !d.num(totalAt+"/PayableAmount").IsPositive() || d.has("DueDate") || d.has("PaymentTerms/Note")
		}},
		{"BR-CO-26", func(d *element) bool {
			p := first(d, sellerAt)
			return p.has("PartyIdentification/ID") || p.has("PartyLegalEntity/CompanyID") || vatOf(p) != ""
		}},
		{"BR-CL-01", func(d *element) bool { // only the codes that we use
			return slices.Contains([]string{"380", "386", "326"}, d.say("InvoiceTypeCode")) || d.say("CreditNoteTypeCode") == "381"
		}},
		{"BR-CL-04", func(d *element) bool { // only the currencies that we use
			return each(d.all("DocumentCurrencyCode"), func(c *element) bool { return strings.Contains(" DKK EUR GBP JPY KWD NOK SEK ", " "+c.text+" ") })
		}},
		{"BR-CL-14", func(d *element) bool { return each(d.below("IdentificationCode"), isCountry) }},
		{"BR-CL-16", func(d *element) bool { // only the means that we use
			return each(d.all("PaymentMeans/PaymentMeansCode"), func(c *element) bool { return c.text == "30" || c.text == "58" })
		}},
		{"BR-CL-17", func(d *element) bool { // only the categories that we use
			return each(slices.Concat(d.below("TaxCategory"), d.below("ClassifiedTaxCategory")), func(c *element) bool {
				return slices.Contains([]string{"S", "Z", "E", "AE", "G", "O"}, c.say("ID"))
			})
		}},
		{"BR-CL-23", perLine(func(l *element) bool { // Rec. 20, only the units that we use
			q := append(l.all("InvoicedQuantity"), l.all("CreditedQuantity")...)
			return each(append(q, l.all("Price/BaseQuantity")...), func(e *element) bool { return e.attrs["unitCode"] == "H87" || e.attrs["unitCode"] == "C62" })
		})},
	}
	for id, path := range map[string]string{
		"09": totalAt + "/LineExtensionAmount", "10": totalAt + "/AllowanceTotalAmount", "11": totalAt + "/ChargeTotalAmount", "12": totalAt + "/TaxExclusiveAmount",
		"13": "TaxTotal/TaxAmount", "14": totalAt + "/TaxInclusiveAmount", "16": totalAt + "/PrepaidAmount", "17": totalAt + "/PayableRoundingAmount",
		"18": totalAt + "/PayableAmount", "19": groupsAt + "/TaxableAmount", "20": groupsAt + "/TaxAmount",
	} {
		list = append(list, rule{"BR-DEC-" + id, func(d *element) bool { return each(d.all(path), short) }})
	}
	list = append(list, rule{"BR-DEC-23", perLine(func(l *element) bool { return each(l.all("LineExtensionAmount"), short) })})
	for id, c := range map[string][2]string{"01": {"false", "Amount"}, "02": {"false", "BaseAmount"}, "05": {"true", "Amount"}, "06": {"true", "BaseAmount"}} {
		list = append(list, rule{"BR-DEC-" + id, ofDocument(c[0], func(a *element) bool { return each(a.all(c[1]), short) })})
	}
	for id, c := range map[string][2]string{"24": {"false", "Amount"}, "25": {"false", "BaseAmount"}, "27": {"true", "Amount"}, "28": {"true", "BaseAmount"}} {
		list = append(list, rule{"BR-DEC-" + id, ofLine(c[0], func(a *element) bool { return each(a.all(c[1]), short) })})
	}
	for _, code := range []string{"S", "Z", "E", "AE", "G", "O"} {
		list = append(list, family(code)...)
	}
	return list
}

func schemed(list []*element, attr string) bool {
	return each(list, func(e *element) bool { return e.attrs[attr] != "" })
}

// short is an amount of at most two places.
func short(a *element) bool {
	_, places, _ := strings.Cut(a.text, ".")
	return len(places) <= 2
}

// family are the rules of a category.
func family(code string) []rule {
	id := func(n int) string { return fmt.Sprintf("BR-%s-%02d", code, n) }
	is := func(path string) func(*element) bool {
		return func(e *element) bool { return e.say(path) == code }
	}
	of := func(list []*element, path string) (found []*element) {
		for _, e := range list {
			if is(path)(e) {
				found = append(found, e)
			}
		}
		return found
	}
	lines := func(d *element) []*element { return of(d.lines(), "Item/ClassifiedTaxCategory/ID") }
	less := func(d *element) []*element { return of(charges(d, "false"), "TaxCategory/ID") }
	more := func(d *element) []*element { return of(charges(d, "true"), "TaxCategory/ID") }
	groups := func(d *element) []*element { return of(d.all(groupsAt), "TaxCategory/ID") }
	percent := func(e *element, path string) bool {
		switch code {
		case "S":
			return e.num(path).IsPositive()
		case "O":
			return !e.has(path)
		}
		return e.has(path) && e.num(path).IsZero()
	}
	numbered := func(d *element) bool {
		seller, buyer, rep := first(d, sellerAt), first(d, buyerAt), vatOf(first(d, repAt)) != ""
		switch code {
		case "O":
			return vatOf(seller) == "" && vatOf(buyer) == "" && !rep
		case "G":
			return vatOf(seller) != "" || rep
		case "AE":
			return (seller.has("PartyTaxScheme/CompanyID") || rep) && (vatOf(buyer) != "" || buyer.has("PartyLegalEntity/CompanyID"))
		}
		return seller.has("PartyTaxScheme/CompanyID") || rep
	}
	list := []rule{
		{id(1), func(d *element) bool {
			used, n := len(lines(d))+len(less(d))+len(more(d)) > 0, len(groups(d))
			return !used && n == 0 || used && (n == 1 || n > 0 && code == "S")
		}},
		{id(2), func(d *element) bool { return len(lines(d)) == 0 || numbered(d) }},
		{id(3), func(d *element) bool { return len(less(d)) == 0 || numbered(d) }},
		{id(4), func(d *element) bool { return len(more(d)) == 0 || numbered(d) }},
		{id(5), func(d *element) bool {
			return each(lines(d), func(l *element) bool { return percent(l, "Item/ClassifiedTaxCategory/Percent") })
		}},
		{id(6), func(d *element) bool {
			return each(less(d), func(a *element) bool { return percent(a, "TaxCategory/Percent") })
		}},
		{id(7), func(d *element) bool {
			return each(more(d), func(a *element) bool { return percent(a, "TaxCategory/Percent") })
		}},
		{id(8), func(d *element) bool {
			return each(groups(d), func(g *element) bool {
				at := func(list []*element, path, amount string) (total decimal.Decimal) {
					for _, e := range list {
						if code != "S" || e.num(path).Equal(g.num("TaxCategory/Percent")) {
							total = total.Add(e.num(amount))
						}
					}
					return total
				}
				off := at(lines(d), "Item/ClassifiedTaxCategory/Percent", "LineExtensionAmount").Add(at(more(d), "TaxCategory/Percent", "Amount")).
					Sub(at(less(d), "TaxCategory/Percent", "Amount")).Sub(g.num("TaxableAmount"))
				return off.IsZero() || code == "S" && off.Abs().LessThan(decimal.NewFromInt(1))
			})
		}},
		{id(9), func(d *element) bool {
			return each(groups(d), func(g *element) bool {
				if code == "S" {
					return near(g)
				}
				return g.num("TaxAmount").IsZero()
			})
		}},
		{id(10), func(d *element) bool {
			return each(groups(d), func(g *element) bool {
				said := g.has("TaxCategory/TaxExemptionReason") || g.has("TaxCategory/TaxExemptionReasonCode")
				return said != (code == "S" || code == "Z")
			})
		}},
	}
	if code != "O" {
		return list
	}
	alone := func(others func(d *element) int) func(*element) bool {
		return func(d *element) bool { return len(groups(d)) == 0 || others(d) == 0 }
	}
	return append(list,
		rule{id(11), alone(func(d *element) int { return len(d.all(groupsAt)) - len(groups(d)) })},
		rule{id(12), alone(func(d *element) int { return len(d.lines()) - len(lines(d)) })},
		rule{id(13), alone(func(d *element) int { return len(charges(d, "false")) - len(less(d)) })},
		rule{id(14), alone(func(d *element) int { return len(charges(d, "true")) - len(more(d)) })})
}

// isCountry is one of ISO 3166-1 that our documents use.
func isCountry(c *element) bool { return strings.Contains(" BE DE FR GB JP ", " "+c.text+" ") }

// countries are the prefixes of VAT numbers that our documents use, of ISO 3166-1 with EL and XI.
const countries = " AT AU BE CH DE EL ES FR GB IE IT JP NL XI ZA "
