package enquiry

import (
	"regexp"
	"strings"

	"foamwright/materials/measure"
)

const (
	figure = `(\d{1,3}\s+\d{1,2}/\d{1,2}|\d{1,4}\s?[½¼¾⅓⅔⅛⅜⅝⅞]|[½¼¾⅓⅔⅛⅜⅝⅞]|\d{1,2}/\d{1,2}|\d{1,5}(?:[.,]\d{1,3})?|three|two|six|four|five|drei|zwei|trois|deux)`
	unit   = `(millimet(?:er|re)s?|millimètres?|mm|centimet(?:er|re)s?|centimètres?|zentimetern?|cms?|metern|met(?:er|re)s?|mètres?|m|inch(?:es)?|ins?|zoll|pouces?|foot|feet|ft|fuß|fuss|pieds?|["″”]|['′’])`
)

var (
	amounted   = in(figure + `(?:\s?-?\s?` + unit + `\.?)?`)
	nextAmount = in(`^` + figure + `(?:\s?-?\s?` + unit + `)?`)
	andInches  = in(`^\s*(?:and\s+|und\s+)?` + figure + `\s?-?\s?(inch(?:es)?|ins?|zoll|pouces?|["″”]|'')?`)
	crossed    = in(`^\s*(?:(?:wide|high|breit|hoch|w|h)\s*)?(?:x|×|\*|by|mal|auf|sur|par)\s*`)
	ored       = in(`^\s*,?\s*(?:or|oder|ou|/)\s*(?:maybe|perhaps|even|vielleicht|even up to|about|etwa)?\s*`)
	untilThat  = in(`^\s*(?:-|–|to|bis|à)\s*`)
	andThat    = in(`^\s*(?:and|und|et)\s*`)
	bracketed  = in(`^\s*\(\s*(?:=|about|ca\.?)?\s*`)
	twixt      = in(`(?:between|zwischen|entre)\s*$`)
	limited    = in(`(?:max(?:imum|imal)?\.?|at most|up to|no more than|not more than|not (?:wider|higher|taller|bigger|larger) than|under|below|less than|höchstens|bis zu|unter|nicht (?:breiter|höher|größer) als|jusqu['’]à|moins de|pas plus de|at least|min(?:imum|destens)?\.?|more than|over|mindestens|au moins)\s*(?:of\s*)?$`)
	tall       = in(`(?:i am|i['’]m|he is|he['’]s|she is|she['’]s|wearer is|who is|my height is|ich bin|er ist|sie ist|je mesure|je fais|il mesure|elle mesure)\s*(?:about|around|roughly|etwa|environ)?\s*$`)
	inOrOf     = in(`^\s*(?:in|of)\s`)
	closed     = in(`^\s*(?:$|[.,;:!?)\n(]|or\s|and\s+\d)`)
	asked      = regexp.MustCompile(`^\s*\?`)

	// What a length is of: said after it, or before it.
	saidAfter = in(`^\s*-?\s*(?:in\s+|of\s+|im\s+|en\s+)?(?:total\s+)?(wide|width|broad|w|breit|breite|de large(?:ur)?|de largeur|largeur|high|height|tall|h|hoch|höhe|de haut(?:eur)?|hauteur|across|diameter|dia|durchmesser|de diamètre|diamètre|thick(?:ness)?|dick|dicke|d['’]épaisseur|épaisseur|deep|depth|tief|tiefe|de profondeur|long|length|lang|länge|de long(?:ueur)?|radius|rim|border|rand|bordure|forearm|unterarm)(?:[^\p{L}]|$)`)
	saidFirst = in(`(width|wide|breite|breit|largeur|large de|height|high|tall|höhe|hoch|hauteur|haut de|diameter|durchmesser|diamètre|thickness|dicke|épaisseur|depth|tiefe|profondeur|length|länge|longueur|radius|rim|border|rand|bordure|forearm|unterarm|avant-bras)(?:\s+(?:girth|umfang))?\s*(?:of|is|shall be|should be|must be|has to be|:|=|von|ist|soll|de|est|-|about|around|roughly|approx\.?|ca\.?|etwa|environ|measures|misst|mesure|\s)*$`)
	notShield = in(`^\s*-?\s*(?:thick\s+)?(?:foam|mat|mats|eva|plate|gems?|gemstones?|stones?|swords?|axes?|daggers?|helmets?|straps?|planks?|mousse|matte|schwert|schaum|steine?|épée|sangles?|letters?|away|from|behind)(?:[^\p{L}]|$)`)
	notFirst  = in(`(?:gems?|stones?|foam|sword|axe|straps?|planks?|letters?|steine?|schwert|épée|within|lives?|drive)\s*(?:of|are|is|about|von|de|every|:)*\s*$`)
)

