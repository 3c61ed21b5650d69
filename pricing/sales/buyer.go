package sales

import (
	"strings"

	"golang.org/x/text/language"

	"foamwright/materials/fault"
	"foamwright/pricing/tax"
	"foamwright/pricing/words"
)

// buys reads how a customer is written to and taxed, and adds what is wrong with it.
func (c *Customer) buys(l *fault.List) {
	c.Language, c.Country, c.TaxNumber = strings.ToLower(strings.TrimSpace(c.Language)), strings.ToUpper(strings.TrimSpace(c.Country)), strings.TrimSpace(c.TaxNumber)
	if c.Language != "" && words.Speak(c.Language).Code() != c.Language {
		var codes []string
		for _, t := range words.Tongues() {
			codes = append(codes, t.Code())
		}
		l.Add("customer.language", c.Language, "Documents are not written in this language. Choose one of "+strings.Join(codes, ", ")+".")
	}
	if r, err := language.ParseRegion(c.Country); c.Country != "" && (err != nil || !r.IsCountry() || r.String() != c.Country) {
		l.Add("customer.country", c.Country, "Write the two letters of the country (ISO 3166), for example NL, or leave it empty for your own.")
	}
	long(l, "customer.tax_number", c.TaxNumber, 40)
	_, err := tax.ParseTreatment(string(c.Treatment))
	_ = l.Take("customer.treatment", err) // always a fault
	if c.Treatment != tax.ReverseCharge {
		return
	}
	if !c.Business {
		l.Add("customer.business", "", "Only a business can owe the tax itself. Say that it is one, or charge tax as usual.")
	}
	if c.TaxNumber == "" {
		l.Add("customer.tax_number", "", "Write the tax number of the business: reverse charge needs it on every document.")
	}
}
