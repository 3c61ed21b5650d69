package pricing

import (
	"context"
	"reflect"

	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
)

// Again is Make for a spec and a snapshot that differ little from those of an estimate made with the same effort: where
// the same pieces go on the same sheets the plans are taken over, which is nearly all of the time an estimate takes. The
// answer is the one that Make gives.
func (e Estimate) Again(ctx context.Context, spec shield.Spec, snap Snapshot, effort Effort) (Estimate, error) {
	rush, err := snap.rush(spec.Delivery.By)
	if err != nil {
		return Estimate{}, err
	}
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		return Estimate{}, err
	}
	jobs, err := takeoff.Foams(s, snap.Catalogue, snap.Usage, snap.Rates.OffcutShare)
	if err != nil {
		return Estimate{}, err
	}
	if len(jobs) != len(e.Foam) {
		return Make(ctx, spec, snap, effort)
	}
	for i, f := range jobs {
		if f.Foam.Code != e.Foam[i].Foam.Code || !reflect.DeepEqual(f.Job, e.Foam[i].Job) {
			return Make(ctx, spec, snap, effort)
		}
	}
	return price(s, e.Foam, rush, spec, snap)
}
