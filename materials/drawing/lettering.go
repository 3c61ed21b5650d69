package drawing

import (
	"math"

	"github.com/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// em is the size letters are loaded at, in pixels, fine enough to be turned and scaled from.
const em = 512

// lettering draws text by the outlines of its letters, so that turned words are as sharp as level ones.
type lettering struct {
	font   *sfnt.Font
	buffer sfnt.Buffer
}

func (l *lettering) write(c *canvas, t Text) error {
	if l.font == nil {
		var err error
		if l.font, err = sfnt.Parse(liberationsansregular.TTF); err != nil {
			return err
		}
	}
	var outlines [][][2]float64
	along := 0.0
	before := sfnt.GlyphIndex(0)
	for _, r := range t.Words {
		glyph, err := l.font.GlyphIndex(&l.buffer, r)
		if err != nil {
			return err
		}
		if kern, err := l.font.Kern(&l.buffer, before, glyph, fixed.I(em), font.HintingNone); err == nil && before != 0 {
			along += float64(kern) / 64
		}
		segments, err := l.font.LoadGlyph(&l.buffer, glyph, fixed.I(em), nil)
		if err != nil {
			return err
		}
		outlines = append(outlines, traced(segments, along)...)
		wide, err := l.font.GlyphAdvance(&l.buffer, glyph, fixed.I(em), font.HintingNone)
		if err != nil {
			return err
		}
		along += float64(wide) / 64
		before = glyph
	}
	from := map[Anchor]float64{Middle: -along / 2, End: -along}[t.Anchor]
	x, y := c.pixel(t.At)
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	k := t.Size * c.scale / em
	for _, o := range outlines {
		for i, p := range o {
			u, v := (p[0]+from)*k, p[1]*k
			o[i] = [2]float64{x + u*cos - v*sin, y + u*sin + v*cos}
		}
	}
	c.paint(outlines, t.Class.own())
	return nil
}

// traced is a letter as polygons, moved along its line: its curves in steps finer than any picture shows.
func traced(segments sfnt.Segments, along float64) (outlines [][][2]float64) {
	at := func(p fixed.Point26_6) [2]float64 { return [2]float64{along + float64(p.X)/64, float64(p.Y) / 64} }
	var last [2]float64
	put := func(p [2]float64) {
		n := len(outlines) - 1
		outlines[n] = append(outlines[n], p)
		last = p
	}
	const steps = 6
	for _, s := range segments {
		a, b, c := at(s.Args[0]), at(s.Args[1]), at(s.Args[2])
		from := last
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			outlines = append(outlines, nil)
			put(a)
		case sfnt.SegmentOpLineTo:
			put(a)
		case sfnt.SegmentOpQuadTo:
			for i := 1; i <= steps; i++ {
				t := float64(i) / steps
				put(blend(blend(from, a, t), blend(a, b, t), t))
			}
		case sfnt.SegmentOpCubeTo:
			for i := 1; i <= steps; i++ {
				t := float64(i) / steps
				mid := blend(a, b, t)
				put(blend(blend(blend(from, a, t), mid, t), blend(mid, blend(b, c, t), t), t))
			}
		}
	}
	return outlines
}

func blend(p, q [2]float64, t float64) [2]float64 {
	return [2]float64{p[0] + (q[0]-p[0])*t, p[1] + (q[1]-p[1])*t}
}
