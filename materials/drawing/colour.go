package drawing

import (
	"image/color"
	"strconv"

	"foamwright/materials/shield"
)

// Colour is 0xrrggbbaa. Nought stands for the colour of a mark's class.
type Colour uint32

// Bare materials and hardware, and light and dark to mix with.
const (
	foam    Colour = 0xa8a095ff
	latex   Colour = 0x8f877cff
	primed  Colour = 0x9c9488ff
	leather Colour = 0x5a4535ff
	wood    Colour = 0xb89766ff
	hemp    Colour = 0xcdb88cff
	steel   Colour = 0xb9b7b0ff
	dark    Colour = 0x24272cff
	light   Colour = 0xfdfbf6ff
)

// own is the colour of a class whose marks have none, where no page says otherwise.
func (c Class) own() Colour {
	switch c {
	case Ground:
		return light
	case Grid:
		return 0xece6d9ff
	case GridBold:
		return 0xddd5c5ff
	case Remark, Squares, Former:
		return 0x6a6d70ff
	case Centre:
		return 0x9a4a26ff
	case Series1:
		return 0x2f6b57ff
	case Series2:
		return 0xa86f1fff
	case Series3:
		return 0x4f7390ff
	case Series4:
		return 0x7d7468ff
	case Halo:
		return 0xffffffff
	case Mat:
		return 0xece7dcff
	case Tint1:
		return 0xc9d6c6ff
	case Tint2:
		return 0xe6d3b0ff
	case Tint3:
		return 0xc6d5dcff
	case Tint4:
		return 0xe0c8c0ff
	case Hatch:
		return 0x7d8a72ff
	}
	return dark
}

// or is the colour, or another one where it is nought.
func (c Colour) or(other Colour) Colour {
	if c == 0 {
		return other
	}
	return c
}

// NRGBA is the colour for the standard library.
func (c Colour) NRGBA() color.NRGBA {
	return color.NRGBA{R: uint8(c >> 24), G: uint8(c >> 16), B: uint8(c >> 8), A: uint8(c)}
}

// mix is a with a share of b in it.
func mix(a, b Colour, share float64) Colour {
	out := a & 0xff
	for shift := 8; shift <= 24; shift += 8 {
		x, y := float64(a>>shift&0xff), float64(b>>shift&0xff)
		out |= Colour(x+(y-x)*share+0.5) << shift
	}
	return out
}

// veil is a colour that lets the rest of what is below show through.
func (c Colour) veil(share float64) Colour { return c&^0xff | Colour(255*share+0.5) }

// upon is what can be seen on a colour: dark on light, light on dark.
func upon(c Colour) Colour {
	if c.brightness() > 115 {
		return dark
	}
	return light
}

// brightness is from 0 to 255 (weights of ITU-R BT.709, from memory).
func (c Colour) brightness() float64 {
	v := c.NRGBA()
	return 0.2126*float64(v.R) + 0.7152*float64(v.G) + 0.0722*float64(v.B)
}

// coats are the colours of a shield's faces.
type coats struct {
	palette                     map[string]string
	bare, face, rim, edge, back Colour
}

func coatsOf(s shield.Shield, palette map[string]string) coats {
	c := coats{palette: palette, bare: foam}
	switch s.Spec.Coat.System {
	case "latex":
		c.bare = latex
	case "primer":
		c.bare = primed
	}
	// Where nothing is painted the rim still stands out a little: it is raised.
	c.face, c.edge, c.back, c.rim = c.bare, mix(c.bare, dark, 0.12), c.bare, mix(c.bare, light, 0.14)
	if s.Spec.Rim != nil {
		c.rim = c.named(s.Spec.Rim.Colour, c.rim)
	}
	for _, p := range s.Spec.Paint {
		switch p.Where {
		case "face":
			c.face = c.named(p.Colour, c.face)
		case "rim":
			c.rim = c.named(p.Colour, c.rim)
		case "edge":
			c.edge = c.named(p.Colour, c.edge)
		case "back":
			c.back = c.named(p.Colour, c.back)
		}
	}
	return c
}

// named is a colour of the palette, written #rrggbb; the other one where it has none of that name.
func (c coats) named(name string, other Colour) Colour {
	hex := c.palette[name]
	if len(hex) != 7 || hex[0] != '#' {
		return other
	}
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		return other
	}
	return Colour(v)<<8 | 0xff
}
