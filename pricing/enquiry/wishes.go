package enquiry

import (
	"regexp"
	"strings"

	"foamwright/materials/shield"
)

// worded is one expression and what it says.
type worded struct {
	e     *regexp.Regexp
	value string
}

var (
	shapes = []worded{
		{in(`(?:round|circular)\s+(?:\p{L}+\s+){0,2}?(?:` + shields + `|one|target)|rundschilde?|runde[rns]?\s+(?:` + shields + `)|(?:` + shields + `)\s+(?:is|shall be|should be|ist|soll|est)\s+(?:round|circular|rund|ronde?)|boucliers? ronds?|circular|kreisrund\p{L}*|circulaire`), "round"},
		{in(`ovale[rns]?|ovals?`), "oval"},
		{in(`rectangular|rectangles?|rechteckig\p{L}*|rechteckschild|rectangulaires?`), "rectangle"},
		{in(`heaters?(?:[- ]shaped?)?|wappenschilde?|wappenförmig\p{L}*|en écu`), "heater"},
		{in(`kites?(?:[- ]shaped?)?|mandelschilde?|normannenschilde?|drachenschilde?|en amande`), "kite"},
		{in(`hexagon\p{L}*|six[- ]sided|sechseck\p{L}*`), "polygon 6"},
		{in(`octagon\p{L}*|eight[- ]sided|achteck\p{L}*|octogon\p{L}*`), "polygon 8"},
		{in(`pentagon\p{L}*|five[- ]sided|fünfeck\p{L}*`), "polygon 5"},
	}
	vague    = in(`round(?:ed)?[- ]top(?:ped)?|arched|rounded(?: corners)?|tower(?:[- ]shaped?| shields?)|triangular|dreieckig\p{L}*|triangulaire|square|quadratisch\p{L}*|carré|teardrop|tropfenförmig\p{L}*|crescent|oben rund|turmschilde?|arrondie? en haut|pavise|pavese|irregular`)
	bent     = in(`curved|gewölbt\p{L}*|gebogen\p{L}*|bombée?|incurvée?|courbée?`)
	level    = in(`(?:completely |totally )?flat|flach\p{L}*|plate?`)
	ofEdge   = in(`^[- ]*(?:top|topped|edges?|edged|lines?|corners?|blades?|letters?|rim|pack|packed|rate|sword|ecken|kanten|oben|bord)`)
	measures = []worded{
		{in(`(?:along|around|round|over) (?:the|its) (?:curve|bend|bow)|entlang (?:der|seiner) (?:wölbung|kurve|rundung)|le long de la (?:courbure|courbe)`), shield.AlongCurve},
		{in(`straight across|as the crow flies|gerade hinüber|luftlinie|en ligne droite`), shield.StraightAcross},
		{in(`(?:measured|lying) flat|flach gemessen|mesurée? à plat`), shield.Flat},
	}
	planked  = in(`planked|(?:wood(?:en)? )?planks?|wood ?grain|holzmaserung|bretter\p{L}*|planken|holzoptik|planches|veinage`)
	onBack   = in(`back|rear|inside|rückseite|hinten|innen|dos|arrière|intérieur`)
	grips    = []worded{{in(`straps? and (?:a )?(?:bar|handle)|strap and grip|riemen und griff|sangle et poignée`), "strap and bar"}, {in(`(?:two |leather |arm )?straps|two straps|(?:arm|leder)?riemen|sangles`), "straps"}, {in(`cent(?:re|er)[- ]?(?:grip|bar|handle)|bar grip|hand ?grip in the middle|mittelgriff|faustgriff|poignée centrale`), "bar"}}
	arms     = in(`(?:on|for|in|with|at|am|im|mit|auf|an|au|à la|dans la|du|de la)\s+(?:the|my|his|her|their|dem|der|den|meinem|meiner|mon|ma|le|la)?\s*(?:(left|right|linke[nmr]?|rechte[nmr]?)\s+(?:fore)?(?:unter)?(?:arm|hand)|(?:avant-)?(?:bras|main)\s+(gauche|droite?))`)
	handed   = in(`left[- ]?hand(?:ed|er)|right[- ]?hand(?:ed|er)|lefty|southpaw|linkshänd\p{L}*|rechtshänd\p{L}*|gauch(?:er|ère)|droiti(?:er|ère)`)
	weapon   = in(`(?:sword|axe|mace|spear|weapon|hammer|blade|schwert|axt|waffe|speer|épée|hache|arme|lance)`)
	pictured = in(`emblems?|crests?|coats? of arms|logos?|sigils?|devices?|(?:attached|enclosed) (?:picture|photo|drawing|sketch|image)|wappen|logo|emblem|blasons?|emblèmes?|armoiries`)

	noAllergy = []*regexp.Regexp{
		in(`(?:not|nicht|n['’]est pas|ne suis pas|pas)\s+(?:allergic|allergisch|allergique)\s+(?:to|gegen|auf|au)\s+(?:natural rubber |rubber )?latex`),
		in(`(?:no|keine|pas d['’]|aucune)\s*(?:known\s+|bekannte\s+)?(?:latex[- ]?allerg(?:y|ies|ien|ie)|allerg(?:y|ies|ien|ie)\s+(?:to|gegen|au)\s+latex)`),
		in(`latex[- ]?allerg(?:y|ie)\s*[:?]\s*(?:no|none|nein|non|keine)`),
		in(`allergie au latex\s*[:?]\s*non`),
	}
	yesAllergy = in(`(?:allergic|allergisch|allergique)\s+(?:to|gegen|auf|au)\s+(?:natural rubber |rubber )?latex|latex[- ]?allerg\p{L}*(?:\s*[:?]\s*(?:yes|ja|oui))?|allerg(?:y|ie)\s+(?:to|gegen|auf|au)\s+(?:natural rubber |rubber )?latex`)
	anyAllergy = in(`allerg\p{L}*`)
	latexSkin  = in(`latex(?:ed)?[- ](?:coat(?:ing|ed)?|skin|finish|shields?|beschichtung|beschichtet)|(?:coated (?:in|with)|coats? of|layers? of|lagen|schichten|couches de|covered (?:in|with)) latex|latexiert\p{L}*|revêtu de latex`)
	latexFree  = in(`(?:without|no|not|ohne|sans|keine?n?) (?:any )?latex|latex[- ]?(?:free|frei)`)
	asFarAs    = in(`that (?:i|we) know|as far as|soweit|à ma connaissance|sauf`)

	shipped   = in(`ship(?:ped|ping)?(?: (?:it|them))? to|post(?:ed)? (?:it |them )?to|by (?:post|mail|courier|parcel)|deliver(?:ed|y)?(?: (?:it|them))? to|send (?:it|them|the shields?) to|per (?:post|paket)|versand (?:nach|an)|verschick\p{L}*|nach \p{Lu}\p{L}+ (?:schicken|senden)|par (?:la )?poste|par colis|expédi\p{L}* (?:à|en|au)|livr(?:er|aison) (?:à|en|au)`)
	collected = in(`(?:i|we)(?:['’]ll| will| can| could)? (?:collect|pick (?:it|them) up|come (?:and|to) (?:collect|fetch))|can (?:collect|fetch) (?:it|them)|pick(?:ed)? up (?:in person|at your)|collect(?:ed)? in person|collection in person|(?:selbst )?ab(?:zu)?holen|selbstabholung|hole (?:ich |ihn |es )?(?:selbst )?ab|(?:viendrai|viens|venir) (?:le |la |les )?(?:chercher|récupérer)|retrait (?:sur place|à l['’]atelier)`)
	gathered  = regexp.MustCompile(`(?:for|at|to|zum|zur|beim|auf dem|pour|à la|au|aux)\s+(?:the\s+|la\s+|le\s+|les\s+)?((?:\p{Lu}[\p{L}'’-]*\s+){1,4}(?:Gathering|Battle|Fair|Festival|Feast|Campaign|Convention|Muster|Weekend|Games|Games?|Moot|Siege|War|Treffen|Fest|Schlacht|Lager|Rassemblement|Bataille))`)
	eventIs   = in(`(?:event|veranstaltung|événement|game)\s*:\s*([^\n.,;]{2,60})`)
)

