package api

import (
	"math"

	"foamwright/pricing"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// Estimate is what an estimate says, as JSON. Lengths mm, areas as named; measured figures are numbers, money is
// decimal text with the currency's places.
type Estimate struct {
	Name     string     `json:"name"`
	Quantity int        `json:"quantity"`
	Outline  Outline    `json:"outline"`
	Core     Core       `json:"core"`
	Curve    *Curve     `json:"curve"`
	Rule     Rule       `json:"rule"`
	Foam     []Foam     `json:"foam"`
	Material []Material `json:"materials"`
	Labour   Labour     `json:"labour"`
	Outlook  Outlook    `json:"outlook"`
	MassKg   float64    `json:"mass_kg" doc:"of one item"`
	DryFilm  float64    `json:"dry_film_mm" doc:"latex or primer, once all coats are dry"`
	Price    Price      `json:"price"`
	Warnings []string   `json:"warnings"`
	Digest   string     `json:"digest" doc:"fingerprint of everything the price depends on"`
}

// Outline is one layer's template.
type Outline struct {
	Width     float64 `json:"width_mm"`
	Height    float64 `json:"height_mm"`
	Area      float64 `json:"area_mm2"`
	Perimeter float64 `json:"perimeter_mm"`
	Circle    float64 `json:"enclosing_circle_mm"`
}

// Core is the stack of layers, without rim.
type Core struct {
	Layers    int     `json:"layers"`
	Thickness float64 `json:"thickness_mm"`
}

// Bow is how wide and deep a curved shield stands.
type Bow struct {
	Chord  float64 `json:"chord_mm"`
	Depth  float64 `json:"depth_mm"`
	Hollow float64 `json:"hollow_mm"`
}

// Curve is on the former, and released as the customer gets it.
type Curve struct {
	Bow
	Released Bow     `json:"released"`
	EdgeStep float64 `json:"edge_step_mm"`
}

// Rule is the answer of the size rule; the event's own check decides.
type Rule struct {
	Name     string   `json:"name"`
	Verdict  string   `json:"verdict"`
	Margin   *float64 `json:"margin_mm" doc:"to spare; below zero too big; null without a rule"`
	By       string   `json:"by,omitempty" doc:"the deciding measure"`
	Sentence string   `json:"sentence"`
}

// Foam is what the order takes of one foam.
type Foam struct {
	Foam    string  `json:"foam"`
	Sheets  int     `json:"sheets"`
	Net     float64 `json:"net_m2"`
	Kept    float64 `json:"kept_m2" doc:"offcuts worth keeping"`
	Formula string  `json:"formula"`
	Cost    string  `json:"cost"`
}

// Material is one material but foam, for the whole order.
type Material struct {
	Item     string  `json:"item"`
	Name     string  `json:"name"`
	Group    string  `json:"group"`
	Quantity float64 `json:"quantity"`
	Unit     string  `json:"unit"`
	Formula  string  `json:"formula"`
	Cost     string  `json:"cost"`
}

// Labour is the work of the order: minutes before the allowance, hours with it.
type Labour struct {
	Minutes float64 `json:"minutes"`
	Hours   float64 `json:"hours"`
	Low     float64 `json:"hours_low"`
	High    float64 `json:"hours_high"`
	Steps   []Step  `json:"steps"`
}

// Step is one step of the work.
type Step struct {
	Step    string  `json:"step"`
	Name    string  `json:"name"`
	Minutes float64 `json:"minutes"`
	Formula string  `json:"formula"`
}

// Outlook is the days of one pair of hands with nothing else to do, in the air of reference.
type Outlook struct {
	WorkingDays int    `json:"working_days"`
	Ready       string `json:"ready" format:"date" doc:"by one pair of hands with nothing else to do, in no season; the bench's own day is that of /estimate/days"`
}

// Price is how the price is made.
type Price struct {
	Currency    string `json:"currency"`
	Material    string `json:"material"`
	Handling    string `json:"handling"`
	Labour      string `json:"labour"`
	Direct      string `json:"direct"`
	Contingency string `json:"contingency"`
	Cost        string `json:"cost"`
	UnitNet     string `json:"unit_net"`
	Net         string `json:"net"`
	Tax         string `json:"tax"`
	Gross       string `json:"gross"`
	Deposit     string `json:"deposit"`
	Balance     string `json:"balance"`
	Lines       []Line `json:"lines" doc:"every line as printed; sums add the lines above them"`
}

// Line is one printed line of the build-up.
type Line struct {
	Key    string `json:"key"`
	Label  string `json:"label"`
	Amount string `json:"amount"`
	How    string `json:"how,omitempty"`
	Sum    bool   `json:"sum,omitempty"`
}

// EstimateOf writes an estimate for JSON.
func EstimateOf(e pricing.Estimate) Estimate {
	s, p := e.Shield, e.Price
	out := Estimate{
		Name: s.Spec.Name, Quantity: s.Spec.Quantity,
		Outline:  Outline{s.Box.Width(), s.Box.Height(), s.Area, s.Perimeter, s.Circle},
		Core:     Core{s.Spec.Core.Layers, s.Core},
		Rule:     Rule{Name: e.Verdict.Rule, Verdict: e.Verdict.Answer, By: e.Verdict.By, Sentence: sales.Judged(words.Tongue{}, e.Verdict)},
		Labour:   Labour{e.Work.Minutes.InexactFloat64(), e.Work.Hours.InexactFloat64(), e.Work.Low.InexactFloat64(), e.Work.High.InexactFloat64(), []Step{}},
		Outlook:  Outlook{e.Outlook.WorkingDays, e.Outlook.Ready.Format("2006-01-02")},
		MassKg:   e.TakeOff.Mass.InexactFloat64(),
		DryFilm:  e.TakeOff.DryFilm.Shift(-3).InexactFloat64(),
		Warnings: append([]string{}, e.Warnings...),
		Foam:     []Foam{}, Material: []Material{},
		Digest: e.Digest(),
		Price: Price{
			Currency: string(p.Gross.Currency()), Material: p.Material.String(), Handling: p.Handling.String(), Labour: p.Labour.String(),
			Direct: p.Direct.String(), Contingency: p.Contingency.String(), Cost: p.Cost.String(), UnitNet: p.UnitNet.String(),
			Net: p.Net.String(), Tax: p.Tax.String(), Gross: p.Gross.String(), Deposit: p.Deposit.String(), Balance: p.Balance.String(),
			Lines: []Line{},
		},
	}
	if m := e.Verdict.Margin; e.Verdict.Measured != "" && !math.IsInf(m, 0) {
		out.Rule.Margin = &m
	}
	if c := s.Curve; c != nil {
		out.Curve = &Curve{
			Bow: Bow{c.Bent.Chord, c.Bent.Depth, c.Bent.Hollow}, EdgeStep: c.EdgeStep,
			Released: Bow{c.Released.Chord, c.Released.Depth, c.Released.Hollow},
		}
	}
	for i, f := range e.Foam {
		charge := e.Materials[i] // foam comes first, in the same order
		out.Foam = append(out.Foam, Foam{f.Foam.Code, f.Sheets, f.Net.Value.InexactFloat64(), f.Kept.Value.InexactFloat64(), charge.Formula, charge.Cost.String()})
	}
	for _, c := range e.Materials[len(e.Foam):] {
		out.Material = append(out.Material, Material{c.Item, c.Name, string(c.Group), c.Quantity.Value.InexactFloat64(), string(c.Quantity.Unit), c.Formula, c.Cost.String()})
	}
	for _, l := range e.Work.Lines {
		out.Labour.Steps = append(out.Labour.Steps, Step{l.Step.Code, l.Step.Name, l.Minutes.InexactFloat64(), l.Formula.String()})
	}
	for _, l := range p.Lines {
		out.Price.Lines = append(out.Price.Lines, Line{l.Key, l.Label, l.Amount.String(), l.How, l.Sum})
	}
	return out
}
