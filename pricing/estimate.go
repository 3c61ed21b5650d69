package pricing

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"
	"foamwright/pricing/schedule"
	"foamwright/pricing/tax"
)

// Effort is how long the cut plan may be searched for, in evaluations: a count, never a clock, so that the same
// inputs always give the same price. Both run one search, so issuing can only lower a price that was shown.
type Effort int

// The efforts: while a page is edited, and when a quote is issued, which a page shows as the better plan beforehand.
const (
	Live  Effort = 8_000
	Issue Effort = 100_000
)

// Charge is one material of the order with its cost.
type Charge struct {
	Group      takeoff.Group
	Item, Name string
	Quantity   measure.Quantity
	Formula    string
	Cost       money.Amount
}

// Estimate is a spec with everything it takes and costs.
type Estimate struct {
	Shield    shield.Shield
	Verdict   shield.Verdict // how it stands to the size rule
	Foam      []takeoff.FoamPlan
	TakeOff   takeoff.TakeOff
	Materials []Charge // foam first, in the groups' order
	Work      labour.Work
	Outlook   schedule.Outlook
	Tasks     []schedule.Task // the work as the bench takes it, in the air of reference
	Price     BuildUp
	Regime    tax.Regime      // without its rates: how the price was made
	Keeps     decimal.Decimal // chance that the price keeps its margin, by the spread of the hours
	Warnings  []string

	from *origin
}

// Make estimates a spec. It is pure: spec and snapshot alone decide, nothing is stored. Faults name what cannot
// be made or priced; ctx ends it early.
func Make(ctx context.Context, spec shield.Spec, snap Snapshot, effort Effort) (Estimate, error) {
	return MakeWatched(ctx, spec, snap, effort, func(int) {})
}

// MakeWatched is Make, telling how many percent of the effort are spent, from the goroutine it was called on.
func MakeWatched(ctx context.Context, spec shield.Spec, snap Snapshot, effort Effort, spent func(percent int)) (Estimate, error) {
	rush, err := snap.rush(spec.Delivery.By)
	if err != nil {
		return Estimate{}, err
	}
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		return Estimate{}, err
	}
	foam, err := plan(ctx, s, snap, effort, spent)
	if err != nil {
		return Estimate{}, err
	}
	return begun(s, foam, spec, snap, effort).finish(rush)
}

// plan lays the parts on sheets.
func plan(ctx context.Context, s shield.Shield, snap Snapshot, effort Effort, spent func(percent int)) ([]takeoff.FoamPlan, error) {
	foam, err := takeoff.PlanFoam(ctx, s, snap.Catalogue, snap.Usage, snap.Rates.OffcutShare, &watched{of: effort, spent: spent}, cutplan.Budget{Evaluations: int(effort), Seed: snap.Seed})
	if err != nil && ctx.Err() != nil {
		return nil, fault.New(fault.Unavailable, "This takes too long to work out just now. Try again in a moment, or with fewer parts.").Because(err)
	}
	return foam, err
}

// begun is an estimate of a shield and the plans it is cut by.
func begun(s shield.Shield, foam []takeoff.FoamPlan, spec shield.Spec, snap Snapshot, effort Effort) Estimate {
	return Estimate{Shield: s, Foam: foam, from: &origin{spec, snap, effort}}
}

// finish is everything that follows from an estimate that was begun. A take-off and work that are there stay.
func (e Estimate) finish(rush decimal.Decimal) (Estimate, error) {
	spec, snap := e.from.spec, e.from.snap
	e.Warnings = append(slices.Clone(spec.Notes), e.Shield.Warnings...)
	if e.TakeOff.Drivers == nil {
		e.TakeOff = takeoff.Count(e.Shield, snap.Catalogue, snap.Usage)
	}
	e.Warnings = append(e.Warnings, e.TakeOff.Warnings...)
	e.Verdict = e.Shield.Judge(snap.rule(spec.Rule), e.TakeOff.Mass)
	e.charge(snap)
	if e.Tasks == nil {
		e.work(snap)
	}
	rate, err := snap.Tax.On(snap.TaxCode, snap.Now)
	if err != nil {
		return Estimate{}, err
	}
	regime, rate := snap.Tax.For(snap.Treatment, rate)
	e.Price = Build(Costs{
		Material: e.sum(""), Hours: e.hours(""), Graded: e.graded(snap.Rates), Quantity: spec.Quantity, FirstTime: spec.FirstTime, Rush: rush,
	}, snap.Rates, regime, rate)
	e.Regime = regime
	e.Regime.Rates = nil
	e.Keeps = keeps(e.Price, e.Work, snap.Rates)
	e.Warnings = append(e.Warnings, e.doubts(snap)...)
	if late := e.Late(); late != "" {
		e.Warnings = append(e.Warnings, late)
	}
	return e, nil
}