// form reads what the shield is like.
func (r *reader) form() {
	for _, s := range shapes {
		r.each(s.e, func(m match) bool {
			switch before := r.before(m.from); {
			case negative.MatchString(before), strings.Contains(r.after(m.to), "?") && len(strings.SplitN(r.after(m.to), "?", 2)[0]) < 3:
				r.doubted(Shape, Outline, m.span)
				return true
			}
			name, sides, _ := strings.Cut(s.value, " ")
			r.found(Shape, name, m.span)
			if sides != "" {
				r.Finds = append(r.Finds, Find{Sides, sides, r.words[m.from:m.to], m.from, m.to})
			}
			return true
		})
	}
	if !r.has(Shape) {
		r.each(vague, func(m match) bool { r.doubted(Shape, Outline, m.span); return true })
	}
	for _, w := range measures {
		r.each(w.e, func(m match) bool { r.found(Measured, w.value, m.span); return true })
	}
	curve := func(yes, no string) func(match) bool {
		return func(m match) bool {
			if ofEdge.MatchString(r.after(m.to)) {
				return false
			}
			value := yes
			if negative.MatchString(r.before(m.from)) {
				value = no
			}
			r.found(Curve, value, m.span)
			return true
		}
	}
	r.each(bent, curve("yes", "no"))
	r.each(level, curve("no", "yes"))
	r.each(planked, func(m match) bool {
		if negative.MatchString(r.before(m.from)) || !onBack.MatchString(r.before(m.from)+" "+r.after(m.to)) {
			return false
		}
		r.found(Back, "planks", m.span)
		return true
	})
	r.each(pictured, func(m match) bool { r.doubted(Emblem, Picture, m.span); return true })
}

