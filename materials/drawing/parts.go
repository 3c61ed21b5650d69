package drawing

import (
	"fmt"
	"math"
	"strings"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// loose draws what has no outline, a prop or a repair: its parts side by side, each with its name and size.
func loose(s shield.Shield, palette map[string]string, labels Labels) Drawing {
	c := coatsOf(s, palette)
	if len(s.Free) == 0 {
		return nothing("face", labels.Say("no parts to draw"))
	}
	row, highest := rowFor(s.Free)
	b := newBoard("face", "Parts of "+s.Spec.Name, looseWords(s), math.Max(shareOfWidth*row, shareOfHeight*highest))
	b.Labels = labels
	x, y, low := 0.0, 0.0, 0.0
	for _, p := range s.Free {
		words := [2]Text{
			{Class: Dimension, Size: b.u, Anchor: Middle, Words: p.Name},
			{Class: Remark, Size: 0.8 * b.u, Anchor: Middle, Words: labels.sizeOf(p)},
		}
		box := p.Region.Bounds()
		cell := box.Width()
		for _, t := range words {
			if w, _ := t.box(); w.Width() > cell {
				cell = w.Width()
			}
		}
		if x > 0 && x+cell > row {
			x, y = 0, low+2*b.u
		}
		mid := x + cell/2
		placed := p
		placed.Region = p.Region.Transform(geom.Translate(mid-(box.Min.X+box.Max.X)/2, y-box.Min.Y))
		b.shadow(placed)
		b.area(Piece, placed.Region, c.named(p.Colour, c.bare), outlinePen)
		for i := range words {
			words[i].At = geom.Point{X: mid, Y: y + box.Height() + (1.4+1.2*float64(i))*b.u}
			b.add(words[i])
		}
		x, low = x+cell+2*b.u, math.Max(low, y+box.Height()+2.6*b.u)
	}
	return b.finish()
}

// rowFor is how wide rows of parts are for a sheet about as wide as high, and the highest part, mm.
func rowFor(parts []shield.Placed) (row, highest float64) {
	room := 0.0
	for _, p := range parts {
		box := p.Region.Bounds()
		row, highest = math.Max(row, box.Width()), math.Max(highest, box.Height())
		room += 1.6 * box.Width() * box.Height()
	}
	return math.Max(row, 1.3*math.Sqrt(room)), highest
}

func (l Labels) sizeOf(p shield.Placed) string {
	box := p.Region.Bounds()
	words := l.Number(box.Width()) + " × " + l.Number(box.Height())
	if p.Layers > 1 {
		words += ", " + l.Say("%d layers", p.Layers)
	}
	if p.Count > 1 {
		words = l.Say("%d of %s", p.Count, words)
	}
	return words
}

func looseWords(s shield.Shield) string {
	var w []string
	for _, p := range s.Free {
		w = append(w, fmt.Sprintf("%s: %s mm.", p.Name, english().sizeOf(p)))
	}
	return strings.Join(w, " ")
}

// nothing is the sheet of a view that a thing without an outline does not have.
func nothing(view, words string) Drawing {
	b := newBoard(view, words, words, 4)
	b.text(Remark, 0, 0, Middle, words)
	return b.finish()
}
