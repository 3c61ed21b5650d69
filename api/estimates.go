package api

import (
	"context"

	"foamwright/materials/orderform"
)

func (f *face) estimates() {
	taking(f, op("POST /estimate", "estimate", "Price a spec").
		saying("Prices a written spec with today's figures. Nothing is stored."),
		func(ctx context.Context, _ *none, form orderform.Form) (*answer[Estimate], error) {
			e, err := f.Sales.Estimate(ctx, "", form)
			if err != nil {
				return nil, err
			}
			return &answer[Estimate]{EstimateOf(e)}, nil
		})
}