// hold reads how it is held. Who is left-handed carries the sword there: which arm the shield is on is asked.
func (r *reader) hold() {
	for _, g := range grips {
		r.each(g.e, func(m match) bool {
			if negative.MatchString(r.before(m.from)) || r.has(Grip) {
				return false
			}
			r.found(Grip, g.value, m.span)
			return true
		})
	}
	r.each(arms, func(m match) bool {
		if weapon.MatchString(r.before(m.from)) || weapon.MatchString(r.after(m.to)) {
			r.doubted(Hand, WhichArm, m.span)
			return true
		}
		side := "right"
		if s := strings.ToLower(m.groups[1] + m.groups[2]); strings.HasPrefix(s, "l") || s == "gauche" {
			side = "left"
		}
		r.found(Hand, side, m.span)
		return true
	})
	if !r.has(Hand) {
		r.each(handed, func(m match) bool { r.doubted(Hand, WhichArm, m.span); return true })
	}
}

// latex reads whether somebody is allergic to natural rubber. Only what says so plainly counts: all else is asked.
func (r *reader) latex() {
	for _, e := range noAllergy {
		r.each(e, func(m match) bool {
			if r.hazy(m) {
				r.doubted(Latex, Allergic, m.span)
				return true
			}
			r.found(Latex, "no", m.span)
			return true
		})
	}
	r.each(yesAllergy, func(m match) bool {
		if r.hazy(m) {
			r.doubted(Latex, Allergic, m.span)
			return true
		}
		r.found(Latex, "yes", m.span)
		return true
	})
	r.each(anyAllergy, func(m match) bool { r.doubted(Latex, Allergic, m.span); return true })
	if r.Doubted(Latex) {
		r.drop(Latex) // one unclear word about an allergy outweighs a clear one
	}
	r.each(latexFree, func(m match) bool { r.found(Coat, "none", m.span); return true })
	r.each(latexSkin, func(m match) bool {
		if negative.MatchString(r.before(m.from)) || asked.MatchString(r.after(m.to)) {
			return false
		}
		r.found(Coat, "latex", m.span)
		return true
	})
}

// hazy tells that what stands around words takes their certainty away.
func (r *reader) hazy(m match) bool {
	rest := firstWords(r.after(m.to))
	return uncertain.MatchString(r.before(m.from)) || asked.MatchString(r.after(m.to)) || uncertain.MatchString(rest) || asFarAs.MatchString(rest)
}

// firstWords is a text up to its first mark.
func firstWords(s string) string {
	if i := strings.IndexAny(s, ".,;!?\n"); i >= 0 {
		return s[:i]
	}
	return s
}

// sending reads how it comes to the customer, and for which event.
func (r *reader) sending() {
	r.each(shipped, func(m match) bool {
		if negative.MatchString(r.before(m.from)) {
			return false
		}
		r.found(Ship, "yes", m.span)
		return true
	})
	r.each(collected, func(m match) bool {
		if uncertain.MatchString(r.before(m.from)) {
			return false
		}
		r.found(Ship, "no", m.span)
		return true
	})
	event := func(m match) bool {
		at := m.from + strings.LastIndex(r.words[m.from:m.to], m.groups[1])
		if r.has(Event) || strings.TrimSpace(m.groups[1]) == "" {
			return false
		}
		r.found(Event, strings.TrimSpace(m.groups[1]), span{at, at + len(m.groups[1])})
		return true
	}
	r.each(eventIs, event)
	r.each(gathered, event)
}
