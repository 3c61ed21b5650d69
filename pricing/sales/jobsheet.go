package sales

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"foamwright/materials/shield"
	"foamwright/pricing"
	"foamwright/pricing/schedule"
	"foamwright/pricing/words"
)

// JobSheet is what lies at the bench beside an order: no money is on it.
type JobSheet struct {
	Workshop string
	Order    Order
	Date     time.Time // on the clock of the workshop's wall
	Promised time.Time // asked for; zero for no date
	Planned  bool      // its steps have times
	Booked   bool
	Ready    time.Time
	Made     []string
	Settings []Setting
	Takes    []Taking
	Steps    []SheetStep
	Cautions []string
	Checks   []string
	Link     string // to the time log of the order
}

// Setting is a figure to keep to at the bench.
type Setting struct{ Name, Value string }

// SheetStep is a step as it is worked, with what to mind.
type SheetStep struct {
	schedule.Slot // without times where the order is not planned any more
	Minds         []string
	Uses          string // what lies ready for it
}

// JobSheet prints an order's sheet for the bench, with the plan as it stands. link leads to the order's time log.
func (s *Service) JobSheet(ctx context.Context, id, link string) (Document, error) {
	b, err := s.built(ctx, id)
	if err != nil {
		return Document{}, err
	}
	days, err := s.Days(ctx)
	if err != nil {
		return Document{}, err
	}
	w, err := s.Workshop(ctx)
	if err != nil {
		return Document{}, err
	}
	j := JobSheet{
		Workshop: w.Head.Name, Order: b.order, Date: Wall(s.now()), Promised: b.made.Spec.Delivery.By, Made: slices.Concat(b.quote.Printed.Made, b.group.Says(words.Tongue{})),
		Settings: settings(b.made), Takes: b.quote.Printed.Takes, Checks: checks(b.made.Spec), Link: link,
	}
	var slots []schedule.Slot
	var damp []string
	for i, t := range b.quote.Printed.Tasks {
		slots = append(slots, schedule.Slot{Task: t, Index: i, People: max(1, t.People)})
	}
	if i := slices.IndexFunc(days, func(o OnBench) bool { return o.Order.ID == id }); i >= 0 {
		slots, j.Planned, j.Booked, j.Ready = days[i].Plan.Slots, true, days[i].Booked, days[i].Plan.Ready
		if damp = days[i].Damp; len(slots) > 0 {
			if air := season(w, slots[0].Start); air != "" {
				j.Settings = append(j.Settings, Setting{"Waits", air})
			}
		}
	}
	minds, uses := map[string][]string{}, map[string]string{}
	for _, step := range b.snap.Steps {
		minds[step.Code], uses[step.Code] = step.Cautions, step.Uses
	}
	for _, slot := range slots {
		j.Steps = append(j.Steps, SheetStep{slot, minds[slot.Task.Code], uses[slot.Task.Code]})
	}
	j.Cautions = append(damp, cautionsOf(j.Steps)...)
	data, err := s.render.JobSheet(ctx, j)
	if err != nil {
		return Document{}, fmt.Errorf("job sheet of order %s: %w", b.order.Number, err)
	}
	return Document{Hash: hash(data), Name: fmt.Sprintf("job-sheet-%d-%d.pdf", b.order.Number.Year, b.order.Number.No), Bytes: data}, nil
}

// built is an order as its quote was issued, worked out again from the figures of that day.
type built struct {
	order Order
	quote Quote
	group Group
	snap  pricing.Snapshot
	made  shield.Shield
}

