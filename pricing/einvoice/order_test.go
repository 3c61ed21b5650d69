package einvoice_test

import (
	"slices"
	"strings"
	"testing"
)

// sequences are the orders in which UBL 2.1 has the elements of ours within each other (its schemas, as read in
// public copies; what lies between them is left out). Elements that have others in them are of its aggregate
// components, those with a text of its basic ones.
func sequences() map[string]string {
	const party = "PartyIdentification PartyName PostalAddress PartyTaxScheme PartyLegalEntity Contact"
	head, foot := "CustomizationID ProfileID ID IssueDate ", "DocumentCurrencyCode OrderReference BillingReference AccountingSupplierParty AccountingCustomerParty Delivery PaymentMeans PaymentTerms TaxTotal LegalMonetaryTotal "
	line := "LineExtensionAmount Item Price"
	return map[string]string{
		"Invoice": head + "DueDate InvoiceTypeCode Note " + foot + "InvoiceLine", "CreditNote": head + "CreditNoteTypeCode Note " + foot + "CreditNoteLine",
		"OrderReference": "ID SalesOrderID", "BillingReference": "InvoiceDocumentReference", "InvoiceDocumentReference": "ID IssueDate",
		"AccountingSupplierParty": "Party", "AccountingCustomerParty": "Party", "Party": party, "PartyIdentification": "ID",
		"PostalAddress": "StreetName AdditionalStreetName CityName PostalZone AddressLine Country", "AddressLine": "Line", "Country": "IdentificationCode",
		"PartyTaxScheme": "CompanyID TaxScheme", "TaxScheme": "ID", "PartyLegalEntity": "RegistrationName CompanyID", "Contact": "Name Telephone ElectronicMail",
		"Delivery": "ActualDeliveryDate", "PaymentMeans": "PaymentMeansCode PaymentID PayeeFinancialAccount", "PayeeFinancialAccount": "ID Name FinancialInstitutionBranch", "FinancialInstitutionBranch": "ID",
		"PaymentTerms": "Note", "TaxTotal": "TaxAmount TaxSubtotal", "TaxSubtotal": "TaxableAmount TaxAmount TaxCategory",
		"TaxCategory": "ID Percent TaxExemptionReasonCode TaxExemptionReason TaxScheme", "ClassifiedTaxCategory": "ID Percent TaxScheme",
		"LegalMonetaryTotal": "LineExtensionAmount TaxExclusiveAmount TaxInclusiveAmount AllowanceTotalAmount ChargeTotalAmount PrepaidAmount PayableRoundingAmount PayableAmount",
		"InvoiceLine":        "ID InvoicedQuantity " + line, "CreditNoteLine": "ID CreditedQuantity " + line, "Item": "Description Name ClassifiedTaxCategory", "Price": "PriceAmount BaseQuantity",
	}
}

func TestElementsAreInTheOrderOfUBL(t *testing.T) {
	known := sequences()
	list := documents()
	for _, name := range named(list) {
		var look func(e *element)
		look = func(e *element) {
			order, may := known[e.name]
			aggregate := strings.HasSuffix(e.space, ":CommonAggregateComponents-2") || strings.HasSuffix(e.space, ":"+e.name+"-2")
			if may != (len(e.kids) > 0) || may != aggregate || !may && !strings.HasSuffix(e.space, ":CommonBasicComponents-2") {
				t.Errorf("%s: %s is of %s and has %d elements", name, e.name, e.space, len(e.kids))
			}
			at := 0
			for _, k := range e.kids {
				i := slices.Index(strings.Fields(order), k.name)
				if i < at {
					t.Errorf("%s: %s within %s is not where UBL has it", name, k.name, e.name)
				}
				at = max(at, i)
				look(k)
			}
		}
		look(parse(t, ubl(t, list[name])))
	}
}
