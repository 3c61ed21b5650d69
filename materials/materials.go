// Package materials is the catalogue: what a workshop makes its props of, and how it behaves.
//
// Foam has a thickness and a usable size, liquids a spread and a loss, goods a unit. Units: lengths exact,
// densities kg/m³ and kg/l, spread l/m² for one coat on one face, shares as fractions (0.15 is 15 %).
// Limits: no money (prices are in pricing), no amounts on the shelf (those are in stock).
package materials

import (
	"slices"

	"github.com/shopspring/decimal"

	"foamwright/materials/measure"
)

// Form is how foam comes.
type Form string

// The forms of foam.
const (
	Sheet Form = "sheet" // a plain sheet
	Mat   Form = "mat"   // a tile with teeth that lock into the next one
	Roll  Form = "roll"  // a length off a roll
)

// Foam is one kind of sheet, mat or roll.
type Foam struct {
	Code, Name    string
	Form          Form
	Thickness     measure.Length
	Width, Height measure.Length  // what can be cut from one, teeth off
	Pitch         measure.Length  // from seam to seam when mats are locked together; 0 where they cannot be
	Density       decimal.Decimal // kg/m³
	Textured      bool            // one face has a moulded texture
}

// Use is what a take-off reaches for when it needs a material: the adhesive, the filler, a blade.
type Use string

// The uses the take-off knows. A catalogue names one default item for each it can serve.
const (
	UseAdhesive Use = "adhesive"
	UseFiller   Use = "filler"
	UseLatex    Use = "latex"
	UsePrimer   Use = "primer" // flexible coat for work without latex
	UseWater    Use = "water"  // thins the first latex coat
	UsePigment  Use = "pigment"
	UseColour   Use = "colour"
	UseMetallic Use = "metallic"
	UseClear    Use = "clear"
	UseTalc     Use = "talc"
	UseStrap    Use = "strap"
	UseBar      Use = "bar"
	UseRope     Use = "rope"
	UseRivet    Use = "rivet"
	UseDisc     Use = "disc"
	UseBelt     Use = "belt"
	UseBlade    Use = "blade"
	UseBurr     Use = "burr"
	UseBrush    Use = "brush"
	UseGloves   Use = "gloves"
	UseCup      Use = "cup"
	UseTape     Use = "tape"
	UseCard     Use = "card"
	UseBox      Use = "box"
	UseWrap     Use = "wrap"
	UseCareCard Use = "care card"
)

// Flag is a property that another material, or a person, may not get along with.
type Flag string

// The flags that warnings and cautions are made from.
const (
	Solvent Flag = "solvent" // flammable vapour
	Rubber  Flag = "latex"   // contains natural rubber latex
	Copper  Flag = "copper"  // damages latex
	Oil     Flag = "oil"     // damages latex
)

// Setting is what a wait goes by.
type Setting string

// What a wait goes by: the air and its warmth, where water has to leave; warmth alone, where glue or sealant sets; and
// nothing of the room, where something cools or is left lying.
const (
	ByAir    Setting = "air"
	ByWarmth Setting = "warmth"
	ByItself Setting = "itself"
)

// Settings are all of them.
func Settings() []Setting { return []Setting{ByAir, ByWarmth, ByItself} }

// Liquid is anything brushed, poured or squeezed.
type Liquid struct {
	Code, Name  string
	Use         Use
	Colour      string          // for paints: the colour it is
	Swatch      string          // for paints: how it is drawn, #rrggbb
	Density     decimal.Decimal // kg/l
	Solids      decimal.Decimal // share of volume left when dry
	Spread      decimal.Decimal // l/m² for a coat on one face
	FirstSpread decimal.Decimal // l/m² for the first coat; zero where it is like the others
	Loss        decimal.Decimal // share left in brush and tin
	DryHours    decimal.Decimal // of a filler: before it is worked on; zero for as long as the table of steps says
	Sets        Setting         // of a filler: what those hours go by; empty for what the table of steps says
	Unsanded    bool            // of a filler: it stays as it is smoothed, sealant and hot-melt cannot be sanded
	Flags       []Flag
}

// Good is counted or measured off: straps, blades, boxes.
type Good struct {
	Code, Name string
	Use        Use
	Unit       measure.Unit
	Mass       decimal.Decimal   // kg a unit, where it ends up in the prop
	Holds      [3]measure.Length // for boxes: inside length, width and depth
}

// Catalogue is all a workshop can use.
type Catalogue struct {
	Foams   []Foam
	Liquids []Liquid
	Goods   []Good
}

// find is the first of a list that is it.
func find[T any](list []T, is func(T) bool) (T, bool) {
	i := slices.IndexFunc(list, is)
	if i < 0 {
		return *new(T), false
	}
	return list[i], true
}

// Foam finds a foam by its code.
func (c Catalogue) Foam(code string) (Foam, bool) {
	return find(c.Foams, func(f Foam) bool { return f.Code == code })
}

// Liquid is the first liquid for a use.
func (c Catalogue) Liquid(use Use) (Liquid, bool) {
	return find(c.Liquids, func(l Liquid) bool { return l.Use == use })
}

// LiquidOf finds a liquid by its code.
func (c Catalogue) LiquidOf(code string) (Liquid, bool) {
	return find(c.Liquids, func(l Liquid) bool { return l.Code == code && code != "" })
}

// Paint is the paint of a colour, by the name the catalogue gives it.
func (c Catalogue) Paint(colour string) (Liquid, bool) {
	return find(c.Liquids, func(l Liquid) bool { return l.Colour != "" && l.Colour == colour })
}

// Good is the first good for a use.
func (c Catalogue) Good(use Use) (Good, bool) {
	return find(c.Goods, func(g Good) bool { return g.Use == use })
}

// GoodOf finds a good by its code.
func (c Catalogue) GoodOf(code string) (Good, bool) {
	return find(c.Goods, func(g Good) bool { return g.Code == code && code != "" })
}

// Box is the smallest box that holds something of these sides (longest first), by volume.
func (c Catalogue) Box(long, wide, deep measure.Length) (Good, bool) {
	var best Good
	for _, g := range c.Goods {
		in := g.Holds
		if g.Use == UseBox && in[0] >= long && in[1] >= wide && in[2] >= deep && (best.Code == "" || volume(in) < volume(best.Holds)) {
			best = g
		}
	}
	return best, best.Code != ""
}

func volume(in [3]measure.Length) float64 { return in[0].MM() * in[1].MM() * in[2].MM() }

// FoamCodes lists the codes, for messages.
func (c Catalogue) FoamCodes() []string {
	codes := make([]string, len(c.Foams))
	for i, f := range c.Foams {
		codes[i] = f.Code
	}
	return codes
}

// Colours lists the paints' colours, for messages and choices.
func (c Catalogue) Colours() []string {
	var names []string
	for _, l := range c.Liquids {
		if l.Colour != "" {
			names = append(names, l.Colour)
		}
	}
	return names
}

// Swatches are how the paints' colours are drawn, #rrggbb by name.
func (c Catalogue) Swatches() map[string]string {
	swatches := map[string]string{}
	for _, l := range c.Liquids {
		if l.Colour != "" && l.Swatch != "" {
			swatches[l.Colour] = l.Swatch
		}
	}
	return swatches
}

// Has tells whether the liquid carries a flag.
func (l Liquid) Has(flag Flag) bool {
	return slices.Contains(l.Flags, flag)
}
