package enquiry

import (
	"strings"
	"unicode/utf8"
)

var (
	mailed    = in(`[\p{L}0-9._%+-]{1,64}@[\p{L}0-9-]{1,63}(?:\.[\p{L}0-9-]{1,63}){1,5}`)
	headed    = in(`(?:from|von|de)\s*:[ \t]*([^\n<]{1,80}?)[ \t]*<`)
	linked    = in(`(?:https?://|www\.)[^\s]{1,300}`)
	phoned    = in(`(?:phone|tel(?:efon|\.)?|mobile|mobil|call me (?:on|at)|handy|téléphone|portable)[ \t.:]{0,3}(\+?\(?\d[\d ()/-]{5,22}\d)`)
	dialled   = in(`(\+\d[\d ()/-]{6,22}\d)`)
	named     = in(`(?:my name is|mein name ist|ich hei(?:ß|ss)e|je m['’]appelle|mon nom est)[ \t]+(\p{Lu}[\p{L}'’-]{0,30}(?:[ \t]+(?:of|the|von|van|de|du|der|\p{Lu}[\p{L}'’-]{0,30})){0,5})`)
	signedOff = in(`(?:^|\n)[ \t]*(?:(?:with )?(?:many )?thanks(?: in advance)?|thank you|cheers|(?:kind |best |warm )?regards|best(?: wishes)?|yours(?: sincerely)?|greetings|(?:viele |liebe |beste |schöne )?gr(?:ü|ue)(?:ß|ss)e|mit freundlichen gr(?:ü|ue)(?:ß|ss)en|danke(?: schon mal)?|merci(?: d['’]avance)?|cordialement|bien à vous|salutations)[ \t]*[,.!]?[ \t]*\n+[ \t]*([^\n]{2,60})`)
)

// who reads who writes, and in which language.
func (r *reader) who() {
	r.each(headed, func(m match) bool {
		name := strings.Trim(m.groups[1], ` "'`)
		if name == "" || strings.ContainsAny(name, "@:") {
			return false
		}
		at := m.from + strings.Index(r.words[m.from:m.to], name)
		r.found(Name, name, span{at, at + len(name)})
		return true
	})
	r.each(linked, func(m match) bool { r.taken = append(r.taken, m.span); return true })
	r.each(mailed, func(m match) bool {
		r.found(Mail, m.groups[0], m.span)
		return true
	})
	for _, e := range []int{0, 1} {
		expression := phoned
		if e == 1 {
			expression = dialled
		}
		r.each(expression, func(m match) bool {
			at := m.from + strings.LastIndex(r.words[m.from:m.to], m.groups[1])
			r.found(Phone, strings.TrimSpace(m.groups[1]), span{at, at + len(m.groups[1])})
			return true
		})
	}
	name := func(m match) bool {
		said, _, _ := strings.Cut(m.groups[1], ",") // what follows is what they are
		said = strings.TrimSpace(strings.TrimRight(said, " .!\t\r"))
		if said == "" || len(strings.Fields(said)) > 6 || strings.ContainsAny(said, "@0123456789?:") || r.has(Name) {
			return false
		}
		at := m.from + strings.LastIndex(r.words[m.from:m.to], said)
		if !r.free(span{at, at + len(said)}) {
			return false
		}
		r.found(Name, said, span{at, at + len(said)})
		return true
	}
	r.each(named, name)
	r.each(signedOff, name)
	r.language()
}

func (r *reader) has(about Topic) bool { return r.Value(about) != "" }

// telling are words that hardly stand in another of the three languages.
func telling(language string) string {
	switch language {
	case "en":
		return " the a and with for is it my would like want need of on shield please you about have by "
	case "de":
		return " der die das und mit für ist ich ein einen eine schild bitte möchte hätte gerne auf von nicht bis wir "
	}
	return " le la les et avec pour est je un une bouclier voudrais bonjour merci sur mon des du pas nous aimerais "
}

// language is the one whose words are plainly the most; the words say it altogether, so that it has none of its own.
func (r *reader) language() {
	counts, best := map[string]int{}, ""
	for _, w := range strings.FieldsFunc(strings.ToLower(r.words), func(c rune) bool { return !wordy(c) }) {
		if utf8.RuneCountInString(w) > 12 {
			continue
		}
		for _, l := range []string{"en", "de", "fr"} {
			if strings.Contains(telling(l), " "+w+" ") {
				counts[l]++
			}
		}
	}
	for _, l := range []string{"en", "de", "fr"} {
		if counts[l] > counts[best] {
			best = l
		}
	}
	for l, n := range counts {
		if l != best && 2*n > counts[best] {
			return
		}
	}
	if counts[best] >= 3 {
		r.Finds = append(r.Finds, Find{About: LanguageOf, Value: best})
	}
}
