package api

import (
	"cmp"
	"context"
	"strconv"
	"strings"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
	"foamwright/pricing/labour"
	"foamwright/pricing/money"

	"github.com/shopspring/decimal"
)

// Break is a spec priced for so many of it. Hours are of all of them, with rest and delay.
type Break struct {
	Quantity  int     `json:"quantity"`
	EachNet   string  `json:"each_net"`
	Net       string  `json:"net"`
	Gross     string  `json:"gross"`
	Currency  string  `json:"currency"`
	Hours     float64 `json:"hours" doc:"likely: what is charged"`
	Low       float64 `json:"hours_low"`
	High      float64 `json:"hours_high"`
	Expected  float64 `json:"hours_expected" doc:"on the average: (low + 4 likely + high) ÷ 6 of every step"`
	Deviation float64 `json:"hours_deviation" doc:"standard deviation, steps taken as independent"`
	Keeps     string  `json:"keeps_margin,omitempty" doc:"chance that the price keeps its margin, 0 to 1; left out until five jobs were logged"`
}

type breakList struct {
	Breaks []Break `json:"breaks"`
}

// Spread is a low, a likely and a high figure, as decimal text; empty is 0.
type Spread struct {
	Low    string `json:"low"`
	Likely string `json:"likely"`
	High   string `json:"high"`
}

// TableStep is one row of the table of steps.
type TableStep struct {
	Code     string   `json:"code" maxLength:"40" doc:"small letters, digits and hyphens; never changes"`
	Name     string   `json:"name" maxLength:"80"`
	Group    string   `json:"group" doc:"as time is logged"`
	Driver   string   `json:"driver" doc:"what the work is counted by"`
	Scope    string   `json:"scope" enum:"job,batch,item" doc:"set up once per"`
	Setup    Spread   `json:"setup_minutes"`
	Unit     Spread   `json:"unit_minutes"`
	Factors  []string `json:"factors" doc:"ratios of the take-off that multiply the unit work"`
	People   string   `json:"people,omitempty" doc:"what counts the people at once; left out for one"`
	Crew     int      `json:"crew,omitempty" doc:"so many people at once, whatever the piece; left out where people says it"`
	Wait     Spread   `json:"wait_hours"`
	WaitOf   string   `json:"wait_of,omitempty" doc:"hours of the take-off that stand in for the likely wait"`
	Sets     string   `json:"sets,omitempty" enum:"air,warmth,itself" doc:"what the wait goes by: humidity and temperature, temperature alone, or neither, as when it is left out"`
	Repeats  string   `json:"repeats,omitempty" doc:"what counts how often work and wait come again"`
	After    []string `json:"after" doc:"codes of steps above it"`
	Cautions []string `json:"cautions"`
	Place    string   `json:"place,omitempty"`
	Grade    string   `json:"grade,omitempty" doc:"of labour; left out for the shop rate"`
	Uses     string   `json:"consumables,omitempty" maxLength:"200"`
	Note     string   `json:"note,omitempty" maxLength:"400"`
	Hidden   bool     `json:"hidden" doc:"kept, and not counted"`
}

type stepTable struct {
	Edit  int         `json:"edit" doc:"counts changes of the workshop's settings"`
	Steps []TableStep `json:"steps" doc:"in the order of making"`
}

type stepChange struct {
	Edit  *int        `json:"edit" doc:"as it was read"`
	Steps []TableStep `json:"steps" doc:"the whole table; steps of the program stay in it, hidden or not"`
}

func (f *face) labour() {
	taking(f, op("POST /estimate/breaks", "breaks", "Price a spec for 1, 2, 5, 12 and 20").
		saying("Every number is a whole estimate with today's figures. A number that is more than can be laid out at once is left out. Nothing is stored."), f.breaks)
	operation(f, op("GET /workshop/steps", "steps", "The table of steps"),
		func(ctx context.Context, _ *none) (*answer[stepTable], error) { return f.steps(ctx) })
	taking(f, op("PUT /workshop/steps", "set-steps", "Replace the table of steps", conflict).
		saying("New estimates use it; issued quotes do not move."), f.setSteps)
}

func (f *face) breaks(ctx context.Context, _ *none, form orderform.Form) (*answer[breakList], error) {
	all, err := f.Sales.Breaks(ctx, "", form)
	if err != nil {
		return nil, err
	}
	odds, err := f.Sales.Odds(ctx)
	if err != nil {
		return nil, err
	}
	out := breakList{Breaks: []Break{}}
	for _, b := range all {
		if b.Estimate != nil {
			out.Breaks = append(out.Breaks, breakOf(*b.Estimate, odds))
		}
	}
	return &answer[breakList]{out}, nil
}

