package api

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"
)

// Waiting is somebody who waits for a free bench.
type Waiting struct {
	ID       string `json:"id" format:"uuid"`
	Customer string `json:"customer,omitempty" format:"uuid" doc:"left out for somebody who is no customer yet"`
	Who      string `json:"who"`
	Wish     string `json:"wish"`
	Since    string `json:"since" format:"date"`
	Note     string `json:"note,omitempty"`
	Enquiry  string `json:"enquiry,omitempty" format:"uuid" doc:"it came of"`
	Ended    string `json:"ended,omitempty" format:"date"`
	Reason   string `json:"reason,omitempty" doc:"it ended for"`
}

type waitingList struct {
	Waiting []Waiting `json:"waiting"`
	Free    string    `json:"free,omitempty" format:"date" doc:"the bench is free from that day, within a week: it is the first one's turn"`
}

type waitingEntry struct {
	Customer string `json:"customer,omitempty" format:"uuid" doc:"either this, a name, or an enquiry"`
	Who      string `json:"who,omitempty" maxLength:"120"`
	Wish     string `json:"wish,omitempty" maxLength:"400" doc:"of an enquiry, its own words where it is left out"`
	Since    string `json:"since,omitempty" format:"date" doc:"today where it is left out"`
	Note     string `json:"note,omitempty" maxLength:"2000"`
	Enquiry  string `json:"enquiry,omitempty" format:"uuid"`
}

type ending struct {
	Reason string `json:"reason" maxLength:"400"`
}

func waitingRow(w sales.Waiting) Waiting {
	return Waiting{w.ID, w.CustomerID, w.Who, w.Wish, dateOf(w.Since), w.Note, w.EnquiryID, dateOf(w.Ended.UTC()), w.Reason}
}

func (f *face) waiting() {
	operation(f, op("GET /waiting", "waiting-list", "Who waits for a free bench, the longest first"), func(ctx context.Context, in *struct {
		Ended bool `query:"ended" doc:"those who waited before instead"`
	}) (*answer[waitingList], error) {
		list, err := f.Sales.WaitingList(ctx, in.Ended)
		if err != nil {
			return nil, err
		}
		out := waitingList{Waiting: each(list, waitingRow)}
		turn, free, err := f.Sales.Next(ctx)
		if free {
			out.Free = dateOf(turn.Free)
		}
		return &answer[waitingList]{out}, err
	})
	taking(f, op("POST /waiting", "wait", "Put somebody on the waiting list", conflict).created().
		saying("An enquiry that waits already waits once."),
		func(ctx context.Context, _ *none, e waitingEntry) (*made[Waiting], error) {
			var l fault.List
			w := sales.Waiting{Since: optionalDay(&l, "since", e.Since), CustomerID: e.Customer, Who: e.Who, Wish: e.Wish, Note: e.Note, EnquiryID: e.Enquiry}
			if err := l.Err(); err != nil {
				return nil, err
			}
			kept, err := f.Sales.Wait(ctx, w, callOf(ctx).by)
			return &made[Waiting]{Path + "/waiting", waitingRow(kept)}, err
		})
	taking(f, op("POST /waiting/{id}/end", "end-wait", "Take somebody off the waiting list"), func(ctx context.Context, in *byID, e ending) (*none, error) {
		return &none{}, f.Sales.EndWait(ctx, in.ID, e.Reason)
	})
}
