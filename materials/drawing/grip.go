package drawing

import (
	"math"

	"foamwright/materials/geom"
	"foamwright/materials/shield"
)

// Sizes of a grip as it is drawn, mm. Common practice, no source.
const (
	padWide, padHigh     = 80, 100
	strapWide, strapHigh = 40, 190
	hand                 = 110 // clear between the blocks of a bar
	reach                = 110 // from the middle of the forearm to hand and elbow strap
	barThick             = 28
	ropeThick            = 14
)

// hold draws parts of a grip about a place, made smaller where the shield is small.
type hold struct {
	*board
	at         geom.Point
	scale      float64
	wide, high float64 // of its blocks, mm
	taper      float64 // how far each layer of them steps in; 0 is as usual
}

// grip draws what there is to hold: hand and elbow on a level line through the middle. From behind, the hand of
// a left arm is on the right.
func (b *board) grip(s shield.Shield, at geom.Point, c coats) {
	h := b.holding(s, at)
	block := mix(c.back, light, 0.22)
	g := s.Grip
	x, straps := heldAt(s)
	if g.Blocks > 0 {
		h.block(x, 0, s.Spec.Grip.BlockLayers, block)
	}
	if g.ThumbGuards > 0 {
		h.box(Block, x, 0, padWide, padHigh, 16, mix(block, light, 0.2))
	}
	if g.Bars > 0 {
		h.bar(x, g.Layers/max(g.Stacks, 1), block)
	}
	for _, at := range straps {
		h.strap(at)
	}
	if g.Ropes > 0 {
		h.rope()
	}
}

// holding is a hold for a shield of that size.
func (b *board) holding(s shield.Shield, at geom.Point) hold {
	h := hold{b, at, math.Min(1, 0.62*math.Min(s.Box.Width(), s.Box.Height())/(2*reach+strapWide)), s.Bench.BlockLength.MM(), s.Bench.BlockWidth.MM(), s.Spec.Grip.Taper.MM()}
	if own := s.Spec.Grip.BlockLength; own > 0 {
		h.wide = own.MM()
	}
	if own := s.Spec.Grip.BlockWidth; own > 0 {
		h.high = own.MM()
	}
	return h
}

// heldAt is where the hand is, and where straps are, to the right of the middle as seen from behind.
func heldAt(s shield.Shield) (hand float64, straps []float64) {
	side, n := 1.0, s.Grip.Straps
	if s.Spec.Grip.Hand == "right" {
		side = -1
	}
	if n > 0 {
		hand = side * reach
	}
	for i := range n {
		switch {
		case s.Grip.Bars > 0:
			straps = append(straps, -side*(reach-float64(i)*70))
		case n == 1:
			straps = append(straps, 0)
		default:
			straps = append(straps, side*reach*(1-2*float64(i)/float64(n-1)))
		}
	}
	return hand, straps
}

// box is a rectangle about a place with rounded corners.
func (h hold) box(c Class, x, y, wide, high, corner float64, fill Colour) {
	h.area(c, h.rectangle(x, y, wide, high, corner), fill, detailPen)
}

func (h hold) rectangle(x, y, wide, high, corner float64) geom.Region {
	path, err := geom.Rectangle(wide*h.scale, high*h.scale, corner*h.scale)
	if err != nil {
		return nil
	}
	box := path.Bounds()
	to := geom.Translate(h.at.X+x*h.scale-(box.Min.X+box.Max.X)/2, h.at.Y+y*h.scale-(box.Min.Y+box.Max.Y)/2)
	return path.Transform(to).Flatten(drawn)
}

// block is a stack of foam that steps in layer by layer.
func (h hold) block(x, y float64, layers int, fill Colour) {
	for i := range max(layers, 1) {
		h.area(Block, h.stepped(x, y, i), mix(fill, light, 0.07*float64(i)), detailPen)
	}
}

// stepped is one layer of a stack, counted from the back of the shield.
func (h hold) stepped(x, y float64, i int) geom.Region {
	if h.taper > 0 {
		return h.rectangle(x, y, h.wide-2*h.taper*float64(i), h.high, 5)
	}
	in := math.Min(float64(min(i, 4))*9, 0.35*math.Min(h.wide, h.high))
	return h.rectangle(x, y, h.wide-2*in, h.high-in, 5)
}

// bar stands upright in the hand, its ends let into a block above and below.
func (h hold) bar(x float64, layers int, fill Colour) {
	off := (hand + h.high) / 2
	h.block(x, -off, layers, fill)
	h.block(x, off, layers, fill)
	h.box(Handle, x, 0, barThick, hand+1.1*h.high, barThick/2, wood)
	h.stroke(Handle, light.veil(0.45), 4, x-6, -hand*0.62, x-6, hand*0.62)
}

// strap is webbing that comes out of one slot and goes into another, with a line of stitches at either edge.
func (h hold) strap(x float64) {
	const end = strapHigh / 2
	for _, y := range [2]float64{-end, end} {
		h.box(Strap, x, y, strapWide+18, 9, 4, dark)
	}
	h.box(Strap, x, 0, strapWide, strapHigh, 3, leather)
	for _, dx := range [2]float64{-14, 14} {
		h.add(Lines{Class: Strap, Chains: [][]geom.Point{{h.place(x+dx, -end+8), h.place(x+dx, end-8)}}, Colour: hemp.veil(0.8), Pen: 1.4 * h.scale, True: true, Dash: []float64{5 * h.scale, 4 * h.scale}})
	}
}

// rope hangs between two holes.
func (h hold) rope() {
	const end, bow = 95, 34
	var line, twist [][]geom.Point
	var chain []geom.Point
	const steps = 28
	for i := range steps + 1 {
		t := float64(i)/steps*2 - 1
		x, y := bow*(1-t*t), end*t
		chain = append(chain, h.place(x, y))
		if i > 0 && i < steps {
			twist = append(twist, []geom.Point{h.place(x-6, y+3), h.place(x+6, y-3)})
		}
	}
	line = append(line, chain)
	h.add(Dots{Rope, []geom.Point{chain[0], chain[steps]}, 26 * h.scale, dark},
		Lines{Class: Rope, Chains: line, Colour: dark, Pen: (ropeThick + 3) * h.scale, True: true},
		Lines{Class: Rope, Chains: line, Colour: hemp, Pen: ropeThick * h.scale, True: true},
		Lines{Class: Rope, Chains: twist, Colour: mix(hemp, dark, 0.5), Pen: 1.6 * h.scale, True: true})
}

func (h hold) place(x, y float64) geom.Point {
	return geom.Point{X: h.at.X + x*h.scale, Y: h.at.Y + y*h.scale}
}

func (h hold) stroke(c Class, colour Colour, wide, x1, y1, x2, y2 float64) {
	h.add(Lines{Class: c, Chains: [][]geom.Point{{h.place(x1, y1), h.place(x2, y2)}}, Colour: colour, Pen: wide * h.scale, True: true})
}
