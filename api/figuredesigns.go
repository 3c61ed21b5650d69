package api

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
)

// Costing is what an order, or several, cost and bring, net. Shares are fractions.
type Costing struct {
	Net              string `json:"net"`
	Fee              string `json:"fee" doc:"what taking the payment costs"`
	Material         string `json:"material"`
	Handling         string `json:"handling"`
	Labour           string `json:"labour"`
	BoughtIn         string `json:"bought_in"`
	Contingency      string `json:"contingency"`
	Cost             string `json:"cost" doc:"all of them but the fee"`
	Earned           string `json:"earned" doc:"net less fee and cost"`
	Margin           string `json:"margin" doc:"earned as a share of the net less the fee"`
	MaterialShare    string `json:"material_share" doc:"of the cost"`
	Contribution     string `json:"contribution" doc:"net less fee, material, handling and what is bought in"`
	Hours            string `json:"hours"`
	Low              string `json:"hours_low"`
	High             string `json:"hours_high"`
	PerHour          string `json:"margin_an_hour"`
	ContributionHour string `json:"contribution_an_hour"`
	FormerDays       string `json:"former_days"`
	DryingDays       string `json:"drying_days"`
	PerFormer        string `json:"contribution_a_former_day"`
	PerDrying        string `json:"contribution_a_drying_day"`
}

// JobsDone are orders that were done: as they were planned and as they took, by the same sums.
type JobsDone struct {
	Jobs    int      `json:"jobs"`
	Untold  int      `json:"untold" doc:"jobs besides, whose plan was not kept"`
	Planned *Costing `json:"planned,omitempty"`
	Took    *Costing `json:"took,omitempty"`
	Rework  string   `json:"rework_hours"`
}

// QuotedSums are quotes that were issued, numbers in their newest version.
type QuotedSums struct {
	Quotes  int    `json:"quotes"`
	Pieces  int    `json:"pieces"`
	Net     string `json:"net"`
	NetEach string `json:"net_each,omitempty" doc:"mean of a piece"`
}

// DesignFigures is a design at today's figures, beside what was quoted and what jobs took.
type DesignFigures struct {
	Design  string     `json:"design" format:"uuid"`
	Name    string     `json:"name"`
	Version int        `json:"version"`
	Pieces  int        `json:"pieces"`
	Price   string     `json:"price" doc:"with tax, today"`
	NetEach string     `json:"net_each" doc:"of a piece, today"`
	Today   Costing    `json:"today"`
	Quoted  QuotedSums `json:"quoted"`
	Done    JobsDone   `json:"done"`
}

type comparedDesigns struct {
	From     string          `json:"from,omitempty" format:"date"`
	To       string          `json:"to,omitempty" format:"date"`
	Currency string          `json:"currency"`
	Designs  []DesignFigures `json:"designs"`
	Skipped  []NotPriced     `json:"not_priced"`
	Loose    int             `json:"jobs_without_design"`
}

// NotPriced is what cannot be priced as it is written.
type NotPriced struct {
	ID   string `json:"id" format:"uuid"`
	Name string `json:"name"`
	Why  string `json:"why"`
}

// JobDone is an order that was done.
type JobDone struct {
	Order    string   `json:"order" format:"uuid"`
	Number   string   `json:"number"`
	Title    string   `json:"title"`
	Customer string   `json:"customer"`
	Version  int      `json:"version" doc:"of the design"`
	Ended    string   `json:"ended" format:"date"`
	Done     JobsDone `json:"done"`
}

// VersionFigures is a version of a design.
type VersionFigures struct {
	Version int          `json:"version"`
	Since   string       `json:"since" format:"date"`
	Changes []SpecChange `json:"changes" doc:"of the spec, from the version before"`
	Quoted  QuotedSums   `json:"quoted"`
	Done    JobsDone     `json:"done"`
}

// SpecChange is an entry of a spec that was changed.
type SpecChange struct {
	What string `json:"what"`
	Was  string `json:"was,omitempty"`
	Now  string `json:"now,omitempty"`
}