// rush is the surcharge for a date: by the asked date against the standard lead time, never by today's load.
func (s Snapshot) rush(by time.Time) (decimal.Decimal, error) {
	if by.IsZero() {
		return decimal.Zero, nil
	}
	days := int(by.Sub(s.day()).Hours() / 24)
	if days < 0 {
		var l fault.List
		l.Add("delivery.by", by.Format(time.DateOnly), "That day is over. Write a later one or leave it empty.")
		return decimal.Zero, l.Err()
	}
	for _, r := range s.Rates.Rush {
		if days <= r.Within && days < s.Rates.LeadDays {
			return r.Share, nil
		}
	}
	return decimal.Zero, nil
}

// day is the calendar day of the estimate, as dates are written: at midnight UTC.
func (s Snapshot) day() time.Time {
	y, m, d := s.Now.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// work counts hours. Setting out the bench is counted by working days, which are known only once everything
// else is planned on an empty bench; so the plan is made without it first. Those days are counted in ordinary weeks from
// a Monday morning on: a price is the same whatever hour, weekday or holiday it is asked on.
func (e *Estimate) work(snap Snapshot) {
	r := snap.Rates
	steps := withFree(snap.Steps, e.Shield.Spec.Steps)
	plan := func() labour.Work {
		return labour.Plan(steps, e.TakeOff.Drivers, e.Shield.Spec.Quantity, r.Allowance, r.Learning)
	}
	bare := plan()
	e.Outlook = schedule.Look(steps, bare, snap.Calendar, snap.Now)
	e.Outlook.WorkingDays = schedule.Look(steps, bare, snap.Calendar.Ordinary(), monday()).WorkingDays
	days := measure.Formula{Unit: measure.Each}
	days.Add(measure.N(e.Outlook.WorkingDays, "working days"))
	e.TakeOff.Drivers[takeoff.WorkingDay] = days
	e.Work = plan()
	e.Tasks = schedule.Tasks(steps, e.Work)
}

// monday is any Monday.
func monday() time.Time { return time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC) }

// hours are those of one grade.
func (e *Estimate) hours(grade string) decimal.Decimal {
	for _, g := range e.Work.Grades {
		if g.Grade == grade {
			return g.Hours
		}
	}
	return decimal.Zero
}

// graded are the hours at other rates than the shop's.
func (e *Estimate) graded(r Rates) (all []Hours) {
	for _, g := range e.Work.Grades {
		if g.Grade != "" {
			all = append(all, Hours{g.Grade, g.Hours, r.hour(g.Grade)})
		}
	}
	return all
}

// withFree puts the spec's own steps before the first coat, where everything built must be done.
func withFree(steps []labour.Step, free []shield.FreeStep) []labour.Step {
	if len(free) == 0 {
		return steps
	}
	at := slices.IndexFunc(steps, func(s labour.Step) bool { return s.Group == "coat" })
	if at < 0 {
		at = len(steps)
	}
	all := slices.Clone(steps)
	for i, f := range free {
		minutes := decimal.NewFromInt(int64(f.Minutes))
		step := labour.Step{
			Code: fmt.Sprintf("own-%d", i+1), Name: f.Name, Group: "own", Driver: takeoff.CheckedItem, Scope: labour.PerItem,
			// The usual spread of a time that nobody has logged yet: common practice, no source.
			Setup: labour.Spread{Low: minutes.Mul(decimal.New(7, -1)), Likely: minutes, High: minutes.Mul(decimal.New(16, -1))},
		}
		if at+i > 0 {
			step.After = []string{all[at+i-1].Code}
		}
		all = slices.Insert(all, at+i, step)
	}
	return all
}

// Digest is the fingerprint of everything the price depends on: equal digests mean equal prices. It is empty where there
// is none to take, which stands for no price.
func (e Estimate) Digest() string {
	if e.from == nil {
		return ""
	}
	snap := e.from.snap
	snap.Now = snap.day()
	data, err := json.Marshal(struct {
		Spec shield.Spec
		Snap Snapshot
	}{e.from.spec, snap})
	if err != nil { // a number that is none: Make lets none through
		return ""
	}
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
