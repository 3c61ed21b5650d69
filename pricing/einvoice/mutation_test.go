package einvoice_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// breach is a document broken in the way that one rule forbids.
type breach struct {
	of      string // the document
	spoiled func(t *testing.T, d *element)
}

func without(path string) breach {
	return breach{"balance", func(_ *testing.T, d *element) { d.drop(path) }}
}

func put(path, text string) breach {
	return breach{"balance", func(_ *testing.T, d *element) { d.set(path, text) }}
}

// with puts an element in; written without prefixes.
func with(at, fragment string) breach {
	return breach{"balance", func(t *testing.T, d *element) { d.add(t, at, fragment) }}
}

// charge is an allowance or a charge, whole but for what is replaced.
func charge(indicator string, spoil ...string) string {
	return strings.NewReplacer(spoil...).Replace("<AllowanceCharge><ChargeIndicator>" + indicator + "</ChargeIndicator><AllowanceChargeReason>r</AllowanceChargeReason><Amount>0</Amount><BaseAmount>1</BaseAmount>" +
		"<TaxCategory><ID>S</ID><Percent>21</Percent></TaxCategory></AllowanceCharge>")
}

const (
	unamounted, unreasoned, uncategorised = "<Amount>0</Amount>", "<AllowanceChargeReason>r</AllowanceChargeReason>", "<ID>S</ID>"
	longAmount, longBase                  = "<Amount>0.000</Amount>", "<BaseAmount>1.000</BaseAmount>"
	base                                  = "<BaseAmount>1</BaseAmount>"
)

