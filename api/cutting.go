package api

import (
	"context"

	"foamwright/materials/cutplan"
	"foamwright/materials/geom"
	"foamwright/materials/stock"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// Offcut is one kept piece of foam. Its outline and holes are corners x, y in mm.
type Offcut struct {
	Lot
	Outline [][]float64   `json:"outline_mm"`
	Holes   [][][]float64 `json:"holes_mm"`
	Scrap   string        `json:"offered_for_the_bin" format:"date"`
}

// CutFoam is how one foam of an order was cut or, until then, would be cut from what the shelf has now.
type CutFoam struct {
	Foam    string   `json:"foam"`
	Done    bool     `json:"done"`
	Digest  string   `json:"digest" doc:"of the plan; cutting names it"`
	Opened  int      `json:"opened" doc:"whole sheets"`
	Offcuts []string `json:"offcuts" doc:"lots it is cut from"`
	Pieces  []CutAt  `json:"pieces"`
	Keeps   int      `json:"keeps" doc:"offcuts worth keeping"`
	Short   string   `json:"short,omitempty" doc:"why it cannot be cut now"`
}

// CutAt is where a piece lies on a sheet: turned over first, then turned, then moved.
type CutAt struct {
	Piece    string  `json:"piece"`
	Sheet    int     `json:"sheet" doc:"of those taken, from 0"`
	X        float64 `json:"x_mm"`
	Y        float64 `json:"y_mm"`
	Turn     float64 `json:"turn_degrees"`
	Mirrored bool    `json:"mirrored"`
}

type offcutList struct {
	Offcuts []Offcut `json:"offcuts"`
}

type cutList struct {
	Foams []CutFoam `json:"foams"`
}

type cutOrder struct {
	Foam   string `json:"foam"`
	Digest string `json:"digest" doc:"of the plan as it was shown"`
}

func offcutOf(m stock.Mind) Offcut {
	o := Offcut{Lot: lotOf(m.Lot), Scrap: dateOf(m.Until), Holes: [][][]float64{}}
	o.Outline = corners(m.Lot.Shape.Outer)
	for _, h := range m.Lot.Shape.Holes {
		o.Holes = append(o.Holes, corners(h))
	}
	return o
}

func corners(r geom.Ring) [][]float64 {
	return each(r, func(p geom.Point) []float64 { return []float64{p.X, p.Y} })
}

func cutFoamOf(l sales.Layout) CutFoam {
	f := CutFoam{Foam: l.Foam.Code, Done: l.Done(), Digest: l.Digest, Offcuts: []string{}, Pieces: []CutAt{}}
	if l.Short != nil {
		f.Short = l.Short.Error()
		return f
	}
	c := l.Cutting
	lots, opened := c.Used()
	f.Opened, f.Keeps, f.Offcuts = opened, len(c.Plan.Offcuts), append(f.Offcuts, lots...)
	f.Pieces = each(c.Plan.Placements, func(p cutplan.Placement) CutAt {
		return CutAt{c.Job.Pieces[p.Piece].Label, p.Sheet, p.At.X, p.At.Y, p.Turn, p.Mirrored}
	})
	return f
}

func (f *face) cutting() {
	operation(f, op("GET /offcuts", "list-offcuts", "Kept offcuts with their shapes").also(people.Helper),
		func(ctx context.Context, _ *none) (*answer[offcutList], error) {
			list, err := f.Shelf.Offcuts(ctx)
			return &answer[offcutList]{offcutList{each(list, offcutOf)}}, err
		})
	operation(f, op("GET /orders/{id}/cutting", "order-cutting", "How an order was cut, or would be cut from the shelf now").also(people.Helper),
		func(ctx context.Context, in *byID) (*answer[cutList], error) {
			l, err := f.Sales.Layout(ctx, in.ID)
			return &answer[cutList]{cutList{each(l.Foams, cutFoamOf)}}, err
		})
	taking(f, op("POST /orders/{id}/cutting", "cut-order", "Take a foam of an order off the shelf by its plan", conflict).also(people.Helper).
		saying("If the shelf changed since the plan was shown, nothing moves (409). What the plan keeps becomes offcuts."),
		func(ctx context.Context, in *byID, e cutOrder) (*answer[CutFoam], error) {
			l, err := f.Sales.Cut(ctx, in.ID, e.Foam, e.Digest, callOf(ctx).by)
			if err != nil {
				return nil, err
			}
			return &answer[CutFoam]{cutFoamOf(l)}, nil
		})
}
