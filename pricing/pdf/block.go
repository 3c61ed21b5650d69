package pdf

import (
	"github.com/johnfercher/maroto/v2/pkg/consts/align"
	"github.com/johnfercher/maroto/v2/pkg/consts/extension"
	"github.com/johnfercher/maroto/v2/pkg/consts/linestyle"
	"github.com/johnfercher/maroto/v2/pkg/consts/orientation"
	"github.com/johnfercher/maroto/v2/pkg/core"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
	"github.com/johnfercher/maroto/v2/pkg/props"
)

// shade is a colour, 0xrrggbb.
type shade int

func (s shade) colour() *props.Color {
	return &props.Color{Red: int(s) >> 16, Green: int(s) >> 8 & 0xff, Blue: int(s) & 0xff}
}

// block is a stretch of page that is never divided, as wide as the measure: everything in it has its place in mm
// from its upper left corner. It is a maroto component; maroto puts blocks on pages.
type block struct {
	height float64
	marks  []mark
}

// mark prints one thing of a block whose corner is at x, y of the page's printed part.
type mark func(p core.Provider, x, y float64)

// wide is a cell no line of print is too long for, so that maroto never breaks one: they are broken already.
const wide = 1000

// text prints a line from x on, its base line at y.
func (b *block) text(x, y float64, l line) { b.put(x, y, align.Left, l) }

// right prints a line that ends at x.
func (b *block) right(x, y float64, l line) { b.put(x-wide, y, align.Right, l) }

func (b *block) put(x, y float64, a align.Type, l line) {
	if l.text == "" {
		return
	}
	b.marks = append(b.marks, func(p core.Provider, left, top float64) {
		// The library puts the base line one size below the cell's upper edge.
		cell := entity.Cell{X: left + x, Y: top + y - l.size*point, Width: wide, Height: wide}
		p.AddText(l.text, &cell, &props.Text{Family: l.face.family, Size: l.size, Align: a, Color: l.ink.colour()})
	})
}

// texts prints lines below each other, the first base line at y, and gives the base line after the last.
func (b *block) texts(x, y float64, lines []line) float64 {
	for _, l := range lines {
		b.text(x, y, l)
		y += l.lead
	}
	return y
}

// rule draws a horizontal stroke, pen in mm.
func (b *block) rule(x1, x2, y, pen float64, s shade) {
	b.stroke(entity.Cell{X: x1, Y: y, Width: x2 - x1}, orientation.Horizontal, pen, s)
}

// bar draws a vertical stroke.
func (b *block) bar(x, y1, y2, pen float64, s shade) {
	b.stroke(entity.Cell{X: x, Y: y1, Height: y2 - y1}, orientation.Vertical, pen, s)
}

func (b *block) stroke(c entity.Cell, o orientation.Type, pen float64, s shade) {
	b.marks = append(b.marks, func(p core.Provider, left, top float64) {
		cell := entity.Cell{X: left + c.X, Y: top + c.Y, Width: c.Width, Height: c.Height}
		p.AddLine(&cell, &props.Line{Color: s.colour(), Style: linestyle.Solid, Thickness: pen, Orientation: o, SizePercent: 100})
	})
}

// picture lays a PNG, to be there by the time of printing, into a frame whose proportions it has.
func (b *block) picture(x, y, width, height float64, png *[]byte) {
	b.marks = append(b.marks, func(p core.Provider, left, top float64) {
		cell := entity.Cell{X: left + x, Y: top + y, Width: width, Height: height}
		p.AddImageFromBytes(*png, &cell, &props.Rect{Percent: 100}, extension.Png)
	})
}

// place lays another block's marks into this one, its corner at x, y.
func (b *block) place(x, y float64, o *block) {
	for _, m := range o.marks {
		b.marks = append(b.marks, func(p core.Provider, left, top float64) { m(p, left+x, top+y) })
	}
}

// under puts another block below, to stay together with it.
func (b *block) under(o *block) {
	b.place(0, b.height, o)
	b.height += o.height
}
