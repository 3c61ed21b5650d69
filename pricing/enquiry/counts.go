package enquiry

import (
	"regexp"
	"strings"

	"github.com/shopspring/decimal"
)

// between are up to three words between a number and what it counts: "three small green gems".
const between = `((?:\p{L}[\p{L}-]{0,20}\s+){0,3}?)`

const (
	shields = `shields?|bucklers?|schilde?[rns]?|rundschilde?|boucliers?`
	gems    = `gemstones?|gemmes?|gems?|jewels?|stones?|cabochons?|edelsteine?n?|schmucksteine?n?|steine?n?|pierres?|joyaux`
	studs   = `studs?|rivets?|bosses|nieten?|clous`
)

var (
	countedShields = in(counted + `\s+` + between + `(?:` + shields + `)`)
	theSame        = in(counted + `\s+(?:times\s+)?(?:of (?:the same|them|these|those)|the same|identical(?: ones)?|mal (?:den ?selben|das gleiche)|davon|gleiche|(?:fois )?le même|identiques|pieces|pcs|stück|pièces)`)
	someShields    = in(`(?:a couple of|a few|some|several|a set of|ein paar|einige|mehrere|quelques|plusieurs)\s+(?:\p{L}+\s+){0,2}(?:` + shields + `)|(?:for (?:our|my) (?:whole )?(?:group|team|unit|warband|clan|band)|für unsere (?:gruppe|truppe)|pour (?:notre|mon) (?:groupe|équipe))`)
	countedGems    = in(counted + `\s+` + between + `(?:` + gems + `)`)
	noGems         = in(`(?:no|without(?: any)?|keine|ohne|pas de|sans)\s+(?:` + gems + `)`)
	anyGems        = in(`(?:` + gems + `)`)
	furtherOnes    = in(counted + `\s+(?:more|others?|further|(?:\p{L}+\s+)?ones|weitere|kleine|kleinere|autres|petites)`)
	countedStuds   = in(counted + `\s+` + between + `(?:` + studs + `)`)
	anyStuds       = in(`(?:` + studs + `)`)
	countedLayers  = in(counted + `[\s-]+` + between + `(layers?|lagen?|lagig\p{L}*|schichten?|couches?)`)
	gluedLayers    = in(`(zwei|drei|vier|fünf)lagig\p{L}*`)
	skin           = in(`^\s*(?:of|aus|von|de|d['’]|coats? of)?\s*(?:latex|paint|varnish|primer|clear|farbe|lack|vernis|peinture)`)
	ofFoam         = in(`^\s*(?:de )?(?:mousse|tapis)`)
	openRange      = regexp.MustCompile(`^\s*(?:-|–|to|bis|à)\s*[€£$]?\d`)
	priced         = regexp.MustCompile(`(?i)(€|£|\$|eur|gbp|usd|chf)?\s?(\d{1,6}(?:[.,]\d{1,2})?)\s?(€|£|\$|euros?|eur|gbp|pounds|quid|usd|dollars|chf|franken|francs)?`)
	budgeted       = in(`(?:budget|limit|spend(?:ing)?|pay|afford|ausgeben|preis\p{L}*|kosten|dépenser|prix)[^.\n]{0,24}$`)
	atMost         = in(`(?:max(?:imum|imal)?\.?|at most|up to|no more than|not more than|under|below|less than|höchstens|bis zu|unter|maximal|jusqu['’]à|moins de|au maximum|around|about|roughly|circa|ca\.?|etwa|ungefähr|environ)\s*$`)
	priceRange     = in(`\d\s?(?:€|£|\$|euros?|eur)?\s*(?:-|–|to|and|or|bis|und|oder|à|et|ou)\s*$`)
	notMoney       = in(`^\s*(?:mm|cm|m|in|inch\p{L}*|ft|foot|feet|zoll|pouces?|kg|g|x|×|%|shields?|gems?|layers?|people|players|weeks?|days?|months?)(?:[^\p{L}]|$)`)
)

// budget reads a sum with a currency, or one that is called a budget.
func (r *reader) budget() {
	r.each(priced, func(m match) bool {
		sign, figure := currency(m.groups[1]), strings.Replace(m.groups[2], ",", ".", 1)
		if sign == "" {
			sign = currency(m.groups[3])
		}
		before := r.before(m.from)
		if sign == "" && (!budgeted.MatchString(before) || notMoney.MatchString(r.after(m.to))) {
			return false
		}
		sum, err := decimal.NewFromString(figure)
		if err != nil || !sum.IsPositive() {
			return false
		}
		value := strings.TrimSpace(sum.String() + " " + sign)
		if priceRange.MatchString(before) || strings.TrimSpace(before) == "" && asked.MatchString(r.after(m.to)) {
			r.doubted(Budget, WhichOne, m.span)
			return true
		}
		if rest := r.after(m.to); openRange.MatchString(rest) {
			r.doubted(Budget, WhichOne, m.span)
			return true
		}
		if sign != "" && !budgeted.MatchString(before) && !atMost.MatchString(before) {
			return false // a sum, but perhaps somebody else's price
		}
		r.found(Budget, value, m.span)
		return true
	})
	if r.Doubted(Budget) { // one end of a range is no budget
		kept := r.Finds[:0]
		for _, f := range r.Finds {
			if f.About != Budget {
				kept = append(kept, f)
			}
		}
		r.Finds = kept
	}
}

