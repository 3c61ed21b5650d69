package api

import (
	"cmp"
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// PriceList is what standard designs cost, with tax.
type PriceList struct {
	Day       string   `json:"day" format:"date"`
	ValidFrom string   `json:"valid_from,omitempty" format:"date"`
	List      []Listed `json:"list"`
}

// Listed is one design of it.
type Listed struct {
	Design string `json:"design" format:"uuid"`
	Name   string `json:"name"`
	Size   string `json:"size,omitempty" doc:"in a sentence"`
	Price  string `json:"price" doc:"with tax"`
	Since  string `json:"since" format:"date"`
	Ready  int    `json:"ready" doc:"finished ones that lie ready"`
}

// ReadyShield is a finished shield that lies ready to be sold.
type ReadyShield struct {
	ID     string     `json:"id" format:"uuid"`
	Design string     `json:"design" format:"uuid"`
	Name   string     `json:"name"`
	Cost   string     `json:"cost" doc:"net, what it took to make"`
	Place  string     `json:"place,omitempty"`
	Note   string     `json:"note,omitempty"`
	MadeAs string     `json:"made_as,omitempty" format:"uuid" doc:"order it was made in"`
	SoldAs string     `json:"sold_as,omitempty" format:"uuid" doc:"order it was sold as"`
	Gone   *time.Time `json:"gone,omitempty"`
	Reason string     `json:"reason,omitempty" doc:"it left unsold for"`
}

type readyList struct {
	Ready []ReadyShield `json:"ready"`
}

type standardEntry struct {
	Price string `json:"price" doc:"with tax; 0 takes it off the list"`
	From  string `json:"from,omitempty" format:"date" doc:"today where it is left out"`
}

type readyEntry struct {
	Design string `json:"design" format:"uuid"`
	Count  int    `json:"count" doc:"so many alike"`
	Cost   string `json:"cost,omitempty" doc:"of one, net; what the design takes today where it is left out"`
	Place  string `json:"place,omitempty" maxLength:"120"`
	Note   string `json:"note,omitempty" maxLength:"400"`
	MadeAs string `json:"made_as,omitempty" format:"uuid"`
}

type readyChange struct {
	Place  string `json:"place,omitempty" maxLength:"120"`
	Note   string `json:"note,omitempty" maxLength:"400"`
	Reason string `json:"reason,omitempty" maxLength:"400" doc:"it left unsold, and why; where it is left out it lies at the place"`
}

type saleEntry struct {
	Customer string `json:"customer,omitempty" format:"uuid" doc:"somebody who walked in where it is left out"`
	Event    string `json:"event,omitempty" format:"uuid"`
	Price    string `json:"price,omitempty" doc:"that was shown: when the list has another by now, nothing is sold"`
	For      string `json:"for,omitempty" doc:"price with tax it goes for, at most that of the list; the list price where it is left out"`
	Why      string `json:"why,omitempty" maxLength:"200" doc:"it goes for less"`
	Way      string `json:"way" enum:"transfer,cash,card,other"`
	Token    string `json:"token" minLength:"8" maxLength:"100" doc:"new for every sale: sent twice it is sold once"`
}

func readyRow(r sales.Ready) ReadyShield {
	return ReadyShield{ID: r.ID, Design: r.DesignID, Name: r.Design, Cost: r.Cost.String(), Place: r.Place, Note: r.Note, MadeAs: r.MadeBy, SoldAs: r.SoldAs, Gone: moment(r.Gone), Reason: r.Reason}
}

func (f *face) standard() {
	operation(f, op("GET /price-list", "price-list", "What standard designs cost on a day", invalid), func(ctx context.Context, in *struct {
		Day string `query:"day" format:"date" doc:"today where it is left out"`
	}) (*answer[PriceList], error) {
		var l fault.List
		day := cmp.Or(optionalDay(&l, "day", in.Day), time.Now())
		if err := l.Err(); err != nil {
			return nil, err
		}
		p, err := f.Sales.PriceList(ctx, day, words.Tongue{})
		return &answer[PriceList]{PriceList{dateOf(p.Day), dateOf(p.From), each(p.List, func(e sales.Listed) Listed {
			return Listed{e.Design.ID, e.Design.Name, e.Size, e.Price.String(), dateOf(e.Since), e.Here}
		})}}, err
	})
	taking(f, op("PUT /designs/{id}/price", "set-standard-price", "Put a design on the price list from a day on", conflict),
		func(ctx context.Context, in *byID, e standardEntry) (*none, error) {
			var l fault.List
			from, price := optionalDay(&l, "from", e.From), figure(&l, "price", e.Price)
			if e.Price == "" {
				l.Add("price", "", "Write a price with tax, or 0 to take it off the list.")
			}
			if err := l.Err(); err != nil {
				return nil, err
			}
			return &none{}, f.Sales.SetStandard(ctx, in.ID, from, price, callOf(ctx).by)
		})
	operation(f, op("GET /ready", "list-ready", "Finished shields that lie ready"), func(ctx context.Context, in *struct {
		Gone bool `query:"gone" doc:"those that left instead"`
	}) (*answer[readyList], error) {
		all, err := f.Sales.ReadyShields(ctx, in.Gone)
		return &answer[readyList]{readyList{each(all, readyRow)}}, err
	})
	taking(f, op("POST /ready", "add-ready", "Put finished shields down").created(),
		func(ctx context.Context, _ *none, e readyEntry) (*made[readyList], error) {
			var l fault.List
			cost := unlessLeftOut(figure, &l, "cost", e.Cost)
			if err := l.Err(); err != nil {
				return nil, err
			}
			if err := f.Sales.AddReady(ctx, sales.Ready{DesignID: e.Design, Place: e.Place, Note: e.Note, MadeBy: e.MadeAs}, e.Count, cost, callOf(ctx).by); err != nil {
				return nil, err
			}
			all, err := f.Sales.ReadyShields(ctx, false)
			return &made[readyList]{Path + "/ready", readyList{each(all, readyRow)}}, err
		})
	taking(f, op("PUT /ready/{id}", "change-ready", "Say where a finished shield lies, or that it left unsold", conflict),
		func(ctx context.Context, in *byID, e readyChange) (*none, error) {
			if e.Reason != "" {
				return &none{}, f.Sales.DropReady(ctx, in.ID, e.Reason)
			}
			return &none{}, f.Sales.MoveReady(ctx, in.ID, e.Place, e.Note)
		})
	taking(f, op("POST /ready/{id}/sell", "sell-ready", "Sell a finished shield for its list price, or for less with a reason", conflict).
		saying("Taken away, paid and invoiced in one act. It is sold once."),
		func(ctx context.Context, in *byID, e saleEntry) (*answer[Invoice], error) {
			var l fault.List
			sale := sales.ShowSale{Ready: in.ID, CustomerID: e.Customer, Event: e.Event, Price: e.Price, Why: e.Why, Way: sales.Way(e.Way), Token: e.Token, For: unlessLeftOut(figure, &l, "for", e.For)}
			if err := l.Err(); err != nil {
				return nil, err
			}
			i, err := f.Sales.Sell(ctx, sale, callOf(ctx).by)
			return &answer[Invoice]{invoiceRow(i)}, err
		})
}
