package stock

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

// What the catalogue takes. The limits keep out slips of the pen, not unusual materials.
var (
	codePattern   = regexp.MustCompile(`^[a-z0-9][a-z0-9 .-]{0,39}$`)
	swatchPattern = regexp.MustCompile(`^#[0-9a-f]{6}$`)
)

// Places of decimals that the tables keep.
const (
	mostPlaces  = 4
	mostName    = 120
	mostArticle = 80
)

// checks gathers what is wrong with an entry.
type checks struct{ fault.List }

func (l *checks) text(field, value string, most int) {
	if utf8.RuneCountInString(value) > most {
		l.Add(field, value, fmt.Sprintf("This is too long. Write at most %d characters.", most))
	}
	if strings.ContainsRune(value, 0) || !utf8.ValidString(value) {
		l.Add(field, value, "This has a character that cannot be kept; type it again without special characters.")
	}
}

// name is a text that must be there.
func (l *checks) name(field, value string) {
	if value == "" {
		l.Add(field, "", "Write a name.")
	}
	l.text(field, value, mostName)
}

// decimal is from least to most with the places that the tables keep.
func (l *checks) decimal(field string, v decimal.Decimal, least, most string) {
	switch {
	case v.LessThan(decimal.RequireFromString(least)) || v.GreaterThan(decimal.RequireFromString(most)):
		l.Add(field, v.String(), fmt.Sprintf("Write a figure from %s to %s.", least, most))
	case !v.Equal(v.Truncate(mostPlaces)):
		l.Add(field, v.String(), "Write at most four places after the point.")
	}
}

func (l *checks) length(field string, v, least, most measure.Length) {
	if v < least || v > most {
		l.Add(field, v.String(), fmt.Sprintf("This is from %s to %s.", least, most))
	}
}

func (l *checks) whole(field string, v, least, most int) {
	if v < least || v > most {
		l.Add(field, strconv.Itoa(v), fmt.Sprintf("Write a whole number from %d to %d.", least, most))
	}
}

// Check is nil when the item can be kept, else a fault with everything that is wrong.
func (i Item) Check() error {
	var l checks
	switch i.Code {
	case "items", "count", "offcuts", "suppliers", "items.csv", "prices.csv", "receipts", "waste", "counts":
		l.Add("code", i.Code, "This word is a page of the shelf. Write another code, for example "+i.Code+"-1.")
	}
	if !codePattern.MatchString(i.Code) {
		l.Add("code", i.Code, "Write a code of small letters, digits, points, spaces and hyphens, at most 40, for example mat-10.")
	}
	l.name("name", i.Name)
	l.whole("place", i.Place, 0, 1_000_000)
	set := 0
	if i.Foam != nil {
		set++
		l.foam(*i.Foam)
	}
	if i.Liquid != nil {
		set++
		l.liquid(*i.Liquid)
	}
	if i.Good != nil {
		set++
		l.good(*i.Good)
	}
	if set != 1 {
		l.Add("kind", "", "Say what it is: foam, liquid or good.")
	}
	if units := i.Family().Units(); set == 1 && !slices.Contains(units, i.Unit) {
		l.Add("unit", string(i.Unit), fmt.Sprintf("A %s is counted in %s.", i.Family(), join(units)))
	}
	l.decimal("least", i.Least, "0", "1000000")
	l.whole("sealed_days", i.SealedDays, 0, 36500)
	l.whole("opened_days", i.OpenedDays, 0, 36500)
	l.climate(i.Climate)
	return l.Err()
}

// Units are what items of a family may be counted in: what their take-off measures in.
func (f Family) Units() []measure.Unit {
	switch f {
	case Foam:
		return []measure.Unit{measure.Each}
	case Liquid:
		return []measure.Unit{measure.Litre}
	}
	return []measure.Unit{measure.Each, measure.RunMetre, measure.SquareMetre, measure.Litre, measure.Kilogram}
}

