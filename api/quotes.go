package api

import (
	"cmp"
	"context"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Quote is one version of one offer. What belongs to issuing is left out until it is issued.
type Quote struct {
	ID           string          `json:"id" format:"uuid"`
	Number       *Number         `json:"number"`
	Version      int             `json:"version" doc:"of the number, from 1"`
	State        string          `json:"state" enum:"draft,issued,replaced,accepted,declined"`
	Customer     string          `json:"customer" format:"uuid"`
	CustomerName string          `json:"customer_name"`
	Title        string          `json:"title"`
	Spec         *orderform.Form `json:"spec,omitempty" doc:"as it was written; left out in lists"`
	Options      []QuoteOption   `json:"options,omitempty" doc:"the customer may choose from; left out in lists"`
	Standing     string          `json:"standing,omitempty" enum:"draft,open,expired,accepted,declined,replaced" doc:"in lists: the state, with what was issued told apart by whether it still stands"`
	Edit         int             `json:"edit" doc:"counts changes; a change names the one it saw"`
	Created      time.Time       `json:"created"`
	Changed      time.Time       `json:"changed"`
	IssuedAt     *time.Time      `json:"issued_at,omitempty"`
	IssuedBy     string          `json:"issued_by,omitempty"`
	ValidUntil   string          `json:"valid_until,omitempty" format:"date"`
	Currency     string          `json:"currency,omitempty"`
	Net          string          `json:"net,omitempty"`
	Gross        string          `json:"gross,omitempty"`
	Document     string          `json:"document,omitempty" doc:"SHA-256 of the document, hexadecimal"`
}

// Number is a quote's number as printed and in its parts.
type Number struct {
	Text   string `json:"text"`
	Series string `json:"series"`
	Year   int    `json:"year"`
	No     int    `json:"no"`
}

type quoteList struct {
	Quotes []Quote `json:"quotes"`
}

type newQuote struct {
	Customer string          `json:"customer" format:"uuid"`
	Title    string          `json:"title,omitempty" maxLength:"120"`
	Spec     *orderform.Form `json:"spec,omitempty" doc:"either this or a design"`
	Design   string          `json:"design,omitempty" format:"uuid" doc:"whose spec and, without a title, whose name is taken"`
}

type quoteEntry struct {
	Customer string          `json:"customer" format:"uuid"`
	Title    string          `json:"title,omitempty" maxLength:"120"`
	Spec     *orderform.Form `json:"spec" doc:"need not be makeable yet"`
	Options  []QuoteOption   `json:"options,omitempty" doc:"all of them; left out they stay as they are"`
	Edit     *int            `json:"edit" nullable:"false" doc:"of the quote as you read it"`
}

// row writes a quote of a list, without its spec.
func row(q sales.Quote) Quote {
	out := Quote{
		ID: q.ID, Version: q.Version, State: string(q.State), Customer: q.CustomerID, CustomerName: q.Customer, Title: q.Title,
		Edit: q.Edit, Created: q.Created.UTC(), Changed: q.Changed.UTC(),
	}
	if n := q.Number; n.No > 0 {
		out.Number = &Number{n.String(), n.Series, n.Year, n.No}
	}
	if q.State != sales.Draft {
		out.IssuedAt, out.IssuedBy, out.ValidUntil = moment(q.IssuedAt), q.IssuedBy, dateOf(q.ValidUntil.UTC())
		out.Currency, out.Net, out.Gross, out.Document = string(q.Gross.Currency()), q.Net.String(), q.Gross.String(), q.Document
	}
	return out
}

func quoteOf(q sales.Quote) Quote {
	out := row(q)
	out.Spec, out.Options = &q.Form, optionsOf(q)
	return out
}

// start is the title and spec that a new quote begins with.
func (f *face) start(ctx context.Context, e newQuote) (title string, from sales.Design, err error) {
	var l fault.List
	switch {
	case e.Spec != nil && e.Design == "":
		return e.Title, sales.Design{Form: *e.Spec}, nil
	case e.Spec != nil || e.Design == "":
		l.Add("spec", "", "Send either a spec or the id of a design.")
		return "", from, l.Err()
	}
	from, err = f.Sales.Design(ctx, e.Design)
	if fault.KindOf(err) == fault.NotFound {
		l.Add("design", e.Design, "There is no such design. Choose one of the list.")
		return "", from, l.Err()
	}
	e.Title = cmp.Or(e.Title, from.Name)
	return e.Title, from, err
}

func (f *face) quotes() {
	operation(f, op("GET /quotes", "list-quotes", "Quotes, the newest first", invalid).also(people.Bookkeeper),
		func(ctx context.Context, in *narrowedQuotes) (*answer[quoteList], error) {
			found, err := (&narrowing{in.Words, in.Most}).found()
			if err != nil {
				return nil, err
			}
			found.Standing = sales.Standing(in.Standing)
			quotes, err := f.Sales.Quotes(ctx, found)
			return &answer[quoteList]{quoteList{each(quotes, func(q sales.Quote) Quote {
				out := row(q)
				out.Standing = string(f.Sales.Standing(q))
				return out
			})}}, err
		})
	taking(f, op("POST /quotes", "draft-quote", "Start a quote").created().
		saying("Starts a draft for a customer, from a spec or from a design. It need not be makeable yet."),
		func(ctx context.Context, _ *none, e newQuote) (*made[Quote], error) {
			title, from, err := f.start(ctx, e)
			if err != nil {
				return nil, err
			}
			q, err := f.Sales.NewQuoteOf(ctx, e.Customer, title, from)
			return &made[Quote]{Path + "/quotes/" + q.ID, quoteOf(q)}, err
		})
	operation(f, op("GET /quotes/{id}", "quote", "One quote").also(people.Bookkeeper), func(ctx context.Context, in *byID) (*answer[Quote], error) {
		q, err := f.Sales.Quote(ctx, in.ID)
		return &answer[Quote]{quoteOf(q)}, err
	})
	taking(f, op("PUT /quotes/{id}", "change-quote", "Change a draft as a whole", conflict).
		saying("The edit count must be the one you read: if somebody else changed the draft meanwhile, nothing is done (409)."), f.changeQuote)
	operation(f, op("DELETE /quotes/{id}", "discard-quote", "Throw a draft away", conflict), func(ctx context.Context, in *byID) (*none, error) {
		return &none{}, f.Sales.Discard(ctx, in.ID)
	})
}

func (f *face) changeQuote(ctx context.Context, in *byID, e quoteEntry) (*answer[Quote], error) {
	var l fault.List
	if e.Edit == nil {
		l.Add("edit", "", "Send the edit count of the quote as you read it.")
	}
	if e.Spec == nil {
		if err := l.Take("", wholeSpec()); err != nil {
			return nil, err
		}
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	if e.Options == nil {
		q, err := f.Sales.SaveDraft(ctx, in.ID, *e.Edit, e.Customer, e.Title, *e.Spec)
		return &answer[Quote]{quoteOf(q)}, err
	}
	options, err := optionsIn(e.Options)
	if err != nil {
		return nil, err
	}
	q, err := f.Sales.SaveDraftWith(ctx, in.ID, *e.Edit, e.Customer, e.Title, *e.Spec, options)
	return &answer[Quote]{quoteOf(q)}, err
}
