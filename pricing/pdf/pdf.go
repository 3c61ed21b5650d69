// Package pdf prints documents on A4: a quote (head, what will be made with its drawing, price, terms), an invoice
// (lines, tax by rate, how to pay, with a code to scan), letters, and the job sheet of an order (settings, material,
// steps, check list).
//
// Units: lengths mm, sizes of type in points. The same sheet gives the same bytes, at any time and beside any other
// document. What customers get is in their tongue, the job sheet is English. Limits: no tags, no PDF/A; Latin, Greek
// and Cyrillic, with a second typeface for other scripts that run from left to right; letters of no typeface here are printed as an empty box, and scripts
// that run from right to left or join their letters are not set as they should be.
package pdf

import (
	"context"
	"sync"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/go-fonts/liberation/liberationserifregular"
	"github.com/phpdave11/gofpdf"

	"foamwright/pricing/sales"
)

// The page: A4 with these margins; full is the width of what is printed, room the height between the tape at the
// top and the foot.
const (
	side, top, bottom = 22.0, 14.0, 17.0
	tapeHeight        = 10.0
	footHeight        = 6.0
	full              = 210 - 2*side
	room              = 297 - top - bottom - tapeHeight - footHeight
)

// atOnce is how many documents are printed at the same time: each takes some ten megabytes while it is made.
const atOnce = 2

// Renderer prints documents. It is safe for concurrent use.
type Renderer struct {
	faces [3]*typeface
	turn  chan struct{}
}

// New makes a renderer ready with its typefaces.
func New() (*Renderer, error) {
	sorted()
	r := Renderer{turn: make(chan struct{}, atOnce)}
	for i, f := range []struct {
		family string
		ttf    []byte
	}{sans: {"sans", liberationsansregular.TTF}, serif: {"serif", liberationserifregular.TTF}, spare: {"spare", dejavusans.TTF}} {
		face, err := parse(f.family, f.ttf)
		if err != nil {
			return nil, err
		}
		r.faces[i] = face
	}
	return &r, nil
}

// sorted has the library write its catalogues in order: in any other, equal documents would differ. The switch is
// global there, so it is thrown once.
var sorted = sync.OnceFunc(func() { gofpdf.SetDefaultCatalogSort(true) })

// Quote prints a quote's document. It fails when ctx ends before its turn comes.
func (r *Renderer) Quote(ctx context.Context, s sales.Sheet) ([]byte, error) {
	leave, err := r.wait(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	q := &quote{Sheet: s, tongue: s.Tongue(), paper: paper{setter: newSetter(r.faces)}}
	if err := q.compose(); err != nil {
		return nil, err
	}
	return q.print()
}

// JobSheet prints an order's sheet for the bench. It fails when ctx ends before its turn comes.
func (r *Renderer) JobSheet(ctx context.Context, s sales.JobSheet) ([]byte, error) {
	leave, err := r.wait(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	j := &job{JobSheet: s, paper: paper{setter: newSetter(r.faces)}}
	j.compose()
	return j.print()
}

// wait is until few enough others print.
func (r *Renderer) wait(ctx context.Context) (leave func(), err error) {
	select {
	case r.turn <- struct{}{}:
		leave = func() { <-r.turn }
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	if err := ctx.Err(); err != nil {
		leave()
		return nil, err
	}
	return leave, nil
}
