package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// linked is an issued quote with options, and the path of a link to it.
func (s *shop) linked(options ...sales.Option) (sales.Quote, string) {
	s.t.Helper()
	designs, err := s.sales.Designs(s.t.Context())
	s.must(err)
	var form orderform.Form
	for _, d := range designs {
		if d.Name == "Ferry buckler" {
			form = d.Form
		}
	}
	customer, err := s.sales.KeepCustomer(s.t.Context(), sales.Customer{Name: "Hedda of the Sound", Email: "hedda@sound.example"})
	s.must(err)
	q, err := s.sales.NewQuote(s.t.Context(), customer.ID, "Ferry buckler", form)
	s.must(err)
	if len(options) > 0 {
		q, err = s.sales.SaveOptions(s.t.Context(), q.ID, q.Edit, options)
		s.must(err)
	}
	return s.sent(q)
}

// sent issues a draft and makes a link to it.
func (s *shop) sent(q sales.Quote) (sales.Quote, string) {
	s.t.Helper()
	e, err := s.sales.Estimate(s.t.Context(), q.CustomerID, q.Form)
	s.must(err)
	_, err = s.sales.Issue(s.t.Context(), q.ID, sales.Shown{Digest: e.Digest, Gross: e.Price.Gross.String()}, "The owner")
	s.must(err)
	secret, err := s.sales.Link(s.t.Context(), q.ID, "The owner")
	s.must(err)
	q, err = s.sales.Quote(s.t.Context(), q.ID)
	s.must(err)
	return q, "/q/" + secret
}

var _ = strings.Contains
var _ = url.Values{}
var _ = people.Owner

func TestACustomerOrders(t *testing.T) {
	s := stocked(t)
	_, path := s.linked()
	v := s.visit()
	page := v.get(path).want(http.StatusOK)
	t.Log(page.words())
}
