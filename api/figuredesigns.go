package api

import (
	"context"

	"foamwright/materials/fault"
	"foamwright/pricing/figures"
	"foamwright/pricing/money"
	"foamwright/pricing/people"
)

func (f *face) figureDesigns() {
	operation(f, op("GET /figures/designs", "figures-of-designs", "Designs at today's figures, as they were quoted and as jobs took", invalid).also(people.Bookkeeper), f.designsCompared)
	operation(f, op("GET /figures/designs/{id}", "figures-of-design", "A design with its versions and the jobs done of it", invalid).also(people.Bookkeeper), f.designFigured)
	operation(f, op("GET /figures/designs/{id}/sensitivity", "sensitivity", "What a design's margin hangs on", invalid).also(people.Bookkeeper).
		saying("Each input is moved by a tenth, one at a time, with the price kept. Nothing is stored."), f.sensitivity)
	operation(f, op("GET /figures/designs/{id}/batch", "batch", "A design by number, and the smallest order that pays", invalid).also(people.Bookkeeper).
		saying("Every number is a whole estimate with today's figures. Nothing is stored."), f.batch)
}

func (f *face) span(in figureSpan) (figures.Span, error) {
	first, last, err := days(in.From, in.To)
	if err != nil {
		return figures.Span{}, err
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
	return &answer[comparedDesigns]{comparedDesigns{
		From: dateOf(span.First), To: dateOf(span.Last), Currency: string(c.Currency), Designs: each(c.Designs, comparedRow),
		Skipped: each(c.Skipped, func(u figures.Unpriced) NotPriced { return NotPriced{u.ID, u.Name, u.Why} }), Loose: c.Loose.Jobs + c.Loose.Untold,
	}}, nil
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