func breakOf(e pricing.Estimate, odds bool) Break {
	mean, deviation := e.Work.Expected()
	p := e.Price
	b := Break{
		Quantity: p.Quantity, EachNet: money.Round(p.Net.Decimal().Div(decimal.NewFromInt(int64(p.Quantity))), p.Net.Currency()).String(),
		Net: p.Net.String(), Gross: p.Gross.String(), Currency: string(p.Gross.Currency()),
		Hours: e.Work.Hours.InexactFloat64(), Low: e.Work.Low.InexactFloat64(), High: e.Work.High.InexactFloat64(),
		Expected: mean.InexactFloat64(), Deviation: deviation.InexactFloat64(),
	}
	if odds {
		b.Keeps = e.Keeps.String()
	}
	return b
}

func (f *face) steps(ctx context.Context) (*answer[stepTable], error) {
	w, err := f.Sales.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	out := stepTable{Edit: w.Edit, Steps: []TableStep{}}
	for _, s := range w.Figures.Steps {
		out.Steps = append(out.Steps, TableStep{
			Code: s.Code, Name: s.Name, Group: s.Group, Driver: string(s.Driver), Scope: string(s.Scope), Setup: spreadOf(s.Setup), Unit: spreadOf(s.Unit),
			Factors: texts(s.Factors), People: string(s.People), Crew: s.Crew, Wait: spreadOf(s.Wait), WaitOf: string(s.WaitOf), Sets: string(s.Sets), Repeats: string(s.Repeats),
			After: texts(s.After), Cautions: texts(s.Cautions), Place: s.Resource, Grade: s.Grade, Uses: s.Uses, Note: s.Note, Hidden: s.Hidden,
		})
	}
	return &answer[stepTable]{out}, nil
}

func (f *face) setSteps(ctx context.Context, _ *none, body stepChange) (*answer[stepTable], error) {
	var l fault.List
	if body.Edit == nil {
		l.Add("edit", "", "Send the edit count that the table was read with.")
	}
	steps := make([]labour.Step, len(body.Steps))
	at := map[string]string{} // where a code stands in the list
	for i, s := range body.Steps {
		field := "steps." + strconv.Itoa(i)
		at[s.Code] = field
		steps[i] = labour.Step{
			Code: s.Code, Name: strings.TrimSpace(s.Name), Group: s.Group, Driver: takeoff.Driver(s.Driver), Scope: labour.Scope(s.Scope),
			Setup: s.Setup.read(&l, field+".setup_minutes"), Unit: s.Unit.read(&l, field+".unit_minutes"), Factors: spelled[takeoff.Driver](s.Factors),
			People: takeoff.Driver(s.People), Crew: s.Crew, Wait: s.Wait.read(&l, field+".wait_hours"), WaitOf: takeoff.Driver(s.WaitOf), Sets: cmp.Or(materials.Setting(s.Sets), materials.ByItself), Repeats: takeoff.Driver(s.Repeats),
			After: spelled[string](s.After), Cautions: spelled[string](s.Cautions), Resource: s.Place, Grade: s.Grade, Uses: s.Uses, Note: s.Note, Hidden: s.Hidden,
		}
	}
	if err := l.Err(); err != nil {
		return nil, err
	}
	w, err := f.Sales.Workshop(ctx)
	if err != nil {
		return nil, err
	}
	w.Figures.Steps, w.Edit = steps, *body.Edit
	if err := f.Sales.SetWorkshop(ctx, w, callOf(ctx).by); err != nil {
		return nil, inTable(err, at)
	}
	return f.steps(ctx)
}

// inTable puts what is wrong with a step down to its place in the list and to its entry's name here.
func inTable(err error, at map[string]string) error {
	if fault.KindOf(err) != fault.Invalid {
		return err
	}
	names := strings.NewReplacer("setup.", "setup_minutes.", "unit.", "unit_minutes.", "wait.", "wait_hours.", "resource", "place")
	var l fault.List
	for _, p := range fault.ProblemsOf(err) {
		if rest, ok := strings.CutPrefix(p.Field, "steps."); ok {
			code, entry, _ := strings.Cut(rest, ".")
			if where, ok := at[code]; ok {
				p.Field = strings.TrimSuffix(where+"."+names.Replace(entry), ".")
			}
		}
		l.Add(p.Field, p.Value, p.Remedy)
	}
	return l.Err()
}

func spreadOf(s labour.Spread) Spread {
	return Spread{s.Low.String(), s.Likely.String(), s.High.String()}
}

// read is the spread as it is written.
func (s Spread) read(l *fault.List, field string) labour.Spread {
	figure := func(name, typed string) decimal.Decimal {
		if typed == "" {
			return decimal.Zero
		}
		d, err := decimal.NewFromString(typed)
		if err != nil || len(typed) > 16 || strings.ContainsAny(typed, "eE") {
			l.Add(field+"."+name, typed, "Write a number, for example 2.5.")
		}
		return d
	}
	return labour.Spread{Low: figure("low", s.Low), Likely: figure("likely", s.Likely), High: figure("high", s.High)}
}
