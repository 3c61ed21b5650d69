package words

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"sync"
)

// Word is a word of the trade with what it is called in the other tongues.
type Word struct {
	Term  string
	In    map[string]string // by code
	Also  map[string]string // another word for it where the first does not go
	Note  string            // for who translates
	Loose bool              // sentences may say it otherwise
}

//go:embed glossary.json
var glossary []byte

// Wording is what is known only at run time, such as the name of a tax rate: a word of the glossary or a sentence of the
// catalogue in the tongue, or else what a person worded, as it stands.
func (t Tongue) Wording(s string) string {
	if said, ok := terms().by[t.Code()][s]; ok {
		return said
	}
	if strings.Contains(s, "%") { // no person's text is taken for a pattern
		return s
	}
	return t.Say(s)
}

type lexicon struct {
	list []Word
	by   map[string]map[string]string // term by code, then by English term
}

var terms = sync.OnceValue(func() lexicon {
	l := lexicon{by: map[string]map[string]string{}}
	if err := json.Unmarshal(glossary, &l.list); err != nil {
		panic(fmt.Errorf("glossary: %w", err)) // part of the program: a fault of the build
	}
	for _, w := range l.list {
		for code, said := range w.In {
			if l.by[code] == nil {
				l.by[code] = map[string]string{}
			}
			l.by[code][w.Term] = said
		}
	}
	return l
})
