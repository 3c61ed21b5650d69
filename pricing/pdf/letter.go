package pdf

import (
	"bytes"
	"context"
	"image/png"
	"slices"

	"foamwright/pricing/sales"
)

// letter is a letter while it is laid out.
type letter struct {
	sales.Letter
	paper
}

// Letter prints a letter. It fails when ctx ends before its turn comes.
func (r *Renderer) Letter(ctx context.Context, s sales.Letter) ([]byte, error) {
	leave, err := r.wait(ctx)
	if err != nil {
		return nil, err
	}
	defer leave()
	l := &letter{Letter: s, paper: paper{setter: newSetter(r.faces)}}
	l.compose()
	title := l.Name
	if l.Title != "" && l.Title != l.Name {
		title += ": " + l.Title
	}
	return l.bind(about{title: title, subject: l.Name, author: l.Head.Name, foot: l.Name + "  ·  " + l.Head.Name, date: l.Date, tongue: l.Tongue})
}

// compose lays it out: the head, whom it is for and its facts, then part by part.
func (l *letter) compose() {
	ways := slices.Concat(l.Head.Address, []string{l.Head.Email, l.Head.Phone})
	if l.Head.TaxNumber != "" {
		ways = append(ways, l.Tongue.Say("Tax number %s", l.Head.TaxNumber))
	}
	l.letterhead(l.Head.Name, ways)
	l.top()
	for _, p := range l.Parts {
		l.part(p)
	}
}

// top is what the letter is called, its facts, and whom it is for; the title below them.
func (l *letter) top() {
	b := &block{}
	const right, value = 104.0, 38.0
	y := b.texts(0, 7, l.wrap(l.Name, heading, right-8))
	for _, f := range slices.Concat([]sales.LetterFact{{What: l.Tongue.Say("Date"), Value: l.Tongue.Date(l.Date)}}, l.Facts) {
		below := b.texts(0, y, l.wrap(f.What, quiet, value-2)) // German has names longer than their room
		y = max(below, b.texts(value, y, l.wrap(f.Value, text, right-8-value)))
	}
	r := 3.0
	if l.To.Name != "" {
		b.text(right, r, l.set(l.Tongue.Say("For"), fine))
		r = b.texts(right, r+5, l.wrap(l.To.Name, aside, full-right))
		for _, s := range []string{l.To.Address, l.To.Email, l.To.Phone} {
			if s != "" {
				r = b.texts(right, r, l.wrap(s, text, full-right))
			}
		}
	}
	b.height = max(y, r) + 4
	l.add(b)
	if l.Title != "" {
		t := &block{}
		t.height = t.texts(0, 6, l.wrap(l.Title, title, full))
		l.add(t)
	}
}

// part prints a part. Its name stays with the first thing in it, and a line to sign on with the row above it.
func (l *letter) part(p sales.LetterPart) {
	var blocks []*block
	for _, s := range p.Words {
		blocks = append(blocks, l.paragraph(inset, s, terms, 1.3)...)
	}
	for _, s := range p.Ticks {
		blocks = append(blocks, l.tick(s))
	}
	for _, r := range p.Rows {
		blocks = append(blocks, l.entry(r))
	}
	if p.Picture != nil {
		blocks = append(blocks, l.shown(*p.Picture))
	}
	if p.Sign != "" {
		blocks = append(blocks, l.sign(p.Sign))
	}
	if len(blocks) == 0 {
		return
	}
	named := &block{height: 5}
	lines := l.wrap(p.Name, aside, inset-4)
	named.texts(0, named.height+3.1, lines)
	named.under(blocks[0])
	named.height = max(named.height, 5+float64(len(lines))*aside.lead)
	blocks[0] = named
	if n := len(blocks); n > 1 {
		last := &block{}
		last.under(blocks[n-2])
		last.under(blocks[n-1])
		blocks = append(blocks[:n-2], last)
	}
	l.together(blocks...)
}

// tick is a line with a box before it.
func (l *letter) tick(s string) *block {
	b := &block{}
	b.box(inset, 0.3)
	b.height = b.texts(inset+5.5, 3.1, l.wrap(s, text, full-inset-5.5)) - 1.6
	return b
}

// entry is a line of a table: what, how and how much.
func (l *letter) entry(r sales.LetterRow) *block {
	const row, base = 6.6, 4.6
	amount, how, what := l.set(r.Amount, text), l.set(r.How, quiet), text
	if r.Total {
		amount, what = l.set(r.Amount, title), title
	}
	b := &block{}
	x := inset
	if r.Inner {
		x += 8
	}
	if r.Box {
		b.box(x, base-2.8)
		x += 5.5
	}
	width := full - x - 6 - amount.width
	if how.width > 0 {
		how = l.short(r.How, quiet, 48)
		width -= max(how.width, 30-amount.width) + 6
	}
	if r.Total {
		b.rule(inset, full, 0, 0.2, ink)
		b.rule(inset, full, 0.7, 0.2, ink)
		b.text(inset, 7.6, l.short(r.What, what, width))
		b.right(full, 7.6, amount)
		b.height = 11
		return b
	}
	last := b.texts(x, base, l.wrap(r.What, what, width)) - text.lead
	b.right(min(full-30, full-amount.width-4), last, how)
	b.right(full, last, amount)
	b.height = last - base + row
	if r.Sum {
		b.rule(inset, full, 0, 0.2, ink)
	} else {
		b.rule(inset, full, 0, 0.1, hair)
	}
	return b
}

// tallest is how high a picture in a letter is at most, mm: with its name and its words it fits on one page.
const tallest = 180.0

// shown is a picture with its words; one that is no PNG leaves its words.
func (l *letter) shown(p sales.LetterPicture) *block {
	b := &block{}
	if size, err := png.DecodeConfig(bytes.NewReader(p.PNG)); err == nil {
		wide := full - inset
		b.height = wide * float64(size.Height) / float64(size.Width)
		if b.height > tallest {
			wide, b.height = wide*tallest/b.height, tallest
		}
		b.picture(inset, 1, wide, b.height, &p.PNG)
	}
	b.height = b.texts(inset, b.height+4.5, l.wrap(p.Words, quiet, full-inset))
	return b
}

// sign is a line to write name and day on.
func (l *letter) sign(below string) *block {
	b := &block{height: 22}
	b.rule(inset, full, 16, 0.2, soft)
	b.text(inset, 20, l.set(below, fine))
	return b
}
