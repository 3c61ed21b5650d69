package sales

import (
	"context"
	"slices"
	"strings"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/enquiry"
)

// NewCustomer, instead of an ID, asks for a new customer.
const NewCustomer = "new"

// QuoteEnquiry drafts the quote of an enquiry: for a customer of the list, or for a new one made of who asks. Where
// somebody with the same mail address or name is on the list, it has to be said which it is. Asked twice, it gives the
// quote that is there.
func (s *Service) QuoteEnquiry(ctx context.Context, id, customer string) (Quote, error) {
	return read(ctx, s, func(tx Tx) (Quote, error) {
		e, err := tx.LockEnquiry(ctx, id)
		if err != nil {
			return Quote{}, err
		}
		if e.QuoteID != "" {
			return tx.Quote(ctx, e.QuoteID)
		}
		if e.State == EnquiryClosed {
			return Quote{}, fault.New(fault.State, "This enquiry was closed. Open it again first.")
		}
		all, err := s.enquired(ctx, tx, e)
		if err != nil {
			return Quote{}, err
		}
		c, err := s.asker(ctx, tx, all, customer)
		if err != nil {
			return Quote{}, err
		}
		now := s.now()
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return Quote{}, err
		}
		form, _ := all.Reading.Draft(UsualForm(w.Figures.Catalogue), all.Questions)
		if all.Event != nil {
			stated := form.Rule
			if form, err = all.Event.For(form); err != nil {
				return Quote{}, err
			}
			if all.Reading.Value(enquiry.Rule) != "" { // a rule that was named is not overruled
				form.Rule = stated
			}
		}
		q := Quote{ID: newID(), Version: 1, State: Draft, CustomerID: c.ID, Title: all.Reading.Title(), Form: form, Created: now, Changed: now}
		if err := tx.AddQuote(ctx, q); err != nil {
			return Quote{}, err
		}
		if all.Event != nil {
			if err := tx.SetEventOf(ctx, q.ID, all.Event.ID); err != nil {
				return Quote{}, err
			}
		}
		e.QuoteID, e.State, e.Changed, e.Edit = q.ID, EnquiryQuoted, now, e.Edit+1
		if err := tx.SaveEnquiry(ctx, e); err != nil {
			return Quote{}, err
		}
		return tx.Quote(ctx, q.ID)
	})
}

// named is the event of the list that is called so, or whose name begins or goes on so, where just one is; those that are
// over are not meant. nil for none.
func (s *Service) named(ctx context.Context, tx Tx, name string) (*Event, error) {
	if name == "" {
		return nil, nil
	}
	list, err := tx.Events(ctx)
	name = strings.ToLower(name)
	list = slices.DeleteFunc(list, func(e Event) bool {
		known := strings.ToLower(e.Name)
		return e.Over(s.now()) || !strings.HasPrefix(known, name) && !strings.HasPrefix(name, known)
	})
	if len(list) != 1 {
		return nil, err
	}
	return &list[0], err
}

// asker is the customer an enquiry is quoted to.
func (s *Service) asker(ctx context.Context, tx Tx, e Enquired, customer string) (Customer, error) {
	switch {
	case customer == "" && len(e.Same) > 0:
		return Customer{}, problem("customer", "", "Somebody with the same mail address or name is a customer already. Choose whether it is they, or a new customer.")
	case customer != "" && customer != NewCustomer:
		c, err := tx.Customer(ctx, customer)
		return c, noCustomer(customer, err)
	}
	c := Customer{ID: newID(), Name: e.Name, Email: e.Mail, Phone: e.Phone, Language: e.Language, Changed: s.now()}
	if c.Name == "" {
		return c, problem("name", "", "Write a name: it stands on the quote.")
	}
	return c, tx.KeepCustomer(ctx, c)
}

// UsualForm is what a blank quote begins with: two layers of the first foam that is offered.
func UsualForm(c materials.Catalogue) orderform.Form {
	foam := "mat-10"
	if len(c.Foams) > 0 {
		foam = c.Foams[0].Code
	}
	for _, f := range c.Foams {
		if f.Code == "mat-10" {
			foam = f.Code
		}
	}
	return orderform.Form{Core: orderform.Core{Foam: orderform.T(foam), Layers: orderform.T("2")}}
}

// EnquiryOf is the enquiry a quote came of, whichever version it is of; false without one. Notes say beside the entries
// of its spec what is still asked.
func (s *Service) EnquiryOf(ctx context.Context, q Quote) (e Enquired, notes map[string]string, found bool, err error) {
	err = s.store.Act(ctx, func(tx Tx) error {
		is, err := tx.EnquiryOf(ctx, q)
		if fault.KindOf(err) == fault.NotFound {
			return nil
		}
		if err != nil {
			return err
		}
		if e, err = s.enquired(ctx, tx, is); err != nil {
			return err
		}
		found = true
		_, notes = e.Reading.Draft(orderform.Form{}, e.Questions)
		return nil
	})
	return e, notes, found, err
}

// unquoted takes an enquiry back to where it stood before a draft that is thrown away.
func unquoted(ctx context.Context, tx Tx, q Quote) error {
	e, err := tx.EnquiryOf(ctx, q)
	if fault.KindOf(err) == fault.NotFound || err == nil && e.QuoteID != q.ID {
		return nil
	}
	if err != nil {
		return err
	}
	e.QuoteID = ""
	if e.State == EnquiryQuoted {
		e.State = e.stands()
	}
	e.Edit++
	return tx.SaveEnquiry(ctx, e)
}
