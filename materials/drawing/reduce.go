package drawing

import (
	"image"
	"image/color"
	"slices"
)

// reduced is a picture of at most 256 colours. Colours are counted in bins of 5 bits a channel; the fullest bins
// each keep the colour that most of their pixels have (found by majority vote), so that flat fills stay exact, and
// what lies in other bins, pixels of smoothed edges, takes the nearest of those.
func reduced(p *image.RGBA) *image.Paletted {
	const bins = 1 << 15
	type bin struct {
		count, votes int
		colour       uint32
	}
	count := make([]bin, bins)
	var used []uint16
	pix := p.Pix
	for i := 0; i < len(pix); {
		r, g, b := pix[i], pix[i+1], pix[i+2]
		from := i
		for i += 4; i < len(pix) && pix[i] == r && pix[i+1] == g && pix[i+2] == b; i += 4 {
		}
		key := uint16(r>>3)<<10 | uint16(g>>3)<<5 | uint16(b>>3)
		c, run, colour := &count[key], (i-from)/4, uint32(r)<<16|uint32(g)<<8|uint32(b)
		if c.count == 0 {
			used = append(used, key)
		}
		c.count += run
		if colour != c.colour {
			run = -run
		}
		if c.votes += run; c.votes < 0 {
			c.votes, c.colour = -c.votes, colour
		}
	}
	slices.SortFunc(used, func(a, b uint16) int {
		if d := count[b].count - count[a].count; d != 0 {
			return d
		}
		return int(a) - int(b)
	})
	out := image.NewPaletted(p.Rect, nil)
	index := make([]uint8, bins)
	for i, key := range used {
		c := count[key].colour
		if i < 256 {
			index[key] = uint8(i)
			out.Palette = append(out.Palette, color.RGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 0xff})
			continue
		}
		index[key] = uint8(out.Palette.Index(color.RGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 0xff}))
	}
	for i := range out.Pix {
		j := 4 * i
		out.Pix[i] = index[uint16(pix[j]>>3)<<10|uint16(pix[j+1]>>3)<<5|uint16(pix[j+2]>>3)]
	}
	return out
}