type oneDesign struct {
	From     string           `json:"from,omitempty" format:"date"`
	To       string           `json:"to,omitempty" format:"date"`
	Name     string           `json:"name"`
	Today    *DesignFigures   `json:"today,omitempty"`
	Why      string           `json:"not_priced,omitempty" doc:"it cannot be priced as it is written"`
	Versions []VersionFigures `json:"versions"`
	Quoted   QuotedSums       `json:"quoted"`
	Done     JobsDone         `json:"done" doc:"of all jobs, those of other pages too"`
	Jobs     []JobDone        `json:"jobs" doc:"the newest first, at most 100 of a page"`
	Pages    int              `json:"pages"`
}

type figureSpan struct {
	From string `query:"from" doc:"first day; twelve months back where it is left out"`
	To   string `query:"to" doc:"last day; today where it is left out"`
	All  bool   `query:"all" doc:"quotes and jobs of all time"`
}

type designSpan struct {
	ID   string `path:"id" format:"uuid"`
	From string `query:"from" doc:"first day; twelve months back where it is left out"`
	To   string `query:"to" doc:"last day; today where it is left out"`
	All  bool   `query:"all" doc:"quotes and jobs of all time"`
	Page int    `query:"page" minimum:"1"`
}

// MarginInput is one input a tenth up.
type MarginInput struct {
	Name   string `json:"name"`
	Cost   string `json:"cost" doc:"then"`
	Margin string `json:"margin" doc:"then, with the price kept"`
	Points string `json:"points" doc:"of margin that it moves"`
}

type hangsOn struct {
	Margin string        `json:"margin" doc:"as it is"`
	Cost   string        `json:"cost"`
	Words  string        `json:"words"`
	Inputs []MarginInput `json:"inputs" doc:"what moves the margin most first"`
	Price  MarginInput   `json:"price" doc:"the price itself a tenth up"`
}

// BatchOf is an order of so many.
type BatchOf struct {
	Pieces     int    `json:"pieces"`
	Price      string `json:"price,omitempty" doc:"with tax"`
	NetEach    string `json:"net_each,omitempty"`
	Cost       string `json:"cost,omitempty"`
	CostEach   string `json:"cost_each,omitempty"`
	NextCosts  string `json:"next_costs,omitempty" doc:"what the last one adds to the cost; where several were added, each of them"`
	Hours      string `json:"hours,omitempty"`
	Left       string `json:"left,omitempty" doc:"at the price asked about, after fee and cost"`
	LeftMargin string `json:"left_margin,omitempty"`
	Why        string `json:"why_not,omitempty"`
}

type batchList struct {
	Each    string    `json:"each" doc:"price of one with tax that is asked about"`
	Aimed   string    `json:"margin_aimed_at"`
	Covered int       `json:"covered_from" doc:"smallest number whose cost it covers; 0 for none"`
	Keeps   int       `json:"keeps_from" doc:"smallest number that keeps the margin; 0 for none"`
	SetUp   string    `json:"set_up_hours" doc:"of one, that an order has once"`
	OfOne   string    `json:"hours_of_one"`
	Batches []BatchOf `json:"batches"`
}

type batchAsked struct {
	ID   string `path:"id" format:"uuid"`
	Each string `query:"each" doc:"price of one with tax; the price list's, else today's, where it is left out"`
}

