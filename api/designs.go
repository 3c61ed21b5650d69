package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Design is a named spec to start quotes from.
type Design struct {
	ID      string         `json:"id" format:"uuid"`
	Name    string         `json:"name"`
	Note    string         `json:"note"`
	Spec    orderform.Form `json:"spec" doc:"as it was written"`
	Changed time.Time      `json:"changed"`
}

type designEntry struct {
	Name string          `json:"name" maxLength:"120"`
	Note string          `json:"note,omitempty" maxLength:"4000"`
	Spec *orderform.Form `json:"spec" doc:"need not be makeable yet"`
}

type designList struct {
	Designs []Design `json:"designs"`
}

func designOf(d sales.Design) Design { return Design{d.ID, d.Name, d.Note, d.Form, d.Changed.UTC()} }

// keepDesign writes an entry over the design with an id, or to a new one.
func (f *face) keepDesign(ctx context.Context, id string, e designEntry) (Design, error) {
	if e.Spec == nil {
		return Design{}, wholeSpec()
	}
	d, err := f.Sales.KeepDesign(ctx, sales.Design{ID: id, Name: e.Name, Note: e.Note, Form: *e.Spec})
	return designOf(d), err
}

// wholeSpec asks for a spec that was left out: saving nothing would wipe out the one that is there.
func wholeSpec() error {
	var l fault.List
	l.Add("spec", "", "Send the whole spec: what is kept is replaced by it.")
	return l.Err()
}

func (f *face) designs() {
	operation(f, op("GET /designs", "list-designs", "Designs by name").also(people.Helper), func(ctx context.Context, _ *none) (*answer[designList], error) {
		designs, err := f.Sales.Designs(ctx)
		return &answer[designList]{designList{each(designs, designOf)}}, err
	})
	taking(f, op("POST /designs", "add-design", "Add a design", conflict).created(),
		func(ctx context.Context, _ *none, e designEntry) (*made[Design], error) {
			d, err := f.keepDesign(ctx, "", e)
			return &made[Design]{Path + "/designs/" + d.ID, d}, err
		})
	operation(f, op("GET /designs/{id}", "design", "One design").also(people.Helper), func(ctx context.Context, in *byID) (*answer[Design], error) {
		d, err := f.Sales.Design(ctx, in.ID)
		return &answer[Design]{designOf(d)}, err
	})
	taking(f, op("PUT /designs/{id}", "change-design", "Change a design as a whole", conflict),
		func(ctx context.Context, in *byID, e designEntry) (*answer[Design], error) {
			d, err := f.Sales.Design(ctx, in.ID)
			if err != nil {
				return nil, err
			}
			changed, err := f.keepDesign(ctx, d.ID, e)
			return &answer[Design]{changed}, err
		})
}
