package api

import (
	"context"
	"mime"
	"net/http"
	"strings"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
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
	operation(f, op("GET /quotes/{id}/estimate", "quote-estimate", "How a draft's price is made", conflict, invalid).also(people.Bookkeeper).
		saying("Prices the draft with today's figures; its digest and gross are what issuing asks for."), f.quoteEstimate)
	taking(f, op("POST /quotes/{id}/issue", "issue-quote", "Issue a draft", conflict).
		saying("Gives the draft its number and freezes it with its price and document. If the price moved since it was shown, nothing is done (409). "+
			"Issuing again gives the issued quote back."), f.issue)
	operation(f, op("POST /quotes/{id}/revise", "revise-quote", "Open a new version").
		saying("Opens the next version of an issued quote as a draft, or gives the draft that is already open."),
		func(ctx context.Context, in *byID) (*answer[Quote], error) {
			q, err := f.Sales.Revise(ctx, in.ID)
			return &answer[Quote]{quoteOf(q)}, err
		})
	operation(f, op("GET /quotes/{id}/document", "quote-document", "An issued quote's document", conflict).also(people.Bookkeeper).
		giving("The document, byte for byte as it was issued", pdfType).unlessHad(),
		func(ctx context.Context, in *documentRequest) (*documentAnswer, error) {
			d, err := f.Sales.Document(ctx, in.ID)
			return frozen(d, err, pdfType, in.IfNoneMatch)
		})
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

// frozen is a document's bytes, or that the caller has them already.
func frozen(d sales.Document, err error, media, had string) (*documentAnswer, error) {
	if err != nil {
		return nil, err
	}
	etag := `"` + d.Hash + `"`
	if matches(had, etag) {
		return &documentAnswer{Status: http.StatusNotModified, ETag: etag}, nil
	}
	return &documentAnswer{
		Status: http.StatusOK, ContentType: media, ETag: etag, Body: d.Bytes,
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
