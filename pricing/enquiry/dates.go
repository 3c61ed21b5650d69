package enquiry

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

// monthNames are the months' names and short forms in three languages, by number.
func monthNames() []string {
	return []string{"january|jan|januar|jänner|janvier|janv", "february|feb|februar|feber|février|févr", "march|mar|märz|mars", "april|apr|avril|avr", "may|mai",
		"june|jun|juni|juin", "july|jul|juli|juillet|juil", "august|aug|août", "september|sept|sep|septembre", "october|oct|oktober|okt|octobre", "november|nov|novembre", "december|dec|dezember|dez|décembre|déc"}
}

var (
	anyMonth  = `(` + strings.Join(longestFirst(monthNames()), "|") + `)\.?`
	isoDay    = regexp.MustCompile(`(20\d\d)-(\d\d)-(\d\d)`)
	dayMonth  = in(`(\d{1,2})(?:st|nd|rd|th|er|\.)?\s+(?:of\s+)?` + anyMonth + `(?:,?\s+(20\d\d))?`)
	monthDay  = in(anyMonth + `\s+(?:the\s+)?(\d{1,2})(?:st|nd|rd|th)?(?:,?\s+(20\d\d))?`)
	dotted    = regexp.MustCompile(`(\d{1,2})\.\s?(\d{1,2})\.(?:\s?(20\d\d|\d\d))?`)
	slashed   = regexp.MustCompile(`(\d{1,2})/(\d{1,2})/(20\d\d|\d\d)`)
	monthOnly = in(`(?:by|before|in|until|till|for|end of|mid|early|late|beginning of|start of|this|next|bis|vor|im|ende|mitte|anfang|für|pour|avant|en|fin|mi|début|d['’]ici)\s*-?\s*(?:the end of |the beginning of |(?:de |d['’]))?` + anyMonth + `(?:,?\s+(20\d\d))?`)
	sometime  = in(`(?:as soon as possible|asap|next weekend|next week|next month|in (?:a|one|two|three|four|five|six|seven|eight|ten|twelve|\d{1,2}|a few|a couple of) (?:weeks?|months?|days?)(?:['’] time)?|this (?:spring|summer|autumn|fall|winter)|(?:by|in|before) (?:the )?(?:spring|summer|autumn|fall|winter|christmas|easter)|so bald wie möglich|möglichst bald|nächste woche|nächsten monat|in (?:einer|zwei|drei|vier|fünf|sechs|\d{1,2}) (?:wochen?|monaten?|tagen?)|(?:bis|im|vor) (?:zum )?(?:frühling|frühjahr|sommer|herbst|winter|weihnachten|ostern)|dès que possible|la semaine prochaine|le mois prochain|dans (?:une|deux|trois|quatre|\d{1,2}) (?:semaines?|mois|jours?)|(?:cet|cette|avant l['’]|au|en) ?(?:été|hiver|automne|printemps)|(?:avant|à) noël)`)
)

// longestFirst are names set apart, so that juni is not read as jun.
func longestFirst(lists []string) []string {
	var all []string
	for _, l := range lists {
		all = append(all, strings.Split(l, "|")...)
	}
	slices.SortStableFunc(all, func(a, b string) int { return len(b) - len(a) })
	return all
}

// dates reads days; a month or a season is no day, and 5/6/2027 is two.
func (r *reader) dates() {
	r.each(isoDay, func(m match) bool { return r.day(m.span, m.groups[1], atoi(m.groups[2]), atoi(m.groups[3])) })
	r.each(dayMonth, func(m match) bool {
		return r.day(m.span, m.groups[3], month(m.groups[2]), atoi(m.groups[1]))
	})
	r.each(monthDay, func(m match) bool {
		return r.day(m.span, m.groups[3], month(m.groups[1]), atoi(m.groups[2]))
	})
	r.each(dotted, func(m match) bool {
		if m.groups[3] == "" && atoi(m.groups[2]) > 12 {
			return false
		}
		return r.day(m.span, m.groups[3], atoi(m.groups[2]), atoi(m.groups[1]))
	})
	r.each(slashed, func(m match) bool {
		first, second, year := atoi(m.groups[1]), atoi(m.groups[2]), m.groups[3]
		switch {
		case first > 12 && second <= 12:
			return r.day(m.span, year, second, first)
		case second > 12 && first <= 12, first == second:
			return r.day(m.span, year, first, second)
		case first > 12:
			return false
		}
		r.doubted(Date, WhichOne, m.span, r.iso(year, second, first), r.iso(year, first, second))
		return true
	})
	r.each(monthOnly, func(m match) bool {
		name := month(m.groups[1])
		if short := strings.ToLower(m.groups[1]); short == "mar" || short == "may" && m.groups[2] == "" && r.words[m.to-3:m.to] == "may" {
			return false // "for may I ask" is no month; those who mean it write it large
		}
		year := r.year(m.groups[2], name, 28)
		r.Finds = append(r.Finds, Find{Month, fmt.Sprintf("%04d-%02d", year, name), r.words[m.from:m.to], m.from, m.to})
		r.doubted(Date, WhichDay, m.span)
		return true
	})
	r.each(sometime, func(m match) bool { r.doubted(Date, WhichDay, m.span); return true })
	if r.has(Date) { // a month beside a day says nothing new
		var left []Doubt
		for _, d := range r.Doubts {
			if d.About != Date || d.Why != WhichDay {
				left = append(left, d)
			}
		}
		r.Doubts = left
	}
}

// day keeps a day that is in the calendar and still to come.
func (r *reader) day(s span, year string, month, day int) bool {
	if month < 1 || month > 12 || day < 1 || day > 31 {
		return false
	}
	iso := r.iso(year, month, day)
	t, err := time.Parse(time.DateOnly, iso)
	if y, m, d := r.known.Day.Date(); err != nil || t.Before(time.Date(y, m, d, 0, 0, 0, 0, time.UTC)) {
		r.doubted(Date, NoDay, s)
		return true
	}
	r.found(Date, iso, s)
	return true
}

func (r *reader) iso(year string, month, day int) string {
	return fmt.Sprintf("%04d-%02d-%02d", r.year(year, month, day), month, day)
}

// year is the one written, or the next in which the day is still to come.
func (r *reader) year(written string, month, day int) int {
	if len(written) == 4 {
		return atoi(written)
	}
	if written != "" {
		return 2000 + atoi(written)
	}
	y, m, d := r.known.Day.Date()
	if month < int(m) || month == int(m) && day < d {
		y++
	}
	return y
}

func month(name string) int {
	name = strings.ToLower(name)
	for i, names := range monthNames() {
		for n := range strings.SplitSeq(names, "|") {
			if n == name {
				return i + 1
			}
		}
	}
	return 0
}

// atoi reads digits that an expression has found.
func atoi(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}