func breaches() map[string]breach {
	rep := func(inside string) breach {
		return with("", "<TaxRepresentativeParty>"+inside+"</TaxRepresentativeParty>")
	}
	backwards := "<InvoicePeriod><StartDate>2027-02-01</StartDate><EndDate>2027-01-31</EndDate></InvoicePeriod>"
	list := map[string]breach{
		"BR-01": without("CustomizationID"), "BR-02": without("ID"), "BR-03": without("IssueDate"), "BR-04": without("InvoiceTypeCode"), "BR-05": put("DocumentCurrencyCode", ""),
		"BR-06": without(sellerAt + "/PartyLegalEntity"), "BR-07": without(buyerAt + "/PartyLegalEntity"), "BR-08": without(sellerAt + "/PostalAddress"),
		"BR-09": put(sellerAt+"/PostalAddress/Country/IdentificationCode", ""), "BR-10": without(buyerAt + "/PostalAddress"), "BR-11": without(buyerAt + "/PostalAddress/Country"),
		"BR-12": without(totalAt + "/LineExtensionAmount"), "BR-13": without(totalAt + "/TaxExclusiveAmount"), "BR-14": without(totalAt + "/TaxInclusiveAmount"), "BR-15": without(totalAt + "/PayableAmount"),
		"BR-16": without("InvoiceLine"), "BR-17": with("", "<PayeeParty><PartyName><Name>Kestrel Yard Propworks</Name></PartyName></PayeeParty>"),
		"BR-18": rep("<PostalAddress><Country/></PostalAddress>"), "BR-19": rep("<PartyName><Name>r</Name></PartyName>"), "BR-20": rep("<PostalAddress><CityName>x</CityName></PostalAddress>"),
		"BR-21": without("InvoiceLine/ID"), "BR-22": without("InvoiceLine/InvoicedQuantity"), "BR-23": breach{"balance", func(_ *testing.T, d *element) {
			d.all("InvoiceLine/InvoicedQuantity")[0].attrs = nil
		}},
		"BR-24": without("InvoiceLine/LineExtensionAmount"), "BR-25": without("InvoiceLine/Item/Name"), "BR-26": without("InvoiceLine/Price"), "BR-27": put("InvoiceLine/Price/PriceAmount", "-1"),
		"BR-28": with("InvoiceLine/Price", "<AllowanceCharge><BaseAmount>-1</BaseAmount></AllowanceCharge>"), "BR-29": with("", backwards), "BR-30": with("InvoiceLine", backwards),
		"BR-31": with("", charge("false", unamounted, "")), "BR-32": with("", charge("false", uncategorised, "")), "BR-33": with("", charge("false", unreasoned, "")),
		"BR-36": with("", charge("true", unamounted, "")), "BR-37": with("", charge("true", uncategorised, "")), "BR-38": with("", charge("true", unreasoned, "")),
		"BR-41": with("InvoiceLine", charge("false", unamounted, "")), "BR-42": with("InvoiceLine", charge("false", unreasoned, "")),
		"BR-43": with("InvoiceLine", charge("true", unamounted, "")), "BR-44": with("InvoiceLine", charge("true", unreasoned, "")),
		"BR-45": without(groupsAt + "/TaxableAmount"), "BR-46": without(groupsAt + "/TaxAmount"), "BR-47": without(groupsAt + "/TaxCategory/ID"), "BR-48": without(groupsAt + "/TaxCategory/Percent"),
		"BR-49": without("PaymentMeans/PaymentMeansCode"), "BR-50": put("PaymentMeans/PayeeFinancialAccount/ID", ""),
		"BR-51": with("PaymentMeans", "<CardAccount><PrimaryAccountNumberID>12345678901</PrimaryAccountNumberID></CardAccount>"),
		"BR-52": with("", "<AdditionalDocumentReference><DocumentType>x</DocumentType></AdditionalDocumentReference>"), "BR-53": with("", "<TaxCurrencyCode>GBP</TaxCurrencyCode>"),
		"BR-54": with("InvoiceLine/Item", "<AdditionalItemProperty><Name>colour</Name></AdditionalItemProperty>"), "BR-55": put("BillingReference/InvoiceDocumentReference/ID", ""),
		"BR-56": rep("<PartyTaxScheme><CompanyID>1</CompanyID><TaxScheme><ID>TAX</ID></TaxScheme></PartyTaxScheme>"),
		"BR-57": with("Delivery", "<DeliveryLocation><Address><CityName>x</CityName></Address></DeliveryLocation>"), "BR-61": without("PaymentMeans/PayeeFinancialAccount"),
		"BR-62": with(sellerAt, "<EndpointID>1</EndpointID>"), "BR-63": with(buyerAt, "<EndpointID>1</EndpointID>"),
		"BR-64":    with("InvoiceLine/Item", "<StandardItemIdentification><ID>1</ID></StandardItemIdentification>"),
		"BR-65":    with("InvoiceLine/Item", "<CommodityClassification><ItemClassificationCode>1</ItemClassificationCode></CommodityClassification>"),
		"BR-CO-03": with("", "<InvoicePeriod><DescriptionCode>35</DescriptionCode></InvoicePeriod>"), "BR-CO-04": without("InvoiceLine/Item/ClassifiedTaxCategory/ID"),
		"BR-CO-09": put(sellerAt+"/PartyTaxScheme/CompanyID", "0123456749"), "BR-CO-10": put(totalAt+"/LineExtensionAmount", "286.90"),
		"BR-CO-11": put(totalAt+"/AllowanceTotalAmount", ""), "BR-CO-12": put(totalAt+"/ChargeTotalAmount", ""), "BR-CO-13": put(totalAt+"/TaxExclusiveAmount", "286.90"),
		"BR-CO-14": put("TaxTotal/TaxAmount", "60.26"), "BR-CO-15": put(totalAt+"/TaxInclusiveAmount", "347.17"), "BR-CO-16": put(totalAt+"/PayableAmount", "347.17"),
		"BR-CO-17": put(groupsAt+"/TaxAmount", "61.25"), "BR-CO-18": without(groupsAt), "BR-CO-19": with("", "<InvoicePeriod/>"), "BR-CO-20": with("InvoiceLine", "<InvoicePeriod/>"),
		"BR-CO-21": with("", charge("false", unreasoned, "")), "BR-CO-22": with("", charge("true", unreasoned, "")),
		"BR-CO-23": with("InvoiceLine", charge("false", unreasoned, "")), "BR-CO-24": with("InvoiceLine", charge("true", unreasoned, "")),
		"BR-CO-25": breach{"balance", func(_ *testing.T, d *element) { d.drop("DueDate"); d.drop("PaymentTerms") }}, "BR-CO-26": without(sellerAt + "/PartyTaxScheme"),
		"BR-CL-01": put("InvoiceTypeCode", "999"), "BR-CL-04": put("DocumentCurrencyCode", "EURO"), "BR-CL-14": put(buyerAt+"/PostalAddress/Country/IdentificationCode", "UK"),
		"BR-CL-16": put("PaymentMeans/PaymentMeansCode", "58x"), "BR-CL-17": put("InvoiceLine/Item/ClassifiedTaxCategory/ID", "X"),
		"BR-CL-23":  breach{"balance", func(_ *testing.T, d *element) { d.all("InvoiceLine/InvoicedQuantity")[0].attrs["unitCode"] = "pc" }},
		"BR-DEC-01": with("", charge("false", unamounted, longAmount)), "BR-DEC-02": with("", charge("false", base, longBase)), "BR-DEC-05": with("", charge("true", unamounted, longAmount)),
		"BR-DEC-06": with("", charge("true", base, longBase)), "BR-DEC-24": with("InvoiceLine", charge("false", unamounted, longAmount)), "BR-DEC-25": with("InvoiceLine", charge("false", base, longBase)),
		"BR-DEC-27": with("InvoiceLine", charge("true", unamounted, longAmount)), "BR-DEC-28": with("InvoiceLine", charge("true", base, longBase)),
		"BR-DEC-10": with(totalAt, "<AllowanceTotalAmount>0.000</AllowanceTotalAmount>"), "BR-DEC-11": with(totalAt, "<ChargeTotalAmount>0.000</ChargeTotalAmount>"),
		"BR-DEC-16": with(totalAt, "<PrepaidAmount>0.000</PrepaidAmount>"), "BR-DEC-17": with(totalAt, "<PayableRoundingAmount>0.000</PayableRoundingAmount>"),
		"BR-DEC-09": put(totalAt+"/LineExtensionAmount", "286.910"), "BR-DEC-12": put(totalAt+"/TaxExclusiveAmount", "286.910"), "BR-DEC-13": put("TaxTotal/TaxAmount", "60.250"),
		"BR-DEC-14": put(totalAt+"/TaxInclusiveAmount", "347.160"), "BR-DEC-18": put(totalAt+"/PayableAmount", "347.160"), "BR-DEC-19": put(groupsAt+"/TaxableAmount", "286.910"),
		"BR-DEC-20": put(groupsAt+"/TaxAmount", "60.250"), "BR-DEC-23": put("InvoiceLine/LineExtensionAmount", "478.180"),
	}
	list["BR-CO-03"] = breach{"balance", func(t *testing.T, d *element) {
		d.add(t, "", "<InvoicePeriod><DescriptionCode>35</DescriptionCode></InvoicePeriod>")
		d.add(t, "", "<TaxPointDate>2027-02-01</TaxPointDate>")
	}}
	list["BR-CO-11"], list["BR-CO-12"] = with("", charge("false", unamounted, "<Amount>1</Amount>")), with("", charge("true", unamounted, "<Amount>1</Amount>"))
	for code, name := range map[string]string{"S": "balance", "Z": "zero-rated", "E": "exempt", "AE": "reverse charge", "G": "export", "O": "unregistered"} {
		of := func(spoiled func(t *testing.T, d *element)) breach { return breach{name, spoiled} }
		putting := func(path, text string) breach { return of(func(_ *testing.T, d *element) { d.set(path, text) }) }
		wrong, tax := "1", "0.01"
		if code == "S" {
			wrong, tax = "0", "61.25"
		}
		own := func(indicator, percent string) string {
			return charge(indicator, "<ID>S</ID><Percent>21</Percent>", "<ID>"+code+"</ID>"+percent)
		}
		// Whom the category needs or forbids to have a number.
		numbers := func(d *element, t *testing.T) {
			switch code {
			case "O":
				d.add(t, sellerAt, "<PartyTaxScheme><CompanyID>BE0123456749</CompanyID><TaxScheme><ID>VAT</ID></TaxScheme></PartyTaxScheme>")
			case "AE":
				d.drop(buyerAt + "/PartyTaxScheme")
			case "G":
				d.set(sellerAt+"/PartyTaxScheme/TaxScheme/ID", "TAX")
			default:
				d.drop(sellerAt + "/PartyTaxScheme")
			}
		}
		id := func(n int) string { return fmt.Sprintf("BR-%s-%02d", code, n) }
		list[id(1)] = of(func(_ *testing.T, d *element) { d.drop(groupsAt) })
		list[id(2)] = of(func(t *testing.T, d *element) { numbers(d, t) })
		list[id(3)] = of(func(t *testing.T, d *element) { d.add(t, "", own("false", "")); numbers(d, t) })
		list[id(4)] = of(func(t *testing.T, d *element) { d.add(t, "", own("true", "")); numbers(d, t) })
		list[id(5)] = putting("InvoiceLine/Item/ClassifiedTaxCategory/Percent", wrong)
		if code == "O" {
			list[id(5)] = of(func(t *testing.T, d *element) {
				d.add(t, "InvoiceLine/Item/ClassifiedTaxCategory", "<Percent>0</Percent>")
			})
		}
		list[id(6)] = of(func(t *testing.T, d *element) { d.add(t, "", own("false", "<Percent>"+wrong+"</Percent>")) })
		list[id(7)] = of(func(t *testing.T, d *element) { d.add(t, "", own("true", "<Percent>"+wrong+"</Percent>")) })
		list[id(8)] = putting(groupsAt+"/TaxableAmount", "1")
		list[id(9)] = putting(groupsAt+"/TaxAmount", tax)
		list[id(10)] = of(func(_ *testing.T, d *element) {
			d.drop(groupsAt + "/TaxCategory/TaxExemptionReason")
			d.drop(groupsAt + "/TaxCategory/TaxExemptionReasonCode")
		})
		if code == "S" || code == "Z" {
			list[id(10)] = of(func(t *testing.T, d *element) {
				d.add(t, groupsAt+"/TaxCategory", "<TaxExemptionReason>none</TaxExemptionReason>")
			})
		}
	}
	unregistered := func(at, fragment string) breach {
		return breach{"unregistered", func(t *testing.T, d *element) { d.add(t, at, fragment) }}
	}
	list["BR-O-11"] = unregistered("TaxTotal", "<TaxSubtotal><TaxCategory><ID>S</ID></TaxCategory></TaxSubtotal>")
	list["BR-O-12"] = unregistered("", "<InvoiceLine><Item><ClassifiedTaxCategory><ID>S</ID></ClassifiedTaxCategory></Item></InvoiceLine>")
	list["BR-O-13"], list["BR-O-14"] = unregistered("", charge("false")), unregistered("", charge("true"))
	return list
}

// TestEachRuleBites: a rule that never fails proves nothing.
func TestEachRuleBites(t *testing.T) {
	list := breaches()
	docs := documents()
	var ids []string
	for _, r := range rules() {
		ids = append(ids, r.id)
		b, known := list[r.id]
		if !known {
			t.Errorf("nothing breaks %s", r.id)
			continue
		}
		doc := parse(t, ubl(t, docs[b.of]))
		b.spoiled(t, doc)
		if r.holds(doc) {
			t.Errorf("%s holds for a document that breaks it", r.id)
		}
	}
	for id := range list {
		if !slices.Contains(ids, id) {
			t.Errorf("a breach of %s, which is no rule here", id)
		}
	}
	if len(ids) != 168 {
		t.Errorf("%d rules", len(ids))
	}
}
