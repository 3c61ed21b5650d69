package pdf

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/johnfercher/maroto/v2"
	"github.com/johnfercher/maroto/v2/pkg/config"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/props"

	"foamwright/pricing/words"
)

// paper is a document while it is laid out, block under block.
type paper struct {
	*setter
	blocks []*block
}

// about is what a file says of itself, and its foot.
type about struct {
	title, subject, author, foot string
	date                         time.Time
	tongue                       words.Tongue
}

// bind puts the blocks on pages.
func (p *paper) bind(a about) ([]byte, error) {
	foot := &block{height: footHeight} // set before the fonts are chosen: it may need another one
	foot.rule(0, full, footHeight-2.2, 0.1, hair)
	foot.text(0, footHeight+fine.size*point, p.short(a.foot, fine, full-30))
	m := maroto.New(p.config(a))
	if err := errors.Join(m.RegisterFooter(foot.row()), m.RegisterHeader(tape().row())); err != nil {
		return nil, fmt.Errorf("head and foot of %s: %w", a.title, err)
	}
	for _, b := range p.blocks {
		m.AddRows(b.row())
	}
	doc, err := m.Generate()
	if err != nil {
		return nil, fmt.Errorf("document of %s: %w", a.title, err)
	}
	return finish(doc.GetBytes(), a.tongue.Code(), a.date)
}

// config is the page and what the file says of itself. The library writes into the fonts it is given, so each
// document gets its own copy, and only of those it uses.
func (p *paper) config(a about) *entity.Config {
	var fonts []*entity.CustomFont
	for face := range p.used {
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
		WithCustomFonts(fonts).WithDefaultFont(&props.Font{Family: p.faces[sans].family, Size: text.size, Color: ink.colour()}).
		WithPageNumber(props.PageNumber{Pattern: a.tongue.Say("page %s of %s", "{current}", "{total}"), Place: props.RightBottom, Size: fine.size, Color: soft.colour()}).
		WithTitle(said(a.title), true).WithSubject(said(a.subject), true).
		WithAuthor(said(a.author), true).WithCreator("foamwright", false).WithCreationDate(a.date.UTC()).
		Build()
}

func height(blocks []*block) (mm float64) {
	for _, b := range blocks {
		mm += b.height
	}
	return mm
}

func (p *paper) add(blocks ...*block) { p.blocks = append(p.blocks, blocks...) }

// together is the blocks as one, where that is no great part of a page; else they may be parted.
func (p *paper) together(blocks ...*block) {
	const most = 80
	if height(blocks) > most {
		p.add(blocks...)
		return
	}
	var all block
	for _, b := range blocks {
		all.under(b)
	}
	p.add(&all)
}

// section is a name in the margin with paragraphs beside it; without paragraphs there is none.
func (p *paper) section(name string, paragraphs []string) {
	var blocks []*block
	for i, s := range paragraphs {
		list := p.paragraph(inset, s, terms, 1.3)
		if i == 0 {
			named := &block{height: 5}
			named.texts(0, named.height+3.1, p.wrap(name, aside, inset-4))
			named.under(list[0])
			list[0] = named
		}
		blocks = append(blocks, list...)
	}
	p.together(blocks...)
}

// paragraph is a text from x to the right edge and a gap below it, in blocks that are no great part of a page.
func (p *paper) paragraph(x float64, s string, st style, gap float64) (blocks []*block) {
	for lines := range slices.Chunk(p.wrap(s, st, full-x), 12) {
		b := &block{}
		b.height = b.texts(x, st.size*point, lines) - st.size*point
		blocks = append(blocks, b)
	}
	blocks[len(blocks)-1].height += gap
	return blocks
}