// amount is one figure with its unit, if one was written.
type amount struct {
	span
	figure, unit string // unit as measure knows it; "" for none
}

// text is the amount as a spec takes it.
func (a amount) text() string {
	if a.unit == "" {
		return a.figure
	}
	return a.figure + " " + a.unit
}

// length is how long it is; not known without a unit.
func (a amount) length() (measure.Length, bool) {
	l, err := measure.ParseLength(a.text())
	return l, err == nil && a.unit != "" && l > 0
}

// sizes reads lengths and what they are of.
func (r *reader) sizes() {
	r.each(amounted, func(m match) bool {
		first, ok := r.amount(m.span, m.groups)
		if !ok {
			return false
		}
		all, joint := []amount{first}, ""
		for len(all) < 4 {
			next, how, ok := r.joined(all[len(all)-1], joint)
			if !ok {
				break
			}
			all, joint = append(all, next), how
		}
		if joint == "(" && r.same(all) {
			all, joint = []amount{{span{all[0].from, r.closing(all[1].to)}, all[0].figure, all[0].unit}}, ""
		}
		return r.size(all, joint)
	})
}

// amount takes apart what looks like one: a quote is no inch, the 22 of "22 in June" no length.
func (r *reader) amount(s span, groups []string) (amount, bool) {
	a := amount{span: s, figure: groups[1], unit: unitOf(groups[2])}
	if n, ok := number(a.figure); ok && !strings.ContainsAny(a.figure, "0123456789") {
		if a.unit == "" {
			return a, false
		}
		a.figure = string(rune('0' + n))
	}
	a.to = s.from + len(groups[0])
	switch written := strings.ToLower(groups[2]); {
	case a.unit == "":
		a.to = s.from + len(groups[1])
	case strings.ContainsAny(written, `"″”'′’`) && s.from > 0 && strings.HasSuffix(r.words[:s.from], written):
		return a, false // it is in quotation marks
	case (written == "in" || written == "ins") && !r.inchesAfter(s.to):
		a.unit, a.to = "", s.from+len(groups[1])
	case written == "'" || written == "’":
		if !andInches.MatchString(r.words[a.to:]) {
			return a, false
		}
	}
	if a.unit == "ft" {
		if m := andInches.FindStringSubmatch(r.words[a.to:]); m != nil && !strings.ContainsAny(m[1], "½¼¾⅓⅔⅛⅜⅝⅞.,") {
			to := a.to + len(m[0])
			after := r.after(to)
			bare := m[2] == "" && !saidAfter.MatchString(after) && !closed.MatchString(after)
			if n, _ := number(m[1]); !bare && (n < 12 || strings.Contains(m[1], "/")) && r.whole(span{s.from, to}) {
				inches := m[1]
				if !strings.ContainsAny(inches, "0123456789") {
					inches = string(rune('0' + n))
				}
				a.figure, a.unit, a.to = a.figure+" ft "+inches, "in", to
			}
		}
	}
	return a, r.whole(a.span)
}

// inchesAfter tells that "in" after a figure is the unit: "in June" and "in total" are not.
func (r *reader) inchesAfter(at int) bool {
	after := r.after(at)
	return saidAfter.MatchString(after) && !inOrOf.MatchString(after) || crossed.MatchString(after) || closed.MatchString(after)
}

// joined is the amount that belongs to one, and how: crossed with it, or instead of it.
func (r *reader) joined(a amount, joint string) (amount, string, bool) {
	rest := r.words[a.to:]
	for _, j := range []struct {
		how string
		e   *regexp.Regexp
	}{{"×", crossed}, {"or", ored}, {"to", untilThat}, {"(", bracketed}, {"to", andThat}} {
		if joint != "" && j.how != joint || j.e == andThat && !twixt.MatchString(r.before(a.from)) {
			continue
		}
		gap := j.e.FindString(rest)
		if gap == "" {
			continue
		}
		at := a.to + len(gap)
		m := nextAmount.FindStringSubmatch(r.words[at:])
		if m == nil || !r.free(span{at, at + len(m[0])}) {
			continue
		}
		if next, ok := r.amount(span{at, at + len(m[0])}, m); ok {
			return next, j.how, true
		}
	}
	return amount{}, "", false
}

// same tells that a length in brackets is the same in another unit, to the nearest inch.
func (r *reader) same(all []amount) bool {
	a, known := all[0].length()
	b, also := all[1].length()
	d := a - b
	return len(all) == 2 && known && also && max(d, -d) < measure.Inch*3/4
}

func (r *reader) closing(at int) int {
	if strings.HasPrefix(r.words[at:], ")") {
		return at + 1
	}
	return at
}

