package api

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// Repair is a piece that came in to be mended.
type Repair struct {
	ID        string `json:"id" format:"uuid"`
	Tag       Number `json:"tag"`
	Customer  string `json:"customer" format:"uuid"`
	Order     string `json:"order,omitempty" format:"uuid" doc:"it was made for"`
	What      string `json:"what"`
	Condition string `json:"condition"`
	Came      string `json:"came" format:"date"`
	State     string `json:"state" enum:"came in,inspected,at the bench,ready,given back,scrapped"`
	FreeUntil string `json:"free_until,omitempty" format:"date" doc:"the order's pieces are mended free; left out where that is not known, and in lists"`
	Warranty  *bool  `json:"warranty,omitempty" doc:"as decided on inspection"`
	Findings  string `json:"findings,omitempty"`
	Reason    string `json:"reason,omitempty" doc:"it was scrapped for"`
	Quote     string `json:"quote,omitempty" format:"uuid" doc:"its price"`
	Edit      int    `json:"edit"`
}

type repairList struct {
	Repairs []Repair `json:"repairs"`
}

type repairEntry struct {
	Customer  string `json:"customer,omitempty" format:"uuid" doc:"the order's where it is left out"`
	Order     string `json:"order,omitempty" format:"uuid"`
	What      string `json:"what" maxLength:"120"`
	Condition string `json:"condition" maxLength:"2000"`
	Came      string `json:"came,omitempty" format:"date" doc:"today where it is left out"`
}

type inspection struct {
	Findings string `json:"findings" maxLength:"2000"`
	Warranty bool   `json:"warranty"`
	Edit     int    `json:"edit"`
}

type repairMove struct {
	State  string `json:"state" enum:"at the bench,ready,given back,scrapped"`
	Reason string `json:"reason,omitempty" maxLength:"400" doc:"of one that is scrapped"`
	Edit   int    `json:"edit"`
}

type seenEdit struct {
	Edit int `json:"edit"`
}

func repairRow(r sales.Repair) Repair {
	out := Repair{
		ID: r.ID, Tag: numberOf(r.Tag), Customer: r.CustomerID, Order: r.OrderID, What: r.What, Condition: r.Condition, Came: dateOf(r.Came), State: string(r.State),
		Findings: r.Findings, Reason: r.Reason, Quote: r.QuoteID, Edit: r.Edit,
	}
	if r.Decided {
		out.Warranty = &r.Warranty
	}
	return out
}

func (f *face) repairs() {
	operation(f, op("GET /repairs", "list-repairs", "What waits to be mended, the longest first"), func(ctx context.Context, in *struct {
		Over bool `query:"over" doc:"those that are over instead"`
	}) (*answer[repairList], error) {
		all, err := f.Sales.Repairs(ctx, sales.RepairFound{Over: in.Over})
		return &answer[repairList]{repairList{each(all, repairRow)}}, err
	})
	operation(f, op("GET /repairs/{id}", "read-repair", "One repair"), func(ctx context.Context, in *byID) (*answer[Repair], error) {
		r, free, err := f.Sales.Repair(ctx, in.ID)
		out := repairRow(r)
		out.FreeUntil = dateOf(free)
		return &answer[Repair]{out}, err
	})
	taking(f, op("POST /repairs", "take-in", "Take a piece in for repair").created(),
		func(ctx context.Context, _ *none, e repairEntry) (*made[Repair], error) {
			var l fault.List
			r := sales.Repair{CustomerID: e.Customer, OrderID: e.Order, What: e.What, Condition: e.Condition, Came: optionalDay(&l, "came", e.Came)}
			err := l.Err()
			if err == nil {
				r, err = f.Sales.TakeIn(ctx, r, callOf(ctx).by)
			}
			return &made[Repair]{Path + "/repairs/" + r.ID, repairRow(r)}, err
		})
	taking(f, op("POST /repairs/{id}/inspect", "inspect-repair", "Note what was found, and whether it is mended free", conflict),
		func(ctx context.Context, in *byID, e inspection) (*answer[Repair], error) {
			r, err := f.Sales.Inspect(ctx, in.ID, e.Edit, e.Findings, e.Warranty)
			return &answer[Repair]{repairRow(r)}, err
		})
	taking(f, op("POST /repairs/{id}/move", "move-repair", "Bring a repair to a state that may follow", conflict).
		saying("What is not mended free is begun only once its quote was accepted."),
		func(ctx context.Context, in *byID, e repairMove) (*answer[Repair], error) {
			r, err := f.Sales.MoveRepair(ctx, in.ID, e.Edit, sales.RepairState(e.State), e.Reason)
			return &answer[Repair]{repairRow(r)}, err
		})
	taking(f, op("POST /repairs/{id}/quote", "quote-repair", "Open the draft of a repair's price", conflict),
		func(ctx context.Context, in *byID, e seenEdit) (*answer[Quote], error) {
			q, err := f.Sales.QuoteRepair(ctx, in.ID, e.Edit)
			return &answer[Quote]{quoteOf(q)}, err
		})
}
