// Package pdf prints a quote as an A4 page or two: head, what will be made with its drawing, price, terms.
//
// Units: lengths mm, sizes of type in points. The same sheet gives the same bytes, at any time and beside any other
// document. Texts are English. Limits: no tags, no PDF/A; Latin, Greek and Cyrillic, with a second typeface for
// other scripts that run from left to right; letters of no typeface here are printed as an empty box, and scripts
// that run from right to left or join their letters are not set as they should be.
package pdf

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/go-fonts/liberation/liberationserifregular"
	"github.com/johnfercher/maroto/v2"
	"github.com/johnfercher/maroto/v2/pkg/config"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/props"
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
	select {
	case r.turn <- struct{}{}:
		defer func() { <-r.turn }()
	case <-ctx.Done():
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	q := &quote{Sheet: s, setter: newSetter(r.faces)}
	if err := q.compose(); err != nil {
		return nil, err
	}
	return q.print()
}

// print puts the blocks on pages.
func (q *quote) print() ([]byte, error) {
	foot := q.foot() // before the fonts are chosen: it may need another one
	m := maroto.New(q.config())
	if err := errors.Join(m.RegisterFooter(foot.row()), m.RegisterHeader(tape().row())); err != nil {
		return nil, fmt.Errorf("head and foot of quote %s: %w", q.Number, err)
	}
	for _, b := range q.blocks {
		m.AddRows(b.row())
	}
	doc, err := m.Generate()
	if err != nil {
		return nil, fmt.Errorf("document of quote %s: %w", q.Number, err)
	}
	return finish(doc.GetBytes(), q.Date)
}

// config is the page and what the file says of itself. The library writes into the fonts it is given, so each
// document gets its own copy, and only of those it uses.
func (q *quote) config() *entity.Config {
	var fonts []*entity.CustomFont
	for face := range q.used {
		fonts = append(fonts, &entity.CustomFont{Family: face.family, Bytes: bytes.Clone(face.ttf)})
	}
	slices.SortFunc(fonts, func(a, b *entity.CustomFont) int { return cmp.Compare(a.Family, b.Family) })
	// The library writes only letters of the first 65 536 rightly.
	said := func(s string) string {
		return strings.Map(func(r rune) rune {
			if r > 0xffff {
				return missing
			}
			return r
		}, plain(s))
	}
	return config.NewBuilder().WithSequentialMode().WithCompression(true).
		WithLeftMargin(side).WithRightMargin(side).WithTopMargin(top).WithBottomMargin(bottom).
		WithCustomFonts(fonts).WithDefaultFont(&props.Font{Family: q.faces[sans].family, Size: text.size, Color: ink.colour()}).
		WithPageNumber(props.PageNumber{Pattern: "page {current} of {total}", Place: props.RightBottom, Size: fine.size, Color: soft.colour()}).
		WithTitle(said(q.name()+": "+q.Title), true).WithSubject(said(q.name()+" for "+q.Customer.Name), true).
		WithAuthor(said(q.Workshop.Head.Name), true).WithCreator("foamwright", false).WithCreationDate(q.Date.UTC()).
		Build()
}
