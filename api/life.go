package api

import (
	"context"
	"strconv"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// OrderLife is what happened to an order after it was accepted.
type OrderLife struct {
	Papers     []OrderPaper    `json:"papers"`
	Changes    []ChangeNote    `json:"changes"`
	Drawings   []Drawing       `json:"drawings"`
	Deliveries []OrderDelivery `json:"deliveries"`
	Left       int             `json:"left" doc:"pieces that were not handed over yet"`
}

// OrderPaper is a document of an order.
type OrderPaper struct {
	Kind string    `json:"kind" enum:"confirmation,change,care,cancellation"`
	No   int       `json:"no"`
	Hash string    `json:"hash" doc:"SHA-256 of its bytes, hex"`
	At   time.Time `json:"at"`
}

// ChangeNote is a change of an order, offered at a price.
type ChangeNote struct {
	No       int             `json:"no"`
	State    string          `json:"state" enum:"offered,accepted,declined,withdrawn"`
	Label    string          `json:"label"`
	Moved    []string        `json:"moved" doc:"entries of the spec that are otherwise, in words"`
	Amount   decimal.Decimal `json:"amount" doc:"what it adds: net, or with tax where prices are made with tax inside"`
	Offered  time.Time       `json:"offered"`
	Answered *time.Time      `json:"answered,omitempty"`
	Name     string          `json:"name,omitempty" doc:"of who answered"`
	Reason   string          `json:"reason,omitempty"`
}

// Drawing is a round of drawings shown to the customer.
type Drawing struct {
	Round    int        `json:"round"`
	Note     string     `json:"note,omitempty"`
	Shown    time.Time  `json:"shown"`
	Verdict  string     `json:"verdict,omitempty" enum:"approved,change,overtaken" doc:"overtaken: a change was agreed while it waited"`
	Words    string     `json:"words,omitempty"`
	Answered *time.Time `json:"answered,omitempty"`
}

// OrderDelivery is how pieces left the workshop.
type OrderDelivery struct {
	Day    string `json:"day" format:"date"`
	Pieces int    `json:"pieces"`
	Way    string `json:"way" enum:"collected,parcel,at an event"`
	Whom   string `json:"whom,omitempty" maxLength:"200"`
	Note   string `json:"note,omitempty" maxLength:"400"`
}

// ChangePrice is what a changed spec does to an order.
type ChangePrice struct {
	Moved  []string        `json:"moved"`
	Amount decimal.Decimal `json:"amount"`
	Before decimal.Decimal `json:"before" doc:"the order so far, with tax"`
	After  decimal.Decimal `json:"after" doc:"with the change, with tax"`
}

type changeEntry struct {
	Label string          `json:"label" maxLength:"400" doc:"what changes, as the customer reads it"`
	Gross string          `json:"gross" doc:"what the order comes to with it, as it was shown"`
	Edit  int             `json:"edit" doc:"of the order, as it was read"`
	Spec  *orderform.Form `json:"spec" doc:"the whole spec as it is to be"`
}

type changeAnswer struct {
	State  string `json:"state" enum:"accepted,declined,withdrawn"`
	Name   string `json:"name,omitempty" maxLength:"200"`
	Reason string `json:"reason,omitempty" maxLength:"2000"`
}

type drawingNote struct {
	Note string `json:"note,omitempty" maxLength:"2000" doc:"what the customer should look at"`
}

type drawingAnswer struct {
	Verdict string `json:"verdict" enum:"approved,change"`
	Words   string `json:"words,omitempty" maxLength:"2000"`
	Name    string `json:"name,omitempty" maxLength:"200"`
}

type deliveryEntry struct {
	OrderDelivery
	Edit int `json:"edit" doc:"of the order, as it was read"`
}

type byNo struct {
	ID string `path:"id" format:"uuid"`
	No string `path:"no" doc:"from 1"`
}

// nth reads a number of a path; what is none is 0, which nothing has.
func nth(s string) int {
	n, err := strconv.Atoi(s)
	if err != nil {
		return 0
	}
	return n
}

type byPaper struct {
	ID   string `path:"id" format:"uuid"`
	Kind string `path:"kind" doc:"confirmation, change, care or cancellation"`
	No   string `path:"no" doc:"from 1"`
	Had  string `header:"If-None-Match"`
}

func lifeOf(l sales.Life) OrderLife {
	return OrderLife{
		Papers: each(l.Papers, func(p sales.OrderPaper) OrderPaper {
			return OrderPaper{string(p.Kind), p.No, p.Document, p.At.UTC()}
		}),
		Changes: each(l.Changes, func(n sales.ChangeNote) ChangeNote {
			return ChangeNote{n.No, string(n.State), n.Label, each(n.Moved, sales.MovedEntry.String), n.Amount.Decimal(), n.Offered.UTC(), moment(n.Answered), n.Name, n.Reason}
		}),
		Drawings: each(l.Rounds, func(a sales.Approval) Drawing {
			return Drawing{a.Round, a.Note, a.Shown.UTC(), string(a.Verdict), a.Words, moment(a.Answered)}
		}),
		Deliveries: each(l.Deliveries, func(d sales.Delivery) OrderDelivery {
			return OrderDelivery{dateOf(d.Day), d.Pieces, string(d.Way), d.Whom, d.Note}
		}),
		Left: l.Left,
	}
}

func (f *face) life() {
	told := func(ctx context.Context, id string, err error) (*answer[OrderLife], error) {
		if err != nil {
			return nil, err
		}
		l, err := f.Sales.Life(ctx, id)
		return &answer[OrderLife]{lifeOf(l)}, err
	}
	operation(f, op("GET /orders/{id}/life", "order-life", "What happened to an order after it was accepted").also(people.Bookkeeper),
		func(ctx context.Context, in *byID) (*answer[OrderLife], error) { return told(ctx, in.ID, nil) })
	operation(f, op("GET /orders/{id}/papers/{kind}/{no}", "order-paper", "A document of an order").also(people.Bookkeeper).
		giving("The document, byte for byte as it was printed", pdfType).unlessHad(),
		func(ctx context.Context, in *byPaper) (*documentAnswer, error) {
			d, err := f.Sales.Paper(ctx, in.ID, sales.PaperKind(in.Kind), nth(in.No))
			return frozen(d, err, pdfType, in.Had)
		})
	taking(f, op("POST /orders/{id}/changes/price", "price-change", "What a changed spec does to an order", conflict).
		saying("Nothing is stored. It is priced with the figures the order was quoted with."),
		func(ctx context.Context, in *byID, form orderform.Form) (*answer[ChangePrice], error) {
			c, err := f.Sales.PriceChange(ctx, in.ID, form)
			return &answer[ChangePrice]{ChangePrice{each(c.Moved, sales.MovedEntry.String), c.Amount.Decimal(), c.Before.Gross.Decimal(), c.After.Gross.Decimal()}}, err
		})
	taking(f, op("POST /orders/{id}/changes", "offer-change", "Offer a change of an order", conflict).
		saying("It is priced, printed and kept. One change at a time waits for its answer."),
		func(ctx context.Context, in *byID, e changeEntry) (*answer[OrderLife], error) {
			if e.Spec == nil {
				e.Spec = &orderform.Form{}
			}
			_, err := f.Sales.OfferChange(ctx, in.ID, e.Edit, e.Gross, e.Label, *e.Spec, callOf(ctx).by)
			return told(ctx, in.ID, err)
		})
	taking(f, op("PUT /orders/{id}/changes/{no}", "answer-change", "Note the answer to a change, or withdraw it", conflict),
		func(ctx context.Context, in *byNo, e changeAnswer) (*answer[OrderLife], error) {
			by, c := callOf(ctx).by, sales.Choice{Name: e.Name, Note: e.Reason}
			var err error
			if e.State == string(sales.Withdrawn) {
				_, err = f.Sales.WithdrawChange(ctx, in.ID, nth(in.No), by)
			} else {
				_, err = f.Sales.AnswerChange(ctx, in.ID, nth(in.No), e.State == string(sales.Consented), c, by)
			}
			return told(ctx, in.ID, err)
		})
	taking(f, op("POST /orders/{id}/drawings", "show-drawing", "Show the customer the drawing of an order", conflict).
		saying("Nothing is cut before they have approved it."),
		func(ctx context.Context, in *byID, e drawingNote) (*answer[OrderLife], error) {
			_, err := f.Sales.ShowDrawing(ctx, in.ID, e.Note, callOf(ctx).by)
			return told(ctx, in.ID, err)
		})
	taking(f, op("PUT /orders/{id}/drawings/{no}", "answer-drawing", "Note what the customer said of a drawing", conflict),
		func(ctx context.Context, in *byNo, e drawingAnswer) (*answer[OrderLife], error) {
			err := f.Sales.AnswerDrawing(ctx, in.ID, nth(in.No), sales.Verdict(e.Verdict), e.Words, sales.Choice{Name: e.Name}, callOf(ctx).by)
			return told(ctx, in.ID, err)
		})
	taking(f, op("POST /orders/{id}/deliveries", "hand-over", "Note that pieces of an order were handed over", conflict).
		saying("The care sheet is printed with the first of them."),
		func(ctx context.Context, in *byID, e deliveryEntry) (*answer[OrderLife], error) {
			var l fault.List
			d := sales.Delivery{Day: day(&l, "day", e.Day), Pieces: e.Pieces, Way: sales.DeliveryWay(e.Way), Whom: e.Whom, Note: e.Note}
			if err := l.Err(); err != nil {
				return nil, err
			}
			_, err := f.Sales.Deliver(ctx, in.ID, e.Edit, d, callOf(ctx).by)
			return told(ctx, in.ID, err)
		})
}