func (l *checks) climate(c Climate) {
	for _, e := range []struct {
		field       string
		value       *int
		least, most int
	}{{"coldest", c.Coldest, -60, 100}, {"warmest", c.Warmest, -60, 100}, {"dampest", c.Dampest, 0, 100}} {
		if e.value != nil {
			l.whole(e.field, *e.value, e.least, e.most)
		}
	}
	if c.Coldest != nil && c.Warmest != nil && *c.Coldest > *c.Warmest {
		l.Add("coldest", strconv.Itoa(*c.Coldest), "It cannot be colder at the warmest than at the coldest. Swap the two.")
	}
}

func (l *checks) foam(f materials.Foam) {
	mm := measure.Millimetre
	if !slices.Contains([]materials.Form{materials.Sheet, materials.Mat, materials.Roll}, f.Form) {
		l.Add("form", string(f.Form), "Foam comes as sheet, mat or roll.")
	}
	l.length("thickness", f.Thickness, mm/2, 200*mm)
	l.length("width", f.Width, 50*mm, 5000*mm)
	l.length("height", f.Height, 50*mm, 50_000*mm)
	l.length("pitch", f.Pitch, 0, 5000*mm)
	l.decimal("density_kg_m3", f.Density, "0", "1000")
}

func (l *checks) liquid(q materials.Liquid) {
	l.use(q.Use, LiquidUses())
	l.text("colour", q.Colour, 60)
	if q.Swatch != "" && !swatchPattern.MatchString(q.Swatch) {
		l.Add("swatch", q.Swatch, "Write the colour as it is drawn: # and six of 0-9 and a-f, for example #8f3b34.")
	}
	l.decimal("density_kg_l", q.Density, "0", "10")
	l.decimal("solids", q.Solids, "0", "1")
	l.decimal("spread", q.Spread, "0", "10")
	l.decimal("first_spread", q.FirstSpread, "0", "10")
	l.decimal("loss", q.Loss, "0", "1")
	l.decimal("dry_hours", q.DryHours, "0", "1000")
	if q.Sets != "" && !slices.Contains(materials.Settings(), q.Sets) {
		l.Add("sets", string(q.Sets), "Write one of: "+join(materials.Settings())+"; or leave it empty.")
	}
	for _, f := range q.Flags {
		if !slices.Contains(Flags(), f) {
			l.Add("flags", string(f), "Write one or more of: "+join(Flags())+".")
		}
	}
}

func (l *checks) good(g materials.Good) {
	l.use(g.Use, GoodUses())
	l.decimal("mass", g.Mass, "0", "1000")
	for k, field := range []string{"holds_length", "holds_width", "holds_depth"} {
		l.length(field, g.Holds[k], 0, 5*measure.Metre)
	}
}

func (l *checks) use(u materials.Use, known []materials.Use) {
	if u != "" && !slices.Contains(known, u) {
		l.Add("use", string(u), "Write one of: "+join(known)+"; or leave it empty.")
	}
}

// Flags are the properties that another material, or a person, may not get along with.
func Flags() []materials.Flag {
	return []materials.Flag{materials.Solvent, materials.Rubber, materials.Copper, materials.Oil}
}

// LiquidUses are what a take-off reaches for a liquid for.
func LiquidUses() []materials.Use {
	return []materials.Use{
		materials.UseAdhesive, materials.UseFiller, materials.UseLatex, materials.UsePrimer, materials.UseWater, materials.UsePigment,
		materials.UseColour, materials.UseMetallic, materials.UseClear,
	}
}

// GoodUses are what a take-off reaches for a good for.
func GoodUses() []materials.Use {
	return []materials.Use{
		materials.UseTalc, materials.UseStrap, materials.UseBar, materials.UseRope, materials.UseRivet, materials.UseDisc, materials.UseBelt, materials.UseBlade,
		materials.UseBurr, materials.UseBrush, materials.UseGloves, materials.UseCup, materials.UseTape, materials.UseCard, materials.UseBox,
		materials.UseWrap, materials.UseCareCard,
	}
}

func join[T ~string](list []T) string {
	words := make([]string, len(list))
	for i, w := range list {
		words[i] = string(w)
	}
	return strings.Join(words, ", ")
}
