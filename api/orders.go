package api

import (
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"

	"github.com/shopspring/decimal"
)

// Order is an accepted quote with what it takes.
type Order struct {
	ID         string       `json:"id" format:"uuid"`
	Number     Number       `json:"number"`
	Quote      string       `json:"quote" format:"uuid"`
	Customer   string       `json:"customer" format:"uuid"`
	Name       string       `json:"customer_name"`
	Title      string       `json:"title"`
	State      string       `json:"state" enum:"accepted,booked,done,cancelled"`
	Accepted   time.Time    `json:"accepted"`
	DepositDue string       `json:"deposit_due" format:"date" doc:"material is held until that day is over"`
	Paid       string       `json:"paid,omitempty" format:"date" doc:"the day the deposit came"`
	Starts     string       `json:"starts" format:"date" doc:"first day at the bench"`
	Reason     string       `json:"reason,omitempty" doc:"it was cancelled for"`
	Edit       int          `json:"edit" doc:"counts changes: acts that must not happen twice ask for it"`
	Materials  []OrderTakes `json:"materials,omitempty" doc:"left out in lists"`
}

// OrderTakes is one material of an order, in the item's stock unit.
type OrderTakes struct {
	Item     string          `json:"item"`
	Needed   decimal.Decimal `json:"needed" doc:"still to be taken"`
	SetAside decimal.Decimal `json:"set_aside"`
	Short    decimal.Decimal `json:"short"`
	Taken    decimal.Decimal `json:"taken" doc:"less what came back"`
}

type orderList struct {
	Orders []Order `json:"orders"`
}

type theDay struct {
	Day string `json:"day" format:"date"`
}

type why struct {
	Reason string `json:"reason" maxLength:"400"`
	Kept   string `json:"kept,omitempty" doc:"what the customer pays all the same, with tax; by the terms where it is not told"`
}

type usedList struct {
	Used []usedEntry `json:"used"`
}

type usedEntry struct {
	Item     string `json:"item"`
	Quantity string `json:"quantity" doc:"in the item's stock unit; 0 for none"`
	Note     string `json:"note,omitempty" maxLength:"400"`
}

// yes is how a customer accepted.
type yes struct {
	Options []string `json:"options,omitempty" doc:"keys of the options that were chosen"`
	Name    string   `json:"name,omitempty" maxLength:"200" doc:"of who accepted"`
	Note    string   `json:"note,omitempty" maxLength:"2000"`
}

// no is why a customer declined.
type no struct {
	Name   string `json:"name,omitempty" maxLength:"200" doc:"of who declined"`
	Reason string `json:"reason,omitempty" maxLength:"2000"`
}

func orderRow(o sales.Order) Order {
	return Order{
		ID: o.ID, Number: numberOf(o.Number), Quote: o.QuoteID, Customer: o.CustomerID,
		Name: o.Customer, Title: o.Title, State: string(o.State), Accepted: o.Accepted.UTC(), DepositDue: dateOf(o.DepositDue),
		Paid: dateOf(o.Paid), Starts: dateOf(o.Starts), Reason: o.Reason, Edit: o.Edit,
	}
}

func orderOf(t sales.Taken) Order {
	out := orderRow(t.Order)
	at := map[string]int{}
	entry := func(item string) *OrderTakes {
		i, ok := at[item]
		if !ok {
			i = len(out.Materials)
			at[item] = i
			out.Materials = append(out.Materials, OrderTakes{Item: item})
		}
		return &out.Materials[i]
	}
	for _, p := range t.Promises {
		e := entry(p.Item)
		e.Needed, e.SetAside, e.Short = p.Needed, p.Reserved, p.Short()
	}
	used := t.Used()
	for _, m := range t.Moves {
		entry(m.Item).Taken = used[m.Item]
	}
	return out
}

