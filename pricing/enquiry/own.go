package enquiry

import (
	"regexp"
	"strings"
)

var (
	editions = in(`(?:\d{1,2}(?:st|nd|rd|th)|first|second|third|fourth|fifth|latest|current|\d{1,2}\.|20\d\d)\s+(?:edition|ed\.|rule ?book|rules?|ausgabe|auflage|édition|regelwerk)|(?:edition|version|ausgabe|auflage|édition|v\.?)\s*\d{1,4}(?:\.\d{1,2})?|(?:erste|zweite|dritte|vierte|neueste|aktuelle)\s+(?:ausgabe|auflage|regeln)|(?:première|deuxième|troisième|dernière)\s+édition`)
	// A colour written large before another large word is somebody's or some place's name.
	placeName = regexp.MustCompile(`^\p{Lu}\p{L}*\s+\p{Lu}`)
	onFace    = in(`(?:face|front|field|background|ground|shield|schild|grund|vorderseite|fond|bouclier|face avant)\s*(?:in|of|is|:|painted|shall be|should be|all|en|est|soll|ist)*\s*$`)
	isFace    = in(`^\s*(?:face|front|field|background|ground|shield|schild|grund|vorderseite|fond|bouclier)(?:[^\p{L}]|$)`)
	atBack    = in(`(?:back|rear|rückseite|hinten|dos)\s*(?:in|of|is|:|painted|shall be|should be|en|est|ist)*\s*$`)
	isBack    = in(`^\s*(?:back|rear|rückseite|dos)(?:[^\p{L}]|$)`)
	atRim     = in(`(?:rim|border|edge|rand|bordure|bord)\s*(?:in|of|is|:|painted|shall be|should be|en|est|ist)*\s*$`)
	isRim     = in(`^\s*(?:rim|border|rand|bordure)(?:[^\p{L}]|$)`)
)

// spaced is an expression of a name, however its words are set apart.
func spaced(name string) *regexp.Regexp {
	words := strings.Fields(name)
	for i, w := range words {
		words[i] = regexp.QuoteMeta(w)
	}
	return in(strings.Join(words, `[\s-]+`))
}

// rules reads the name of a size rule that the workshop knows; the name of a game that has several is a question.
func (r *reader) rules() {
	editionOf := map[string]string{}
	for _, rule := range r.known.Rules {
		if strings.TrimSpace(rule.Name) == "" {
			continue
		}
		editionOf[rule.Code] = rule.Edition
		r.each(spaced(rule.Name), func(m match) bool {
			r.found(Rule, rule.Code, m.span)
			return true
		})
	}
	games := map[string][]string{}
	var order []string
	for _, rule := range r.known.Rules {
		words := strings.Fields(rule.Name)
		if len(words) < 2 {
			continue
		}
		game := strings.Join(words[:len(words)-1], " ")
		if games[game] == nil {
			order = append(order, game)
		}
		games[game] = append(games[game], rule.Name)
	}
	for _, game := range order {
		r.each(spaced(game), func(m match) bool {
			if r.has(Rule) {
				return false
			}
			r.doubted(Rule, Class, m.span, games[game]...)
			return true
		})
	}
	r.each(editions, func(m match) bool { r.found(Edition, r.words[m.from:m.to], m.span); return true })
}

// colours reads the catalogue's; blue alone is one of several.
func (r *reader) colours() {
	shades := map[string][]string{}
	var order []string
	for _, name := range r.known.Colours {
		words := strings.Fields(name)
		if len(words) == 0 {
			continue
		}
		r.each(spaced(name), func(m match) bool {
			if placeName.MatchString(r.words[m.from:]) && r.words[m.from:m.to] != name {
				return false
			}
			r.found(r.painted(m.span), name, m.span)
			return true
		})
		if last := words[len(words)-1]; len(words) > 1 {
			if shades[last] == nil {
				order = append(order, last)
			}
			shades[last] = append(shades[last], name)
		}
	}
	for _, shade := range order {
		r.each(spaced(shade), func(m match) bool { r.doubted(Colour, Shade, m.span, shades[shade]...); return true })
	}
}

// painted is what a colour is on, by the words beside it.
func (r *reader) painted(s span) Topic {
	before, after := r.before(s.from), r.after(s.to)
	switch {
	case isRim.MatchString(after):
		return RimColour
	case isBack.MatchString(after):
		return BackColour
	case isFace.MatchString(after):
		return FaceColour
	case atRim.MatchString(before):
		return RimColour
	case atBack.MatchString(before):
		return BackColour
	case onFace.MatchString(before):
		return FaceColour
	}
	return Colour
}
