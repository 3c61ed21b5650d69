package api

import (
	"context"
	"errors"
	"net/http"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
	"foamwright/pricing/sales"

	"github.com/danielgtaylor/huma/v2"
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
	out := Order{
		ID: o.ID, Number: Number{o.Number.String(), o.Number.Series, o.Number.Year, o.Number.No}, Quote: o.QuoteID, Customer: o.CustomerID,
		Name: o.Customer, Title: o.Title, State: string(o.State), Accepted: o.Accepted.UTC(), DepositDue: o.DepositDue.Format(time.DateOnly),
		Starts: o.Starts.Format(time.DateOnly), Reason: o.Reason, Edit: o.Edit,
	}
	if !o.Paid.IsZero() {
		out.Paid = o.Paid.Format(time.DateOnly)
	}
	return out
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

// date reads a day of a body.
func date(field, text string) (time.Time, error) {
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		var l fault.List
		l.Add(field, text, "Write the day as year-month-day, for example 2026-11-27.")
		return day, l.Err()
	}
	return day, nil
}

func (f *face) orders() {
	operation(f, huma.Operation{
		OperationID: "list-orders", Method: http.MethodGet, Path: "/orders", Summary: "Orders, the newest first", Errors: []int{http.StatusUnprocessableEntity},
	}, bookkeeper(), func(ctx context.Context, in *narrowing) (*answer[orderList], error) {
		found, err := in.found()
		if err != nil {
			return nil, err
		}
		orders, err := f.Sales.Orders(ctx, found)
		return &answer[orderList]{orderList{each(orders, orderRow)}}, err
	})
	one := func(id, method, path, summary, description string, act func(ctx context.Context, id string) (sales.Taken, error)) {
		op := huma.Operation{OperationID: id, Method: method, Path: path, Summary: summary, Description: description}
		roles := nobodyElse()
		if method == http.MethodGet {
			roles = bookkeeper()
		} else {
			op.Errors = []int{http.StatusConflict}
		}
		operation(f, op, roles, func(ctx context.Context, in *byID) (*answer[Order], error) {
			t, err := act(ctx, in.ID)
			return &answer[Order]{orderOf(t)}, err
		})
	}
	taking(f, huma.Operation{
		OperationID: "accept-quote", Method: http.MethodPost, Path: "/quotes/{id}/accept", Summary: "Make an order of an issued quote", Errors: []int{http.StatusConflict},
		Description: "What it takes of the shelf is held until the deposit is due. Nobody is turned away for stock: what is missing is short. Accepting again gives the same order.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e yes) (*answer[Order], error) {
		t, err := f.Sales.Accept(ctx, in.ID, sales.Choice{Options: e.Options, Name: e.Name, Note: e.Note}, callOf(ctx).by)
		return &answer[Order]{orderOf(t)}, err
	})
	taking(f, huma.Operation{
		OperationID: "decline-quote", Method: http.MethodPost, Path: "/quotes/{id}/decline", Summary: "Note that the customer does not want an issued quote", Errors: []int{http.StatusConflict},
		Description: "Declining again changes nothing.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e no) (*answer[Quote], error) {
		q, err := f.Sales.Decline(ctx, in.ID, sales.Choice{Name: e.Name, Note: e.Reason}, callOf(ctx).by)
		return &answer[Quote]{quoteOf(q)}, err
	})
	one("order", http.MethodGet, "/orders/{id}", "One order with what it takes", "", f.Sales.Order)
	taking(f, huma.Operation{
		OperationID: "deposit-came", Method: http.MethodPost, Path: "/orders/{id}/deposit", Summary: "Note that the deposit came", Errors: []int{http.StatusConflict},
		Description: "Writes the whole open deposit down as a payment and books the order: its material is promised for good. note-payment takes any other sum.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e theDay) (*answer[Order], error) {
		day, err := date("day", e.Day)
		if err != nil {
			return nil, err
		}
		t, err := f.Sales.DepositCame(ctx, in.ID, day, sales.OtherWay, callOf(ctx).by)
		return &answer[Order]{orderOf(t)}, err
	})
	taking(f, huma.Operation{
		OperationID: "move-start", Method: http.MethodPut, Path: "/orders/{id}/start", Summary: "Move the first day at the bench", Errors: []int{http.StatusConflict},
	}, nobodyElse(), func(ctx context.Context, in *byID, e theDay) (*answer[Order], error) {
		day, err := date("day", e.Day)
		if err != nil {
			return nil, err
		}
		t, err := f.Sales.Start(ctx, in.ID, day)
		return &answer[Order]{orderOf(t)}, called(err, "starts", "day")
	})
	taking(f, huma.Operation{
		OperationID: "cancel-order", Method: http.MethodPost, Path: "/orders/{id}/cancel", Summary: "Cancel an order", Errors: []int{http.StatusConflict},
		Description: "What was set aside for it is free again. What is kept, with tax, is by the terms of the workshop where it is not told.",
	}, nobodyElse(), func(ctx context.Context, in *byID, e why) (*answer[Order], error) {
		var kept *decimal.Decimal
		if e.Kept != "" {
			var l fault.List
			k := quantity(&l, "kept", e.Kept)
			if err := l.Err(); err != nil {
				return nil, err
			}
			kept = &k
		}
		t, err := f.Sales.Cancel(ctx, in.ID, e.Reason, kept, callOf(ctx).by)
		return &answer[Order]{orderOf(t)}, err
	})
	taking(f, huma.Operation{
		OperationID: "finish-order", Method: http.MethodPost, Path: "/orders/{id}/finish", Summary: "End an order that was made, with what it used", Errors: []int{http.StatusConflict},
		Description: "Takes off the shelf what is named, beside what was taken before, and gives free what was set aside and not used.",
	}, nobodyElse(), f.finish)
}

func (f *face) finish(ctx context.Context, in *byID, e usedList) (*answer[Order], error) {
	var l fault.List
	used := make([]stock.Used, len(e.Used))
	for i, u := range e.Used {
		used[i] = stock.Used{Item: u.Item, Quantity: quantity(&l, "used."+u.Item, u.Quantity), Note: u.Note}
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	t, err := f.Sales.Finish(ctx, in.ID, used, callOf(ctx).by)
	return &answer[Order]{orderOf(t)}, err
}

// called gives problems of a field the name that its entry has in a body.
func called(err error, field, entry string) error {
	var f *fault.Fault
	if errors.As(err, &f) {
		for i, p := range f.Problems {
			if p.Field == field {
				f.Problems[i].Field = entry
			}
		}
	}
	return err
}

// quantity reads a decimal of a body, 0 or more.
func quantity(l *fault.List, field, text string) decimal.Decimal {
	d, err := decimal.NewFromString(text)
	if err != nil || len(text) > 20 || d.IsNegative() || d.Exponent() < -8 || d.Exponent() > 8 {
		l.Add(field, text, "Write a number of 0 or more, for example 0.25.")
		return decimal.Zero
	}
	return d
}
