package pricing

import (
	"fmt"

	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing/schedule"
)

// Tasks are those of an estimate, without its cut plan and its price: quick enough to try a few other specs.
func Tasks(spec shield.Spec, snap Snapshot) ([]schedule.Task, error) {
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		return nil, err
	}
	e := Estimate{Shield: s, TakeOff: takeoff.Count(s, snap.Catalogue, snap.Usage)}
	e.work(snap)
	return e.Tasks, nil
}

// Late says that the date asked for cannot be met by one pair of hands with nothing else to do; empty where it can, and
// where none was asked for. Of the people, places and seasons of a workshop an estimate knows nothing.
func (e Estimate) Late() string {
	const day = "2 January 2006"
	by := e.Shield.Spec.Delivery.By
	if by.IsZero() || !e.Outlook.Ready.After(by.AddDate(0, 0, 1)) {
		return ""
	}
	return fmt.Sprintf("With nothing else to do, one pair of hands is not ready before %s; %s was asked for.", e.Outlook.Ready.Format(day), by.Format(day))
}