func currency(sign string) string {
	switch s := strings.ToLower(sign); s {
	case "€", "euro", "euros", "eur":
		return "EUR"
	case "£", "pounds", "quid", "gbp":
		return "GBP"
	case "chf", "franken", "francs":
		return "CHF"
	case "usd":
		return "USD"
	default:
		return s // a dollar may be several countries'
	}
}

// counts reads how many of what.
func (r *reader) counts() {
	r.count(countedLayers, Layers, func(m match) bool {
		french := strings.HasPrefix(strings.ToLower(m.groups[3]), "couche")
		after := r.after(m.to)
		return skin.MatchString(after) || french && !ofFoam.MatchString(after)
	})
	r.each(gluedLayers, func(m match) bool {
		n, _ := number(m.groups[1])
		r.found(Layers, decimal.NewFromInt(int64(n)).String(), m.span)
		return true
	})
	r.count(countedGems, Gems, nil)
	r.each(noGems, func(m match) bool { r.found(Gems, "0", m.span); return true })
	if r.has(Gems) {
		r.each(furtherOnes, func(m match) bool { r.doubted(Gems, HowMany, m.span); return true })
	} else if !r.Doubted(Gems) {
		r.each(anyGems, func(m match) bool { r.doubted(Gems, HowMany, m.span); return true })
	}
	r.count(countedStuds, Studs, nil)
	if !r.has(Studs) && !r.Doubted(Studs) {
		r.each(anyStuds, func(m match) bool { r.doubted(Studs, HowMany, m.span); return true })
	}
	r.count(theSame, Quantity, nil)
	r.count(countedShields, Quantity, func(m match) bool {
		n, _ := number(m.groups[1])
		return n == 1 && r.has(Quantity) // "a shield … twelve of the same"
	})
	if !r.has(Quantity) || r.Value(Quantity) == "1" {
		r.each(someShields, func(m match) bool { r.doubted(Quantity, HowMany, m.span); return true })
	}
	if r.Doubted(Gems) {
		r.drop(Gems)
	}
	if r.Doubted(Quantity) {
		r.drop(Quantity)
	}
}

// drop takes finds back that a doubt put into question.
func (r *reader) drop(about Topic) {
	kept := r.Finds[:0]
	for _, f := range r.Finds {
		if f.About != about {
			kept = append(kept, f)
		}
	}
	r.Finds = kept
}

// count keeps what is counted for certain: not about ten, not eight or nine.
func (r *reader) count(e *regexp.Regexp, about Topic, not func(match) bool) {
	r.over(e, func(m match) bool {
		n, ok := number(m.groups[1])
		key := span{m.from, m.from + len(m.groups[1])}
		if !r.free(key) || !ok || n < 1 || len(m.groups) > 2 && joins(m.groups[2]) || not != nil && not(m) {
			return false
		}
		before, after := r.before(m.from), r.after(m.to)
		if about == Layers && strings.HasPrefix(strings.TrimSpace(after), "of latex") {
			return false
		}
		article := len(m.groups[1]) <= 5 && n == 1
		if hedged.MatchString(before) || !article && ranged.MatchString(before) || orSo.MatchString(after) {
			r.doubted(about, HowMany, m.span)
			return true
		}
		if negative.MatchString(before) {
			return false
		}
		r.foundBy(about, decimal.NewFromInt(int64(n)).String(), m.span, key)
		return true
	})
}

// joins tells that the words between a number and a noun lead to something else: "two straps and gems".
func joins(words string) bool {
	for _, w := range strings.Fields(strings.ToLower(words)) {
		switch w {
		case "few", "couple", "lot", "set", "number", "paar", "and", "or", "with", "on", "of", "for", "to", "the", "in", "at", "by", "my", "your", "is", "are", "straps", "layers", "layer", "gems", "shields", "shield", "cm", "mm", "inch", "inches", "in.", "foot", "feet", "ft",
			"und", "oder", "mit", "auf", "für", "aus", "im", "am", "zoll", "riemen", "lagen", "et", "ou", "avec", "sur", "pour", "pouces", "weeks", "week", "friends", "people", "players", "wochen", "freunde", "semaines", "amis",
			"m", "x", "times", "long", "wide", "high", "picture", "photo", "drawing", "price", "quote", "bild", "design":
			return true
		}
	}
	return false
}