func (f *face) figureDesigns() {
	operation(f, huma.Operation{
		OperationID: "figures-of-designs", Method: http.MethodGet, Path: "/figures/designs", Summary: "Designs at today's figures, as they were quoted and as jobs took", Errors: []int{http.StatusUnprocessableEntity},
	}, bookkeeper(), f.designsCompared)
	operation(f, huma.Operation{
		OperationID: "figures-of-design", Method: http.MethodGet, Path: "/figures/designs/{id}", Summary: "A design with its versions and the jobs done of it", Errors: []int{http.StatusUnprocessableEntity},
	}, bookkeeper(), f.designFigured)
	operation(f, huma.Operation{
		OperationID: "sensitivity", Method: http.MethodGet, Path: "/figures/designs/{id}/sensitivity", Summary: "What a design's margin hangs on", Errors: []int{http.StatusUnprocessableEntity},
		Description: "Each input is moved by a tenth, one at a time, with the price kept. Nothing is stored.",
	}, bookkeeper(), f.sensitivity)
	operation(f, huma.Operation{
		OperationID: "batch", Method: http.MethodGet, Path: "/figures/designs/{id}/batch", Summary: "A design by number, and the smallest order that pays", Errors: []int{http.StatusUnprocessableEntity},
		Description: "Every number is a whole estimate with today's figures. Nothing is stored.",
	}, bookkeeper(), f.batch)
}

func (f *face) span(in figureSpan) (figures.Span, error) {
	var first, last time.Time
	var err error
	if in.From != "" {
		if first, err = date("from", in.From); err != nil {
			return figures.Span{}, err
		}
	}
	if in.To != "" {
		if last, err = date("to", in.To); err != nil {
			return figures.Span{}, err
		}
	}
	return f.Figures.SpanOf(first, last, in.All)
}

func (f *face) designsCompared(ctx context.Context, in *figureSpan) (*answer[comparedDesigns], error) {
	span, err := f.span(*in)
	if err != nil {
		return nil, err
	}
	c, err := f.Figures.Compare(ctx, span)
	if err != nil {
		return nil, err
	}
	out := comparedDesigns{From: dateOf(span.First), To: dateOf(span.Last), Currency: string(c.Currency), Designs: []DesignFigures{}, Skipped: []NotPriced{}, Loose: c.Loose.Jobs + c.Loose.Untold}
	for _, d := range c.Designs {
		out.Designs = append(out.Designs, comparedRow(d))
	}
	for _, s := range c.Skipped {
		out.Skipped = append(out.Skipped, NotPriced(s))
	}
	return &answer[comparedDesigns]{out}, nil
}

func (f *face) designFigured(ctx context.Context, in *designSpan) (*answer[oneDesign], error) {
	span, err := f.span(figureSpan{in.From, in.To, in.All})
	if err != nil {
		return nil, err
	}
	d, err := f.Figures.Design(ctx, span, in.ID, max(1, in.Page))
	if err != nil {
		return nil, err
	}
	out := oneDesign{From: dateOf(span.First), To: dateOf(span.Last), Name: d.Design.Name, Why: d.Why, Versions: []VersionFigures{}, Quoted: quotedOf(d.Quoted), Done: doneOf(d.Done), Jobs: []JobDone{}, Pages: d.Pages()}
	if d.Today != nil {
		row := comparedRow(*d.Today)
		out.Today = &row
	}
	for _, v := range d.Versions {
		row := VersionFigures{Version: v.Version, Since: dateOf(v.Since), Changes: []SpecChange{}, Quoted: quotedOf(v.Quoted), Done: doneOf(v.Done)}
		for _, m := range v.Changes {
			row.Changes = append(row.Changes, SpecChange(m))
		}
		out.Versions = append(out.Versions, row)
	}
	for _, j := range d.Jobs {
		out.Jobs = append(out.Jobs, JobDone{Order: j.OrderID, Number: j.Number.String(), Title: j.Title, Customer: j.Customer, Version: j.Design.Version, Ended: dateOf(j.Ended), Done: doneOf(j.Done)})
	}
	return &answer[oneDesign]{out}, nil
}

