package sales

import (
	"context"
	"reflect"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/materials/stock"
	"foamwright/pricing"
	"foamwright/pricing/workshop"
)

// Service is what the faces call.
type Service struct {
	store  Store
	render Renderer
	now    func() time.Time

	mailServer string // empty where none is set
	invoiceXML func(Invoice) ([]byte, error)
}

// NewService joins the books to a renderer and a clock.
func NewService(store Store, render Renderer, now func() time.Time) *Service {
	return &Service{store: store, render: render, now: now}
}

// WriteXMLWith says what writes the XML of invoices. It is said once, before the service is used.
func (s *Service) WriteXMLWith(write func(Invoice) ([]byte, error)) { s.invoiceXML = write }

// twin is an invoice for other programs.
func (s *Service) twin(i Invoice) ([]byte, error) {
	if s.invoiceXML == nil {
		return nil, fault.New(fault.State, "Nothing writes invoices for other programs here.")
	}
	return s.invoiceXML(i)
}

// Now is the time by the clock of the workshop.
func (s *Service) Now() time.Time { return s.now() }

// read runs an act that gives one thing back.
func read[T any](ctx context.Context, s *Service, act func(Tx) (T, error)) (T, error) {
	var got T
	err := s.store.Act(ctx, func(tx Tx) (err error) {
		got, err = act(tx)
		return err
	})
	return got, err
}

// Workshop is the settings, with today's catalogue and prices.
func (s *Service) Workshop(ctx context.Context) (workshop.Workshop, error) {
	return read(ctx, s, func(tx Tx) (workshop.Workshop, error) { return tx.Workshop(ctx, s.now()) })
}

// Name is the workshop's.
func (s *Service) Name(ctx context.Context) (string, error) {
	return read(ctx, s, func(tx Tx) (string, error) { return tx.Name(ctx) })
}

// SetWorkshop replaces the settings after a check; by is who says so. When somebody else changed them since they were
// read, it is a Conflict. When the shelf is valued another way from now on, the books are made to equal what lies there.
func (s *Service) SetWorkshop(ctx context.Context, w workshop.Workshop, by string) error {
	if err := w.Check(); err != nil {
		return err
	}
	return s.store.Act(ctx, func(tx Tx) error {
		now := s.now()
		if err := tx.LockWorkshop(ctx); err != nil {
			return err
		}
		was, err := tx.Workshop(ctx, now)
		if err != nil {
			return err
		}
		if was.Edit != w.Edit {
			return fault.New(fault.Conflict, "Somebody else changed the settings of the workshop. Open the page again to see them; what you typed is still in the form.")
		}
		if s := was.Standing(); !s.Same(w.Standing()) {
			s.Until = time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, now.Location())
			if err := tx.KeepStanding(ctx, s); err != nil {
				return err
			}
		}
		if c := w.Figures.Rates.Currency; c != was.Figures.Rates.Currency {
			if err := tx.SetCurrency(ctx, c); err != nil {
				return err
			}
		}
		next := w
		next.Edit++
		if err := tx.SetWorkshop(ctx, next); err != nil || was.Costing == w.Costing || w.Costing != stock.FirstIn {
			return err
		}
		return stock.Recost(ctx, tx, by, now)
	})
}

// Estimate prices a written spec with today's figures, for a customer or, without an ID, for nobody in particular;
// nothing is stored.
func (s *Service) Estimate(ctx context.Context, customerID string, form orderform.Form) (pricing.Estimate, error) {
	spec, snap, err := s.asked(ctx, customerID, form)
	if err != nil {
		return pricing.Estimate{}, err
	}
	return pricing.Make(ctx, spec, snap, pricing.Live)
}

// Figures are what a customer's prices are made from today; of nobody in particular where none is named.
func (s *Service) Figures(ctx context.Context, customerID string) (pricing.Snapshot, error) {
	return read(ctx, s, func(tx Tx) (snap pricing.Snapshot, err error) {
		w, err := tx.Workshop(ctx, s.now())
		if err != nil {
			return snap, err
		}
		var c Customer
		if customerID != "" {
			c, err = tx.Customer(ctx, customerID)
		}
		return priced(w, c, s.now()), err
	})
}

