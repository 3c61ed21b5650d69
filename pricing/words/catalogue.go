package words

import (
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"strings"
	"sync"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
)

// messages holds a folder a tongue, named by its code, with a file a subject: English sentence to what is said
// instead. Where it depends on a number, it is an object of the plural forms by name ("=1", "one", "few", "other"), which go
// by the first argument.
//
//go:embed messages
var messages embed.FS

// spoken are the tongues there are, read once. Separators follow the CLDR but for the English one between thousands,
// which is that of the pages; the order of dates and the names of months are from memory. The files are part of the program, so a fault in them is one of the
// build, which a test finds.
var spoken = sync.OnceValue(func() []Tongue {
	said := catalog.NewBuilder(catalog.Fallback(language.English))
	all := []Tongue{
		{&tongue{code: "en", name: "English", group: group, dot: ".", percent: "\u00a0%", date: "{day} {month} {year}", months: months("January February March April May June July August September October November December")}},
		{&tongue{code: "de", name: "Deutsch", group: ".", dot: ",", percent: "\u00a0%", date: "{day}. {month} {year}", months: months("Januar Februar März April Mai Juni Juli August September Oktober November Dezember")}},
		{&tongue{code: "fr", name: "français", group: group, dot: ",", percent: "\u202f%", first: "er", date: "{day} {month} {year}", months: months("janvier février mars avril mai juin juillet août septembre octobre novembre décembre")}},
	}
	for _, t := range all {
		tag := language.MustParse(t.code)
		if err := load(said, tag, t.code); err != nil {
			panic(err)
		}
		t.say = message.NewPrinter(tag, message.Catalog(said))
	}
	return all
})

func months(names string) []string { return strings.Fields(names) }

// load reads the sentences of a tongue into the catalogue.
func load(said *catalog.Builder, tag language.Tag, code string) error {
	files, err := fs.Glob(messages, path.Join("messages", code, "*.json"))
	if err != nil {
		return err
	}
	for _, name := range files {
		body, err := messages.ReadFile(name)
		if err != nil {
			return err
		}
		var sentences map[string]any
		if err := json.Unmarshal(body, &sentences); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		for english, s := range sentences {
			if err := set(said, tag, english, s); err != nil {
				return fmt.Errorf("%s: %q: %w", name, english, err)
			}
		}
	}
	return nil
}

func set(said *catalog.Builder, tag language.Tag, english string, s any) error {
	switch s := s.(type) {
	case string:
		return said.SetString(tag, english, s)
	case map[string]any:
		var cases []any
		for _, form := range []string{"=0", "=1", "zero", "one", "two", "few", "many", "other"} {
			if text, ok := s[form]; ok {
				cases = append(cases, form, text)
			}
		}
		return said.Set(tag, english, plural.Selectf(1, "%d", cases...))
	}
	return fmt.Errorf("neither a sentence nor plural forms")
}