func (f *face) orders() {
	operation(f, op("GET /orders", "list-orders", "Orders, the newest first", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *narrowing) (*answer[orderList], error) {
			found, err := in.found()
			if err != nil {
				return nil, err
			}
			orders, err := f.Sales.Orders(ctx, found)
			return &answer[orderList]{orderList{each(orders, orderRow)}}, err
		})
	taking(f, op("POST /quotes/{id}/accept", "accept-quote", "Make an order of an issued quote", conflict).
		saying("What it takes of the shelf is held until the deposit is due. Nobody is turned away for stock: what is missing is short. Accepting again gives the same order."),
		func(ctx context.Context, in *byID, e yes) (*answer[Order], error) {
			t, err := f.Sales.Accept(ctx, in.ID, sales.Choice{Options: e.Options, Name: e.Name, Note: e.Note}, callOf(ctx).by)
			return &answer[Order]{orderOf(t)}, err
		})
	taking(f, op("POST /quotes/{id}/decline", "decline-quote", "Note that the customer does not want an issued quote", conflict).
		saying("Declining again changes nothing."),
		func(ctx context.Context, in *byID, e no) (*answer[Quote], error) {
			q, err := f.Sales.Decline(ctx, in.ID, sales.Choice{Name: e.Name, Note: e.Reason}, callOf(ctx).by)
			return &answer[Quote]{quoteOf(q)}, err
		})
	operation(f, op("GET /orders/{id}", "order", "One order with what it takes").also(people.Bookkeeper), func(ctx context.Context, in *byID) (*answer[Order], error) {
		t, err := f.Sales.Order(ctx, in.ID)
		return &answer[Order]{orderOf(t)}, err
	})
	taking(f, op("POST /orders/{id}/deposit", "deposit-came", "Note that the deposit came", conflict).
		saying("Writes the whole open deposit down as a payment and books the order: its material is promised for good. note-payment takes any other sum."),
		func(ctx context.Context, in *byID, e theDay) (*answer[Order], error) {
			var l fault.List
			d := day(&l, "day", e.Day)
			if err := l.Err(); err != nil {
				return nil, err
			}
			t, err := f.Sales.DepositCame(ctx, in.ID, d, sales.OtherWay, callOf(ctx).by)
			return &answer[Order]{orderOf(t)}, err
		})
	taking(f, op("PUT /orders/{id}/start", "move-start", "Move the first day at the bench", conflict),
		func(ctx context.Context, in *byID, e theDay) (*answer[Order], error) {
			var l fault.List
			d := day(&l, "day", e.Day)
			if err := l.Err(); err != nil {
				return nil, err
			}
			t, err := f.Sales.Start(ctx, in.ID, d)
			return &answer[Order]{orderOf(t)}, called(err, "starts", "day")
		})
	taking(f, op("POST /orders/{id}/cancel", "cancel-order", "Cancel an order", conflict).
		saying("What was set aside for it is free again. What is kept, with tax, is by the terms of the workshop where it is not told."),
		func(ctx context.Context, in *byID, e why) (*answer[Order], error) {
			var l fault.List
			kept := unlessLeftOut(quantity, &l, "kept", e.Kept)
			if err := l.Err(); err != nil {
				return nil, err
			}
			t, err := f.Sales.Cancel(ctx, in.ID, e.Reason, kept, callOf(ctx).by)
			return &answer[Order]{orderOf(t)}, err
		})
	taking(f, op("POST /orders/{id}/finish", "finish-order", "End an order that was made, with what it used", conflict).
		saying("Takes off the shelf what is named, beside what was taken before, and gives free what was set aside and not used."), f.finish)
}

func (f *face) finish(ctx context.Context, in *byID, e usedList) (*answer[Order], error) {
	var l fault.List
	used := usedOf(&l, e.Used)
	if err := l.Err(); err != nil {
		return nil, err
	}
	t, err := f.Sales.Finish(ctx, in.ID, used, callOf(ctx).by)
	return &answer[Order]{orderOf(t)}, err
}

func usedOf(l *fault.List, used []usedEntry) []stock.Used {
	return each(used, func(u usedEntry) stock.Used {
		return stock.Used{Item: u.Item, Quantity: quantity(l, "used."+u.Item, u.Quantity), Note: u.Note}
	})
}