// asked is a written spec and today's figures for a customer. One who is not there is nobody in particular: who keeps
// the quote is told.
func (s *Service) asked(ctx context.Context, customerID string, form orderform.Form) (spec shield.Spec, snap pricing.Snapshot, err error) {
	if spec, err = form.Spec(); err != nil {
		return spec, snap, err
	}
	now := s.now()
	err = s.store.Act(ctx, func(tx Tx) error {
		w, err := tx.Workshop(ctx, now)
		if err != nil {
			return err
		}
		var c Customer
		if customerID != "" {
			if c, err = tx.Customer(ctx, customerID); err != nil && fault.KindOf(err) != fault.NotFound {
				return err
			}
		}
		snap = priced(w, c, now)
		return nil
	})
	return spec, snap, err
}

// Customers lists customers by name.
func (s *Service) Customers(ctx context.Context, f Found) ([]Customer, error) {
	return read(ctx, s, func(tx Tx) ([]Customer, error) { return tx.Customers(ctx, f) })
}

// Customer is one customer.
func (s *Service) Customer(ctx context.Context, id string) (Customer, error) {
	return read(ctx, s, func(tx Tx) (Customer, error) { return tx.Customer(ctx, id) })
}

// KeepCustomer adds a customer, or changes the one with its ID.
func (s *Service) KeepCustomer(ctx context.Context, c Customer) (Customer, error) {
	var l fault.List
	c.Name, c.Email, c.Phone, c.Address = strings.TrimSpace(c.Name), strings.TrimSpace(c.Email), strings.TrimSpace(c.Phone), strings.TrimSpace(c.Address)
	if c.Name == "" {
		l.Add("customer.name", "", "Write a name: it stands on the quote.")
	}
	oneLine(&l, "customer.name", c.Name)
	oneLine(&l, "customer.email", c.Email)
	long(&l, "customer.name", c.Name, 120)
	long(&l, "customer.email", c.Email, 200)
	long(&l, "customer.phone", c.Phone, 60)
	long(&l, "customer.address", c.Address, 500)
	long(&l, "customer.note", c.Note, 4000)
	if c.Email != "" && !strings.Contains(c.Email, "@") {
		l.Add("customer.email", c.Email, "This is no mail address: there is no @ in it. Correct it or leave it empty.")
	}
	c.buys(&l)
	if err := l.Err(); err != nil {
		return c, err
	}
	if c.ID == "" {
		c.ID = newID()
	}
	c.Changed = s.now()
	return c, s.store.Act(ctx, func(tx Tx) error { return tx.KeepCustomer(ctx, c) })
}

// Designs lists the designs by name.
func (s *Service) Designs(ctx context.Context) ([]Design, error) {
	return read(ctx, s, func(tx Tx) ([]Design, error) { return tx.Designs(ctx) })
}

// Design is one design.
func (s *Service) Design(ctx context.Context, id string) (Design, error) {
	return read(ctx, s, func(tx Tx) (Design, error) { return tx.Design(ctx, id) })
}

// KeepDesign adds a design, or changes the one with its ID. Its spec need not be makeable yet.
func (s *Service) KeepDesign(ctx context.Context, d Design) (Design, error) {
	var l fault.List
	if d.Name = strings.TrimSpace(d.Name); d.Name == "" {
		l.Add("name", "", "Give the design a name, for example Heron kite.")
	}
	long(&l, "name", d.Name, 120)
	long(&l, "note", d.Note, 4000)
	if err := l.Err(); err != nil {
		return d, err
	}
	d.Version, d.Changed = 1, s.now()
	fresh := d.ID == ""
	if fresh {
		d.ID = newID()
	}
	return d, s.store.Act(ctx, func(tx Tx) error {
		if fresh {
			return tx.KeepDesign(ctx, d)
		}
		was, err := tx.LockDesign(ctx, d.ID)
		if err != nil {
			return err
		}
		if d.Version = was.Version; !reflect.DeepEqual(was.Form, d.Form) {
			d.Version++
		}
		return tx.KeepDesign(ctx, d)
	})
}

func long(l *fault.List, field, value string, most int) {
	if utf8.RuneCountInString(value) > most {
		l.Add(field, value, "This is too long. Shorten it.")
	}
}

// newID is a new key: time-ordered, so that rows lie in the order they came.
func newID() string { return uuid.Must(uuid.NewV7()).String() }

// Begin gives a workshop without settings its first ones, and its first catalogue.
func (s *Service) Begin(ctx context.Context, first workshop.Workshop, list stock.List) error {
	return s.store.Act(ctx, func(tx Tx) error {
		if _, err := tx.Workshop(ctx, s.now()); fault.KindOf(err) != fault.State {
			return err
		}
		// Another program that begins at the same moment is waited for here; then the catalogue is there.
		if err := tx.SetWorkshop(ctx, first); err != nil {
			return err
		}
		return stock.Fill(ctx, tx, list)
	})
}
