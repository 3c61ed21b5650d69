package api

import (
	"context"
	"net/http"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"

	"github.com/danielgtaylor/huma/v2"
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
	out := Waiting{w.ID, w.CustomerID, w.Who, w.Wish, w.Since.Format(time.DateOnly), w.Note, w.EnquiryID, "", w.Reason}
	if !w.Ended.IsZero() {
		out.Ended = w.Ended.UTC().Format(time.DateOnly)
	}
	return out
}

func (f *face) waiting() {
	operation(f, huma.Operation{
		OperationID: "waiting-list", Method: http.MethodGet, Path: "/waiting", Summary: "Who waits for a free bench, the longest first",
	}, nobodyElse(), func(ctx context.Context, in *struct {
		Ended bool `query:"ended" doc:"those who waited before instead"`
	}) (*answer[waitingList], error) {
		list, err := f.Sales.WaitingList(ctx, in.Ended)
		if err != nil {
			return nil, err
		}
		out := waitingList{Waiting: each(list, waitingRow)}
		turn, free, err := f.Sales.Next(ctx)
		if free {
			out.Free = turn.Free.Format(time.DateOnly)
		}
		return &answer[waitingList]{out}, err
	})
	taking(f, huma.Operation{
		OperationID: "wait", Method: http.MethodPost, Path: "/waiting", Summary: "Put somebody on the waiting list", DefaultStatus: http.StatusCreated, Errors: []int{http.StatusConflict},
		Description: "An enquiry that waits already waits once.",
	}, nobodyElse(), func(ctx context.Context, _ *none, e waitingEntry) (*made[Waiting], error) {
		w := sales.Waiting{CustomerID: e.Customer, Who: e.Who, Wish: e.Wish, Note: e.Note, EnquiryID: e.Enquiry}
		if e.Since != "" {
			var err error
			if w.Since, err = time.Parse(time.DateOnly, e.Since); err != nil {
				var l fault.List
				l.Add("since", e.Since, "Write a day, for example 2027-03-14.")
				return nil, l.Err()
			}
		}
		kept, err := f.Sales.Wait(ctx, w, callOf(ctx).by)
		return &made[Waiting]{Path + "/waiting", waitingRow(kept)}, err
	})
	taking(f, huma.Operation{
		OperationID: "end-wait", Method: http.MethodPost, Path: "/waiting/{id}/end", Summary: "Take somebody off the waiting list",
	}, nobodyElse(), func(ctx context.Context, in *byID, e ending) (*none, error) {
		return &none{}, f.Sales.EndWait(ctx, in.ID, e.Reason)
	})
}