func (s *Service) built(ctx context.Context, id string) (b built, err error) {
	var body []byte
	err = s.store.Act(ctx, func(tx Tx) (err error) {
		if b.order, err = tx.Order(ctx, id); err != nil {
			return err
		}
		if b.quote, err = tx.Quote(ctx, b.order.QuoteID); err != nil {
			return err
		}
		b.quote = b.order.as(b.quote)
		if b.group, err = tx.Group(ctx, b.quote.ID); err != nil {
			return err
		}
		body, err = tx.Snapshot(ctx, b.quote.Snapshot)
		return err
	})
	if err != nil {
		return b, err
	}
	if err := json.Unmarshal(body, &b.snap); err != nil {
		return b, fmt.Errorf("snapshot of quote %s: %w", b.quote.ID, err)
	}
	spec, err := b.quote.Form.Spec()
	if err != nil {
		return b, err
	}
	b.made, err = shield.Make(spec, b.snap.Catalogue, b.snap.Bench)
	return b, err
}

// settings are the figures to keep to: how many, the former, and the coats.
func settings(s shield.Shield) (all []Setting) {
	add := func(name, format string, a ...any) { all = append(all, Setting{name, fmt.Sprintf(format, a...)}) }
	spec := s.Spec
	add("Pieces", "%d", spec.Quantity)
	if c := s.Curve; c != nil {
		add("Former", "radius %.0f mm to the back face", c.Former)
		add("On the former", "%.0f mm straight across, %.0f mm deep", c.Bent.Chord, c.Bent.Depth)
		add("Off the former", "%.0f mm straight across, %.0f mm deep", c.Released.Chord, c.Released.Depth)
	}
	switch spec.Coat.System {
	case "latex":
		add("Latex", "%s, the first thinned", many(spec.Coat.Coats, "coat"))
	case "primer":
		add("Flexible primer", "%s", many(spec.Coat.Coats, "coat"))
	}
	for _, p := range spec.Paint {
		add(Sentence(p.Colour), "%s, %s", p.Where, many(p.Coats, "coat"))
	}
	if spec.ClearCoats > 0 {
		add("Clear", "%s", many(spec.ClearCoats, "coat"))
	}
	return all
}

// cautionWords are the usual cautions by what a step says to mind. Common practice; local codes and data sheets win.
func cautionWords() []Setting {
	return []Setting{
		{"solvent", "Solvent vapour: no flame, spark or heat near it; open the room to the air; wear a filter against organic vapour. Let the glue flash off before heat comes near."},
		{"dust", "Dust: extraction and a P2 or P3 mask; sweep nothing dry."},
		{"heat", "Heat: burns and fumes. Never over glue that is still wet; open the room to the air."},
		{"latex", "Natural rubber latex: some people are allergic to it; wear gloves of another rubber, open the room to the air, and ask who will handle the piece. Never hot air on wet latex."},
		{"knife", "Knife: cut away from the hand, change a dull blade, sharps into the tin."},
	}
}

// cautionsOf are the cautions of some steps, each once.
func cautionsOf(steps []SheetStep) []string {
	var said []string
	for _, c := range cautionWords() {
		if slices.ContainsFunc(steps, func(s SheetStep) bool { return slices.Contains(s.Minds, c.Name) }) {
			said = append(said, c.Value)
		}
	}
	return append(said, "Local codes, product data sheets and licensed practice come before anything said here.")
}

// checks are what is looked at before it is packed. Common practice, no source; the event's own check decides.
func checks(spec shield.Spec) []string {
	list := []string{"Measured across, high and deep, and written down", "Weighed, and written down", "Every bond holds when it is pulled at the edge"}
	if spec.Kind == shield.Repair {
		list = list[2:]
	}
	if spec.Grip.Kind != "" && spec.Grip.Kind != "none" {
		list = append(list, "Grip sits fast, in the hand it is for; nothing hard comes through the face or near the edge")
	}
	if spec.Edge != nil || spec.Rim != nil {
		list = append(list, "No end of rim or strip lifts")
	}
	if spec.Coat.System != "none" && spec.Coat.System != "" {
		list = append(list, "Coat whole, dry and not sticky, also in cuts and grooves")
	}
	if len(spec.Paint) > 0 {
		list = append(list, "Colours as agreed, nothing rubs off")
	}
	return append(list, "Against the event's size rule as it was stated; the event's own check decides", "Photographs taken, where the customer agreed", "Care sheet in the parcel")
}
