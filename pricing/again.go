package pricing

import (
	"context"
	"maps"
	"reflect"

	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
)

// origin is what an estimate was made from, kept for the next one. It is only read.
type origin struct {
	spec   shield.Spec
	snap   Snapshot
	effort Effort
}

// Spec is what the estimate was made from.
func (e Estimate) Spec() shield.Spec {
	if e.from == nil {
		return e.Shield.Spec
	}
	return e.from.spec
}

// Again is Make for a spec and a snapshot that differ little from those of an estimate that was made: what they do not
// touch is taken over, shield, cut plans, take-off and work, which are nearly all of the time an estimate takes. The
// answer is the one that Make gives, to the byte.
func (e Estimate) Again(ctx context.Context, spec shield.Spec, snap Snapshot, effort Effort) (Estimate, error) {
	if e.from == nil || !e.sameBench(snap) {
		return Make(ctx, spec, snap, effort)
	}
	rush, err := snap.rush(spec.Delivery.By)
	if err != nil {
		return Estimate{}, err
	}
	s, ok := e.Shield.With(e.from.spec, spec)
	if !ok {
		if s, err = shield.Make(spec, snap.Catalogue, snap.Bench); err != nil {
			return Estimate{}, err
		}
	}
	foam, err := e.samePlans(s, snap, effort, ok)
	if err != nil {
		return Estimate{}, err
	}
	if foam == nil {
		if foam, err = plan(ctx, s, snap, effort, func(int) {}); err != nil {
			return Estimate{}, err
		}
	}
	next := begun(s, foam, spec, snap, effort)
	if ok && e.sameTakeOff(spec, snap) {
		next.TakeOff = e.TakeOff
		next.TakeOff.Drivers = maps.Clone(e.TakeOff.Drivers)
		if e.sameWork(snap) {
			next.Work, next.Outlook, next.Tasks = e.Work, e.Outlook, e.Tasks
		} else {
			delete(next.TakeOff.Drivers, takeoff.WorkingDay) // which follows from the work
		}
	}
	return next.finish(rush)
}

// sameBench tells that what a shield is made of and on is the same.
func (e Estimate) sameBench(snap Snapshot) bool {
	return reflect.DeepEqual(e.from.snap.Catalogue, snap.Catalogue) && reflect.DeepEqual(e.from.snap.Bench, snap.Bench)
}

// samePlans are the plans where the same pieces go on the same sheets; nil where they have to be made anew.
func (e Estimate) samePlans(s shield.Shield, snap Snapshot, effort Effort, sameShield bool) ([]takeoff.FoamPlan, error) {
	was := e.from
	if effort != was.effort || snap.Seed != was.snap.Seed {
		return nil, nil
	}
	sameSheets := reflect.DeepEqual(was.snap.Usage, snap.Usage) && was.snap.Rates.OffcutShare.Equal(snap.Rates.OffcutShare)
	if sameShield && sameSheets && was.spec.Quantity == s.Spec.Quantity {
		return e.Foam, nil
	}
	jobs, err := takeoff.Foams(s, snap.Catalogue, snap.Usage, snap.Rates.OffcutShare)
	if err != nil || len(jobs) != len(e.Foam) {
		return nil, err
	}
	for i, f := range jobs {
		if f.Foam.Code != e.Foam[i].Foam.Code || !reflect.DeepEqual(f.Job, e.Foam[i].Job) {
			return nil, nil
		}
		// The areas are told by the shield, which may be another one.
		jobs[i].Plan, jobs[i].Sheets, jobs[i].Kept = e.Foam[i].Plan, e.Foam[i].Sheets, e.Foam[i].Kept
	}
	return jobs, nil
}

// sameTakeOff tells that one item of a shield that is the same takes the same.
func (e Estimate) sameTakeOff(spec shield.Spec, snap Snapshot) bool {
	return reflect.DeepEqual(e.from.spec, spec) && reflect.DeepEqual(e.from.snap.Usage, snap.Usage)
}

// sameWork tells that a take-off that is the same is the same work on the same days.
func (e Estimate) sameWork(snap Snapshot) bool {
	was, is := e.from.snap, snap
	return reflect.DeepEqual(was.Steps, is.Steps) && was.Rates.Allowance.Equal(is.Rates.Allowance) && reflect.DeepEqual(was.Rates.Learning, is.Rates.Learning) &&
		reflect.DeepEqual(was.Calendar, is.Calendar) && was.Now.Equal(is.Now) && was.Now.Location() == is.Now.Location()
}
