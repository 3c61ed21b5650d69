package api

import (
	"context"
	"mime"
	"net/http"
	"strings"

	"foamwright/materials/fault"
	"foamwright/pricing/sales"

	"github.com/danielgtaylor/huma/v2"
)

type shownPrice struct {
	Digest string `json:"digest" doc:"of the estimate that was shown"`
	Gross  string `json:"gross" doc:"price of it, as it was shown"`
}

type documentRequest struct {
	ID          string `path:"id" format:"uuid"`
	IfNoneMatch string `header:"If-None-Match"`
}

type documentAnswer struct {
	Status      int
	ContentType string `header:"Content-Type" hidden:"true"`
	Disposition string `header:"Content-Disposition"`
	ETag        string `header:"ETag" doc:"SHA-256 of the document, hexadecimal, in quotation marks"`
	Body        []byte
}

func (f *face) issuing() {
	operation(f, huma.Operation{
		OperationID: "quote-estimate", Method: http.MethodGet, Path: "/quotes/{id}/estimate", Summary: "How a draft's price is made",
		Description: "Prices the draft with today's figures; its digest and gross are what issuing asks for.",
		Errors:      []int{http.StatusConflict, http.StatusUnprocessableEntity},
	}, bookkeeper(), f.quoteEstimate)
	taking(f, huma.Operation{
		OperationID: "issue-quote", Method: http.MethodPost, Path: "/quotes/{id}/issue", Summary: "Issue a draft", Errors: []int{http.StatusConflict},
		Description: "Gives the draft its number and freezes it with its price and document. If the price moved since it was shown, nothing is done (409). " +
			"Issuing again gives the issued quote back.",
	}, nobodyElse(), f.issue)
	operation(f, huma.Operation{
		OperationID: "revise-quote", Method: http.MethodPost, Path: "/quotes/{id}/revise", Summary: "Open a new version",
		Description: "Opens the next version of an issued quote as a draft, or gives the draft that is already open.",
	}, nobodyElse(), func(ctx context.Context, in *byID) (*answer[Quote], error) {
		q, err := f.Sales.Revise(ctx, in.ID)
		return &answer[Quote]{quoteOf(q)}, err
	})
	operation(f, huma.Operation{
		OperationID: "quote-document", Method: http.MethodGet, Path: "/quotes/{id}/document", Summary: "An issued quote's document",
		Errors: []int{http.StatusConflict},
		Responses: map[string]*huma.Response{
			"200": {Description: "The document, byte for byte as it was issued", Content: map[string]*huma.MediaType{"application/pdf": {}}},
			"304": {Description: "You have it already"},
		},
	}, bookkeeper(), f.document)
}

func (f *face) quoteEstimate(ctx context.Context, in *byID) (*answer[Estimate], error) {
	q, err := f.Sales.Quote(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	if q.State != sales.Draft {
		return nil, fault.New(fault.State, "Quote %s has been issued: its price stands in its document. To see what the same costs today, have its spec estimated.", q.Number)
	}
	e, err := f.Sales.Estimate(ctx, q.CustomerID, q.Form)
	if err != nil {
		return nil, inSpec(err)
	}
	return &answer[Estimate]{EstimateOf(e)}, nil
}

func (f *face) issue(ctx context.Context, in *byID, shown shownPrice) (*answer[Quote], error) {
	var l fault.List
	if shown.Digest == "" {
		l.Add("digest", "", "Send the digest of the estimate that was shown.")
	}
	if shown.Gross == "" {
		l.Add("gross", "", "Send the gross price that was shown.")
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	q, err := f.Sales.Issue(ctx, in.ID, sales.Shown{Digest: shown.Digest, Gross: shown.Gross}, callOf(ctx).by)
	return &answer[Quote]{quoteOf(q)}, inSpec(err)
}

func (f *face) document(ctx context.Context, in *documentRequest) (*documentAnswer, error) {
	d, err := f.Sales.Document(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	return frozen(d, in.IfNoneMatch)
}

// frozen is a document's bytes, or that the caller has them already.
func frozen(d sales.Document, had string) (*documentAnswer, error) {
	etag := `"` + d.Hash + `"`
	if matches(had, etag) {
		return &documentAnswer{Status: http.StatusNotModified, ETag: etag}, nil
	}
	return &documentAnswer{
		Status: http.StatusOK, ContentType: "application/pdf", ETag: etag, Body: d.Bytes,
		Disposition: mime.FormatMediaType("attachment", map[string]string{"filename": d.Name}),
	}, nil
}

// matches compares an If-None-Match with an entity tag (RFC 9110, section 13.1.2: weakly).
func matches(header, etag string) bool {
	for tag := range strings.SplitSeq(header, ",") {
		if tag = strings.TrimSpace(tag); tag == "*" || strings.TrimPrefix(tag, "W/") == etag {
			return true
		}
	}
	return false
}
