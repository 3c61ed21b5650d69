package api

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
	"foamwright/pricing/tax"

	"github.com/danielgtaylor/huma/v2"
)

// Customer is who a quote is for.
type Customer struct {
	ID      string    `json:"id" format:"uuid"`
	Name    string    `json:"name"`
	Email   string    `json:"email"`
	Phone   string    `json:"phone"`
	Address string    `json:"address" doc:"lines"`
	Note    string    `json:"note" doc:"seen by the workshop only"`
	Changed time.Time `json:"changed"`
	Buyer
}

// Buyer is how a customer is written to and taxed.
type Buyer struct {
	Language  string `json:"language,omitempty" doc:"of documents: en, de or fr; left out for English"`
	Business  bool   `json:"business,omitempty" doc:"no consumer"`
	TaxNumber string `json:"tax_number,omitempty" maxLength:"40"`
	Country   string `json:"country,omitempty" doc:"ISO 3166-1, two letters; left out for the workshop's own"`
	Treatment string `json:"treatment,omitempty" doc:"how tax is charged: reverse charge, export or exempt; left out for as usual"`
	PayFirst  bool   `json:"pay_first,omitempty" doc:"the whole price is the deposit"`
}

type customerEntry struct {
	Name    string `json:"name" maxLength:"120"`
	Email   string `json:"email,omitempty" maxLength:"200"`
	Phone   string `json:"phone,omitempty" maxLength:"60"`
	Address string `json:"address,omitempty" maxLength:"500" doc:"lines"`
	Note    string `json:"note,omitempty" maxLength:"4000" doc:"seen by the workshop only"`
	Buyer
}

type customerList struct {
	Customers []Customer `json:"customers"`
}

func customerOf(c sales.Customer) Customer {
	return Customer{
		c.ID, c.Name, c.Email, c.Phone, c.Address, c.Note, c.Changed.UTC(),
		Buyer{c.Language, c.Business, c.TaxNumber, c.Country, string(c.Treatment), c.PayFirst},
	}
}

// keepCustomer writes an entry over the customer with an id, or to a new one.
func (f *face) keepCustomer(ctx context.Context, id string, e customerEntry) (Customer, error) {
	c, err := f.Sales.KeepCustomer(ctx, sales.Customer{
		ID: id, Name: e.Name, Email: e.Email, Phone: e.Phone, Address: e.Address, Note: e.Note,
		Language: e.Language, Business: e.Business, TaxNumber: e.TaxNumber, Country: e.Country, Treatment: tax.Treatment(e.Treatment), PayFirst: e.PayFirst,
	})
	return customerOf(c), atTop(err, "customer.")
}

func (f *face) customers() {
	operation(f, op("GET /customers", "list-customers", "Customers by name", invalid),
		func(ctx context.Context, in *narrowing) (*answer[customerList], error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			customers, err := f.Sales.Customers(ctx, found)
			return &answer[customerList]{customerList{each(customers, customerOf)}}, err
		})
	taking(f, op("POST /customers", "add-customer", "Add a customer").created(),
		func(ctx context.Context, _ *none, e customerEntry) (*made[Customer], error) {
			c, err := f.keepCustomer(ctx, "", e)
			return &made[Customer]{Path + "/customers/" + c.ID, c}, err
		})
	operation(f, op("GET /customers/{id}", "customer", "One customer"), func(ctx context.Context, in *byID) (*answer[Customer], error) {
		c, err := f.Sales.Customer(ctx, in.ID)
		return &answer[Customer]{customerOf(c)}, err
	})
	taking(f, op("PUT /customers/{id}", "change-customer", "Change a customer as a whole"),
		func(ctx context.Context, in *byID, e customerEntry) (*answer[Customer], error) {
			c, err := f.Sales.Customer(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			changed, err := f.keepCustomer(ctx, c.ID, e)
			return &answer[Customer]{changed}, err
		})
}

// narrowing is how a list is narrowed.
type narrowing struct {
	Words string `query:"words" doc:"found anywhere in a name, title or number"`
	Most  most   `query:"most"`
}

// most is a count that is read by us, so that we say what is wrong with it.
type most string

const mostRows = 200

// Schema is a whole number.
func (most) Schema(huma.Registry) *huma.Schema {
	least, largest := 1.0, float64(mostRows)
	return &huma.Schema{Type: huma.TypeInteger, Minimum: &least, Maximum: &largest, Default: mostRows, Description: "how many at most"}
}

func (n narrowing) found() (sales.Found, error) {
	if n.Most == "" {
		return sales.Found{Words: n.Words, Most: mostRows}, nil
	}
	rows, err := strconv.Atoi(string(n.Most))
	var l fault.List
	if err != nil || rows < 1 || rows > mostRows {
		l.Add("most", string(n.Most), "Write a whole number from 1 to "+strconv.Itoa(mostRows)+", or leave it out.")
	}
	return sales.Found{Words: n.Words, Most: rows}, l.Err()
}

// atTop takes a group's name off the fields of a fault, where the body is that group.
func atTop(err error, group string) error {
	var f *fault.Fault
	if !errors.As(err, &f) || len(f.Problems) == 0 {
		return err
	}
	top := *f
	top.Problems = slices.Clone(f.Problems)
	for i := range top.Problems {
		top.Problems[i].Field = strings.TrimPrefix(top.Problems[i].Field, group)
	}
	return &top
}