// size keeps one length, or doubts several.
func (r *reader) size(all []amount, joint string) bool {
	for i := len(all) - 2; i >= 0; i-- { // "50 to 60 cm" are both cm, "3 foot or 80" is not both feet
		if all[i].unit == "" {
			all[i].unit = all[i+1].unit
		}
	}
	whole := span{all[0].from, all[len(all)-1].to}
	before, after := r.before(whole.from), r.after(whole.to)
	of, worded := r.of(&whole, before, after)
	after = r.after(whole.to)
	if joint == "" { // "30 in tall or 70", "56 cm wide (22 in)"
		if next, how, ok := r.joined(amount{span: whole}, ""); ok && (how == "or" || how == "(") {
			if how == "(" && r.same([]amount{all[0], next}) {
				whole.to = r.closing(next.to)
			} else {
				whole.to, all, joint = next.to, append(all, next), how
			}
		}
	}
	united := false
	for _, a := range all {
		united = united || a.unit != ""
	}
	switch {
	case !united && !worded && joint != "×", notShield.MatchString(after) && of != RimWidth, notFirst.MatchString(before):
		return false
	case !united && joint == "" && (of == RimWidth || of == Forearm) && len(all[0].figure) > 3:
		return false
	case tall.MatchString(before):
		if joint == "" && united {
			r.found(Wearer, all[0].text(), whole)
			return true
		}
		return false
	case joint == "×" && len(all) == 2 && of == Size && united && all[0].unit == all[1].unit:
		r.doubted(Size, InOrder, whole, all[0].text(), all[1].text())
	case !united || joint == "" && all[0].unit == "":
		r.doubted(of, NoUnit, whole)
	case joint != "":
		r.doubted(of, WhichOne, whole)
	case limited.MatchString(before):
		r.doubted(of, OnlyMost, whole)
	case asked.MatchString(after) && strings.TrimSpace(before) == "":
		r.doubted(of, Unclear, whole)
	case of == Size:
		r.doubted(of, OfWhat, whole)
	default:
		l, ok := all[0].length()
		large := of == Width || of == Height || of == Diameter
		if !ok || large && (l < 50*measure.Millimetre || l > 3*measure.Metre) || thousand(all[0].figure) {
			r.doubted(of, Unlikely, whole)
			return true
		}
		r.found(of, all[0].text(), whole)
	}
	return true
}

// of is what a length is of, by the words beside it; the words are then part of it.
func (r *reader) of(s *span, before, after string) (Topic, bool) {
	if m := saidFirst.FindStringSubmatchIndex(before); m != nil && wholeStart(before, m[2]) {
		from := s.from - len(before) + m[2]
		if t := dimension(before[m[2]:m[3]]); t != "" && from >= 0 && strings.ToLower(r.words[from:s.from]) == before[m[2]:] && r.free(span{from, s.from}) {
			s.from = from
			return t, true
		}
	}
	if m := saidAfter.FindStringSubmatchIndex(after); m != nil && strings.ToLower(r.words[s.to:s.to+m[3]]) == after[:m[3]] {
		if t := dimension(after[m[2]:m[3]]); t != "" {
			s.to += m[3]
			return t, true
		}
	}
	return Size, false
}

func wholeStart(s string, at int) bool {
	last := []rune(s[:at])
	return len(last) == 0 || !wordy(last[len(last)-1])
}

// dimension is what a word says of a length. Long may be either, and deep the bend or the thickness.
func dimension(word string) Topic {
	switch strings.TrimPrefix(word, "de ") {
	case "wide", "width", "broad", "w", "breit", "breite", "large", "largeur":
		return Width
	case "high", "height", "tall", "h", "hoch", "höhe", "haut", "hauteur":
		return Height
	case "diameter", "dia", "durchmesser", "diamètre", "across":
		return Diameter
	case "thick", "thickness", "dick", "dicke", "d'épaisseur", "d’épaisseur", "épaisseur":
		return Thickness
	case "rim", "border", "rand", "bordure":
		return RimWidth
	case "forearm", "unterarm", "avant-bras":
		return Forearm
	}
	return ""
}

// thousand tells a point that may stand before thousands.
func thousand(figure string) bool {
	i := strings.IndexAny(figure, ".,")
	return i >= 0 && len(figure)-i == 4
}

// unitOf is a unit as measure knows it.
func unitOf(written string) string {
	switch w := strings.ToLower(written); {
	case w == "":
		return ""
	case strings.HasPrefix(w, "milli"), w == "mm":
		return "mm"
	case strings.HasPrefix(w, "centi"), strings.HasPrefix(w, "zenti"), w == "cm", w == "cms":
		return "cm"
	case w == "m", strings.HasPrefix(w, "met"), strings.HasPrefix(w, "mèt"):
		return "m"
	case strings.HasPrefix(w, "in"), w == "zoll", strings.HasPrefix(w, "pouce"), strings.ContainsAny(w, `"″”`):
		return "in"
	}
	return "ft"
}
