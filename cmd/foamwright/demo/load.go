package demo

import (
	"context"
	"embed"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"
)

//go:embed designs
var designs embed.FS

// NewWorkshop is what a new workshop begins with: the demo's catalogue and rates, its own name still to be written.
func NewWorkshop(now time.Time) (workshop.Workshop, error) {
	figures, err := Snapshot(now)
	w := workshop.Usual()
	w.Head, w.Terms, w.Figures = workshop.Head{Name: "My workshop"}, workshop.UsualTerms(), figures
	return w, err
}

// Workshop is Kestrel Yard Propworks.
func Workshop(now time.Time) (workshop.Workshop, error) {
	w, err := NewWorkshop(now)
	w.Head = workshop.Head{
		Name: "Kestrel Yard Propworks", Address: []string{"7 Sailcloth Yard", "Harrowmouth"},
		Email: "bench@kestrel-yard.example", Phone: "+00 555 0142", TaxNumber: "KY 0142 7781",
	}
	return w, err
}

// listed are the four designs, by file.
func listed() []struct{ file, name, note string } {
	return []struct{ file, name, note string }{
		{"heron-kite.json", "Heron kite", "Curved, rim, heron and three gems"},
		{"tidewall-heater.json", "Tidewall heater", "Three layers, two straps, latex"},
		{"ferry-buckler.json", "Ferry buckler", "Small and round, for the off hand"},
		{"reed-oval.json", "Reed oval", "Flat oval without latex"},
	}
}

// Load puts designs, customers, the owner and the issued quote of the demo enquiry into the books, once: a second
// time it finds what is there and gives the quote back.
func Load(ctx context.Context, books *sales.Service, folk *people.Service) (sales.Quote, error) {
	if _, err := Owner(ctx, folk); err != nil {
		return sales.Quote{}, err
	}
	found, err := books.Quotes(ctx, sales.Found{Words: "Heron kite"})
	if err != nil {
		return sales.Quote{}, err
	}
	for _, q := range found {
		if q.State == sales.Issued && q.Version == 1 {
			return books.Quote(ctx, q.ID)
		}
	}
	forms := map[string]orderform.Form{}
	for _, d := range listed() {
		data, err := designs.ReadFile("designs/" + d.file)
		if err != nil {
			return sales.Quote{}, err
		}
		form, err := orderform.Parse(data)
		if err != nil {
			return sales.Quote{}, err
		}
		forms[d.name] = form
		if _, err := books.KeepDesign(ctx, sales.Design{Name: d.name, Note: d.note, Form: form}); err != nil && fault.KindOf(err) != fault.Conflict {
			return sales.Quote{}, err
		}
	}
	var ilse sales.Customer
	for _, c := range []sales.Customer{
		{Name: "Mara Quist", Email: "mara@ferry-house.example", Address: "2 Ferry Steps\nHarrowmouth"},
		{Name: "Jonas Adler", Email: "jonas@tidewall.example", Phone: "+00 555 0178"},
		{Name: "Ilse of the White Fen", Email: "ilse@white-fen.example", Address: "The Long House\nWhite Fen", Note: "Plays left-handed."},
	} {
		kept, err := books.KeepCustomer(ctx, c)
		if err != nil {
			return sales.Quote{}, err
		}
		ilse = kept
	}
	return issue(ctx, books, ilse, forms["Heron kite"])
}

// issue quotes the demo enquiry the way a maker does on the page.
func issue(ctx context.Context, books *sales.Service, customer sales.Customer, form orderform.Form) (sales.Quote, error) {
	q, err := books.NewQuote(ctx, customer.ID, "Heron kite", form)
	if err != nil {
		return q, err
	}
	e, err := books.Estimate(ctx, q.Form)
	if err != nil {
		return q, err
	}
	if _, err := books.Issue(ctx, q.ID, sales.Shown{Digest: e.Digest, Gross: e.Price.Gross.String()}, "Wren Calloway"); err != nil {
		return q, err
	}
	return books.Quote(ctx, q.ID)
}

// Owner is the demo workshop's owner, added when there is nobody yet.
func Owner(ctx context.Context, folk *people.Service) (people.Person, error) {
	all, err := folk.People(ctx)
	if err != nil {
		return people.Person{}, err
	}
	for _, p := range all {
		if p.Role == people.Owner && p.Active() {
			return p, nil
		}
	}
	return folk.Add(ctx, people.Entry{Login: "wren", Name: "Wren Calloway", Role: people.Owner})
}
