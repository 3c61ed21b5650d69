package sales_test

import (
	"strings"
	"testing"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"
)

// What is wrong with how a customer is written to and taxed is said by the field, all at once; nothing is kept.
func TestBuyersThatAreNotKept(t *testing.T) {
	s := sales.NewService(nil, nil, time.Now)
	for want, c := range map[string]sales.Customer{
		"customer.language":                     {Language: "tlh"},
		"customer.country":                      {Country: "Harrowmouth"},
		"customer.country ":                     {Country: "ZZ"},
		"customer.country  ":                    {Country: "040"},
		"customer.treatment":                    {Treatment: "a favour"},
		"customer.business customer.tax_number": {Treatment: tax.ReverseCharge},
		"customer.tax_number":                   {Treatment: tax.ReverseCharge, Business: true},
		"customer.tax_number ":                  {TaxNumber: strings.Repeat("7", 41)},
	} {
		c.Name = "Bram"
		_, err := s.KeepCustomer(t.Context(), c)
		var fields []string
		for _, p := range fault.ProblemsOf(err) {
			fields = append(fields, p.Field)
		}
		if got := strings.Join(fields, " "); got != strings.TrimSpace(want) {
			t.Errorf("%+v: %q, want %q", c, got, want)
		}
	}
}
