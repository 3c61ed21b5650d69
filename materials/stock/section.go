package stock

import (
	"strings"

	"foamwright/materials"
)

// Section is where an item stands in lists.
type Section string

// The sections, as a workshop's shelves are usually sorted.
const (
	Foams       Section = "foam"
	Adhesives   Section = "adhesives"
	Pastes      Section = "pastes and fillers"
	Coats       Section = "coats"
	Paints      Section = "paints"
	Hardware    Section = "hardware"
	Consumables Section = "consumables"
	Packaging   Section = "packaging"
)

// Sections are all of them in the order of lists.
func Sections() []Section {
	return []Section{Foams, Adhesives, Pastes, Coats, Paints, Hardware, Consumables, Packaging}
}

// Section follows from what the item is and what it is used for.
func (i Item) Section() Section {
	switch i.Use() {
	case materials.UseAdhesive:
		return Adhesives
	case materials.UseFiller:
		return Pastes
	case materials.UseLatex, materials.UsePrimer, materials.UseWater, materials.UseClear:
		return Coats
	case materials.UseColour, materials.UseMetallic, materials.UsePigment:
		return Paints
	case materials.UseStrap, materials.UseBar, materials.UseRope, materials.UseRivet:
		return Hardware
	case materials.UseBox, materials.UseWrap, materials.UseCareCard:
		return Packaging
	case "":
		return i.unused()
	}
	return Consumables
}

// unused sorts what the take-off never reaches for by itself.
func (i Item) unused() Section {
	switch {
	case i.Foam != nil:
		return Foams
	case i.Liquid != nil && i.Liquid.Colour != "":
		return Paints
	case i.Liquid != nil:
		return Coats
	}
	return Hardware
}

// Matches tells whether all words stand somewhere in code, name or colour, whatever their case.
func (i Item) Matches(words string) bool {
	where := i.Code + " " + i.Name + " " + string(i.Use())
	if i.Liquid != nil {
		where += " " + i.Liquid.Colour
	}
	where = strings.ToLower(where)
	for _, w := range strings.Fields(strings.ToLower(words)) {
		if !strings.Contains(where, w) {
			return false
		}
	}
	return true
}