func (f *face) sensitivity(ctx context.Context, in *byID) (*answer[hangsOn], error) {
	s, err := f.Figures.Sensitivity(ctx, in.ID)
	if err != nil {
		return nil, err
	}
	row := func(i figures.Input) MarginInput {
		return MarginInput{i.Name, i.Cost.String(), i.Margin.Share.StringFixed(4), i.By.Shift(2).StringFixed(2)}
	}
	out := hangsOn{Margin: s.Base.Margin().Share.StringFixed(4), Cost: s.Base.Cost().String(), Words: s.Words(), Inputs: []MarginInput{}, Price: row(s.Price)}
	for _, i := range s.Inputs {
		out.Inputs = append(out.Inputs, row(i))
	}
	return &answer[hangsOn]{out}, nil
}

func (f *face) batch(ctx context.Context, in *batchAsked) (*answer[batchList], error) {
	var each *money.Amount
	if in.Each != "" {
		w, err := f.Sales.Workshop(ctx)
		if err != nil {
			return nil, err
		}
		var l fault.List
		a, err := money.New(quantity(&l, "each", in.Each), w.Figures.Rates.Currency)
		if err := l.Err(); err != nil {
			return nil, err
		}
		if err != nil {
			return nil, called(err, "", "each")
		}
		each = &a
	}
	b, err := f.Figures.Batches(ctx, in.ID, each)
	if err != nil {
		return nil, err
	}
	out := batchList{Each: b.Each.String(), Aimed: b.Aimed.Share.String(), Covered: b.Covered, Keeps: b.Keeps, SetUp: b.SetUp.StringFixed(2), OfOne: b.OfOne.StringFixed(2), Batches: []BatchOf{}}
	for _, o := range b.All {
		row := BatchOf{Pieces: o.Quantity, Why: o.Why}
		if o.Why == "" {
			row = BatchOf{
				Pieces: o.Quantity, Price: o.Price.String(), NetEach: o.NetEach().String(), Cost: o.Cost().String(), CostEach: o.CostEach().String(), NextCosts: o.AddsEach().String(), Hours: o.Hours.StringFixed(2),
				Left: o.At.Earned().String(), LeftMargin: o.At.Margin().Share.StringFixed(4),
			}
		}
		out.Batches = append(out.Batches, row)
	}
	return &answer[batchList]{out}, nil
}

func costingOf(w figures.Weighed) Costing {
	return Costing{
		Net: w.Net.String(), Fee: w.Fee.String(), Material: w.Material.String(), Handling: w.Handling.String(), Labour: w.Labour.String(), BoughtIn: w.BoughtIn.String(), Contingency: w.Contingency.String(),
		Cost: w.Cost().String(), Earned: w.Earned().String(), Margin: w.Margin().Share.StringFixed(4), MaterialShare: w.MaterialShare().StringFixed(4), Contribution: w.Contribution().String(),
		Hours: w.Hours.StringFixed(2), Low: w.Low.StringFixed(2), High: w.High.StringFixed(2), PerHour: w.PerHour().String(), ContributionHour: w.Bottleneck().String(),
		FormerDays: w.Former.String(), DryingDays: w.Drying.String(), PerFormer: w.PerFormer().String(), PerDrying: w.PerDrying().String(),
	}
}

func doneOf(d figures.Done) JobsDone {
	out := JobsDone{Jobs: d.Jobs, Untold: d.Untold, Rework: d.Rework.StringFixed(2)}
	if d.Jobs > 0 {
		planned, took := costingOf(d.Plan()), costingOf(d.Took())
		out.Planned, out.Took = &planned, &took
	}
	return out
}

func quotedOf(q figures.Quoted) QuotedSums {
	out := QuotedSums{Quotes: q.Quotes, Pieces: q.Pieces, Net: q.Net.String()}
	if q.Quotes > 0 {
		out.NetEach = q.Each().String()
	}
	return out
}

func comparedRow(c figures.Compared) DesignFigures {
	return DesignFigures{
		Design: c.ID, Name: c.Name, Version: c.Version, Pieces: c.Quantity, Price: c.Price.String(), NetEach: c.NetEach().String(),
		Today: costingOf(c.Weighed), Quoted: quotedOf(c.Quoted), Done: doneOf(c.Done),
	}
}
