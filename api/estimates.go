package api

import (
	"context"
	"net/http"

	"foamwright/materials/orderform"

	"github.com/danielgtaylor/huma/v2"
)

func (f *face) estimates() {
	taking(f, huma.Operation{
		OperationID: "estimate", Method: http.MethodPost, Path: "/estimate", Summary: "Price a spec",
		Description: "Prices a written spec with today's figures. Nothing is stored.",
	}, nobodyElse(), func(ctx context.Context, _ *none, form orderform.Form) (*answer[Estimate], error) {
		e, err := f.Sales.Estimate(ctx, "", form)
		if err != nil {
			return nil, err
		}
		return &answer[Estimate]{EstimateOf(e)}, nil
	})
}
