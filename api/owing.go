package api

import (
	"context"

	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Debtor is a customer who owes, in one currency.
type Debtor struct {
	Customer string   `json:"customer,omitempty" format:"uuid" doc:"left out in totals"`
	Name     string   `json:"customer_name,omitempty"`
	Currency string   `json:"currency"`
	Open     string   `json:"open"`
	Current  string   `json:"current" doc:"not due yet"`
	Days30   string   `json:"late_1_30" doc:"1 to 30 days late"`
	Days60   string   `json:"late_31_60"`
	Days90   string   `json:"late_61_90"`
	Over     string   `json:"late_over_90"`
	Invoices []string `json:"invoices,omitempty" doc:"open ones, the oldest first"`
}

// Unmatched is an order for which more came than was invoiced.
type Unmatched struct {
	Order    string `json:"order" format:"uuid"`
	Number   Number `json:"number"`
	Name     string `json:"customer_name"`
	Currency string `json:"currency"`
	Ahead    string `json:"not_invoiced"`
	Overpaid string `json:"overpaid" doc:"of that, above what the order comes to: it is to go back"`
}

// Owing is who owes as of today.
type Owing struct {
	Debtors   []Debtor    `json:"debtors" doc:"who owes most of what is late first"`
	Totals    []Debtor    `json:"totals" doc:"by currency"`
	Unmatched []Unmatched `json:"unmatched"`
	Made      []string    `json:"made_not_invoiced" doc:"orders that are done and have neither a balance nor a sale invoice, the newest first"`
}

// Statement is what passed between the workshop and a customer, in one currency.
type Statement struct {
	Currency string          `json:"currency"`
	Opening  string          `json:"opening" doc:"owed before the first day"`
	Lines    []StatementLine `json:"lines" doc:"oldest first"`
	Closing  string          `json:"closing" doc:"owed at the end; below zero in the customer's favour"`
}

// StatementLine is an invoice, a credit note or a payment.
type StatementLine struct {
	Day     string `json:"day" format:"date"`
	Invoice string `json:"invoice,omitempty" format:"uuid"`
	Payment string `json:"payment,omitempty" format:"uuid"`
	Asked   string `json:"asked" doc:"that the customer owes more; below zero of a credit note"`
	Came    string `json:"came" doc:"below zero what was paid back"`
	Balance string `json:"balance" doc:"owed after it"`
}

type statementList struct {
	Statements []Statement `json:"statements" doc:"one a currency"`
}

type ofDays struct {
	ID   string `path:"id" format:"uuid"`
	From string `query:"from" doc:"the first day; from the beginning where it is left out"`
	To   string `query:"to" doc:"the last day; today where it is left out"`
}

func debtorOf(d sales.Debtor) Debtor {
	out := Debtor{
		Customer: d.CustomerID, Name: d.Customer, Currency: string(d.Open.Currency()), Open: d.Open.String(), Current: d.By[0].String(),
		Days30: d.By[1].String(), Days60: d.By[2].String(), Days90: d.By[3].String(), Over: d.By[4].String(),
	}
	for _, b := range d.Bills {
		out.Invoices = append(out.Invoices, b.ID)
	}
	return out
}

func statementOf(s sales.Statement) Statement {
	return Statement{string(s.Currency), s.Opening.String(), each(s.Lines, func(e sales.StatementLine) StatementLine {
		out := StatementLine{Day: dateOf(e.Day), Asked: e.Asked.String(), Came: e.Came.String(), Balance: e.Balance.String()}
		if e.Invoice != nil {
			out.Invoice = e.Invoice.ID
		} else {
			out.Payment = e.Payment.ID
		}
		return out
	}), s.Closing.String()}
}

func (f *face) owing() {
	operation(f, op("GET /owing", "who-owes", "Who owes, by how late it is").also(people.Bookkeeper),
		func(ctx context.Context, _ *none) (*answer[Owing], error) {
			o, err := f.Sales.Owing(ctx)
			return &answer[Owing]{Owing{
				each(o.Debtors, debtorOf), each(o.Totals, debtorOf),
				each(o.Unmatched, func(u sales.Unmatched) Unmatched {
					return Unmatched{u.Order.ID, numberOf(u.Order.Number), u.Order.Customer, string(u.Ahead.Currency()), u.Ahead.String(), u.Overpaid.String()}
				}),
				each(o.Made, func(o sales.Order) string { return o.ID }),
			}}, err
		})
	operation(f, op("GET /customers/{id}/statement", "statement", "What passed between the workshop and a customer", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *ofDays) (*answer[statementList], error) {
			from, to, err := days(in.From, in.To)
			if err != nil {
				return nil, err
			}
			_, list, err := f.Sales.Statements(ctx, in.ID, from, to)
			return &answer[statementList]{statementList{each(list, statementOf)}}, err
		})
}
