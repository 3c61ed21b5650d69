package words

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"sync"
)

// Word is a word of the trade with what it is called in the other tongues.
type Word struct {
	Term  string
	In    map[string]string // by code
	Note  string            // for who translates
	Loose bool              // sentences may say it otherwise
}

//go:embed glossary.json
var glossary []byte

// Glossary are the words of the trade. Sentences of the catalogue use them, which a test holds them to.
func Glossary() []Word { return terms().list }

// Term is a word of the glossary in the tongue; any other, such as a name that the workshop gave, stays as written.
func (t Tongue) Term(english string) string {
	if said, ok := terms().by[t.Code()][english]; ok {
		return said
	}
	return english
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
