package demo

import (
	"context"
	"embed"
	"fmt"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/stock"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
	"foamwright/pricing/schedule"
	"foamwright/pricing/workshop"
)

//go:embed designs
var designs embed.FS

// NewWorkshop is what a new workshop begins with: the demo's catalogue and rates, its own name and the size rules of the
// games it makes for still to be written.
func NewWorkshop(now time.Time) (workshop.Workshop, error) {
	figures, err := Snapshot(now)
	w := workshop.Usual()
	w.Head, w.Terms, w.Foreign, w.Figures = workshop.Head{Name: "My workshop"}, workshop.UsualTerms(), workshop.UsualForeign(), figures
	w.Figures.Rules = nil
	return w, err
}

// Workshop is Kestrel Yard Propworks.
func Workshop(now time.Time) (workshop.Workshop, error) {
	w, err := NewWorkshop(now)
	w.Head = workshop.Head{
		Name: "Kestrel Yard Propworks", Address: []string{"7 Sailcloth Yard", "Harrowmouth"},
		Email: "bench@kestrel-yard.example", Phone: "+00 555 0142", TaxNumber: "KY 0142 7781",
		Country: "IE", Holder: "Kestrel Yard Propworks", IBAN: "IE07KEST00000001427781", // an invented bank in a country that writes English and pays in euro
	}
	w.Figures.Rules = rules()
	w.Air, w.FixedCosts = yardAir(), decimal.NewFromInt(140) // a corner of a shared yard, insured
	return w, err
}

// yardAir is that of a yard by the water: heated in winter and damp all the same.
func yardAir() (air [12]schedule.Climate) {
	for i, month := range [12][2]int64{{15, 75}, {16, 70}, {20, 50}, {20, 50}, {20, 50}, {22, 55}, {24, 60}, {24, 60}, {20, 55}, {18, 65}, {16, 72}, {15, 75}} {
		air[i] = schedule.Climate{Celsius: decimal.NewFromInt(month[0]), Humidity: decimal.NewFromInt(month[1])}
	}
	return air
}

// listed are the designs, by file.
func listed() []struct{ file, name, note string } {
	return []struct{ file, name, note string }{
		{"heron-kite.json", "Heron kite", "Curved, rim, heron and three gems"},
		{"tidewall-heater.json", "Tidewall heater", "Three layers, two straps, latex"},
		{"ferry-buckler.json", "Ferry buckler", "Small and round, for the off hand"},
		{"reed-oval.json", "Reed oval", "Flat oval without latex"},
		{"gullwing-heater.json", "Gullwing heater", "Curved, a gull under a band of gems"},
		{"sedge-oval.json", "Sedge oval", "Flat, sun and reeds in many pieces"},
		{"lantern-tower.json", "Lantern tower", "A drawing file, as wide as it stands"},
		{"hive-hexagon.json", "Hive hexagon", "Six sides, seven cells and a stone"},
	}
}

// wish is an enquiry as people write them: some of it is plain, some could mean two things.
const wish = `Morning, we are a new band and need twelve of the same: heaters, about 50 wide and 3 foot or 80 high, curved, deep blue with a white rim.
Marshlight rules. Two of us are left-handed. We would need them by June and can collect them.

Thanks,
Bram Tollgate, quartermaster
bram@tollgate-band.example`

// Books are what the demo is written into: the services as they were at any moment, for a workshop has a past.
type Books struct {
	Sales  func(at time.Time) *sales.Service
	Shelf  func(at time.Time) *stock.Service
	People *people.Service
	Now    time.Time

	busy bool // with half a year of work
}

// ago is a moment so many days before now.
func (b Books) ago(days int) time.Time { return b.Now.AddDate(0, 0, -days) }

// Load puts designs, customers, the owner, a shelf with a past, the issued quote of the demo enquiry and two orders
// into the books, once: a second time it finds what is there and gives the quote back.
func Load(ctx context.Context, b Books) (sales.Quote, error) {
	books := b.Sales(b.Now)
	if _, err := Owner(ctx, b.People); err != nil {
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
	forms, err := b.keepDesigns(ctx)
	if err != nil {
		return sales.Quote{}, err
	}
	var folk []sales.Customer
	for _, c := range []sales.Customer{
		{Name: "Mara Quist", Email: "mara@ferry-house.example", Address: "2 Ferry Steps\nHarrowmouth", Language: "fr"},
		{Name: "Jonas Adler", Email: "jonas@tidewall.example", Phone: "+00 555 0178", Language: "de"},
		{Name: "Ilse of the White Fen", Email: "ilse@white-fen.example", Address: "The Long House\nWhite Fen", Note: "Plays left-handed."},
	} {
		kept, err := books.KeepCustomer(ctx, c)
		if err != nil {
			return sales.Quote{}, err
		}
		folk = append(folk, kept)
	}
	mara, jonas, ilse := folk[0], folk[1], folk[2]
	if err := b.past(ctx, mara, forms["Ferry buckler"]); err != nil {
		return sales.Quote{}, fmt.Errorf("the past of the demo: %w", err)
	}
	if err := b.since(ctx, folk); err != nil {
		return sales.Quote{}, fmt.Errorf("the past of the demo: %w", err)
	}
	q, err := issue(ctx, books, ilse, "Heron kite", forms["Heron kite"])
	if err != nil {
		return q, err
	}
	if err := b.present(ctx, jonas, forms["Tidewall heater"], mara, forms["Reed oval"]); err != nil {
		return q, fmt.Errorf("the orders of the demo: %w", err)
	}
	// What came this morning, in the quartermaster's words.
	if _, err := books.KeepEnquiry(ctx, sales.Enquiry{Words: wish}, "Wren Calloway"); err != nil {
		return q, err
	}
	if b.busy {
		return q, b.around(ctx)
	}
	return q, nil
}

// since is what happened after the first order.
func (b Books) since(ctx context.Context, folk []sales.Customer) error {
	if b.busy {
		return b.history(ctx, folk)
	}
	return happen(ctx, b.lately())
}

// keepDesigns keeps the designs, and gives the specs that they have today.
func (b Books) keepDesigns(ctx context.Context) (map[string]orderform.Form, error) {
	forms := map[string]orderform.Form{}
	for _, d := range listed() {
		data, err := designs.ReadFile("designs/" + d.file)
		if err != nil {
			return nil, err
		}
		form, err := orderform.Parse(data)
		if err != nil {
			return nil, err
		}
		forms[d.name] = form
		at := b.Now
		if b.busy {
			at, form = b.ago(190), older(d.name, form)
		}
		if _, err := b.Sales(at).KeepDesign(ctx, sales.Design{Name: d.name, Note: d.note, Form: form}); err != nil && fault.KindOf(err) != fault.Conflict {
			return nil, err
		}
	}
	return forms, nil
}

// issue quotes a design the way a maker does on the page.
func issue(ctx context.Context, books *sales.Service, customer sales.Customer, title string, form orderform.Form) (sales.Quote, error) {
	q, err := books.NewQuote(ctx, customer.ID, title, form)
	if err != nil {
		return q, err
	}
	e, err := books.Estimate(ctx, customer.ID, q.Form)
	if err != nil {
		return q, err
	}
	if _, err := books.Issue(ctx, q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, wren); err != nil {
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
	return folk.Add(ctx, people.Entry{Login: "wren", Name: wren, Role: people.Owner})
}
