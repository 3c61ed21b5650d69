package words_test

import (
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"foamwright/pricing/words"
)

// TestGlossary holds the catalogue to the trade's words: where an English sentence has one, its translation has the
// word for it, by its stem.
func TestGlossary(t *testing.T) {
	seen := map[string]bool{}
	for _, w := range words.Glossary() {
		if seen[w.Term] {
			t.Errorf("%q stands twice in the glossary", w.Term)
		}
		seen[w.Term] = true
		for _, tongue := range words.Tongues()[1:] {
			if w.In[tongue.Code()] == "" {
				t.Errorf("the glossary has no word for %q in %s", w.Term, tongue.Name())
			}
			if !w.Loose {
				used(t, tongue, w)
			}
		}
	}
	if got := words.Speak("fr").Wording("Reverse charge"); got != "Autoliquidation" {
		t.Error(got)
	}
	if got := words.Speak("de").Wording("Kurtaxe 5 % %d"); got != "Kurtaxe 5 % %d" {
		t.Errorf("a name of the workshop's own became %q", got)
	}
}

// used looks through the sentences of a tongue for those with a word of the glossary.
func used(t *testing.T, tongue words.Tongue, w words.Word) {
	t.Helper()
	english := regexp.MustCompile(`(?i)\b` + regexp.QuoteMeta(w.Term) + `s?\b`)
	for _, c := range catalogue(t, tongue.Code()) {
		if !english.MatchString(c.english) {
			continue
		}
		for _, form := range c.forms {
			if !says(form, w.In[tongue.Code()]) && (w.Also[tongue.Code()] == "" || !says(form, w.Also[tongue.Code()])) {
				t.Errorf("%s: %s: %q has %q, but %q has no %q", tongue.Name(), c.file, c.english, w.Term, form, w.In[tongue.Code()])
			}
		}
	}
}

// says tells that a sentence has a term, every word of it in some form.
func says(sentence, term string) bool {
	for part := range strings.FieldsSeq(term) {
		if !strings.Contains(strings.ToLower(sentence), stem(part)) {
			return false
		}
	}
	return true
}

// stem is enough of a word to know it in its other forms.
func stem(word string) string {
	word = strings.ToLower(word)
	for utf8.RuneCountInString(word) > 4 {
		_, last := utf8.DecodeLastRuneInString(word)
		word = word[:len(word)-last]
		if utf8.RuneCountInString(word) <= 6 {
			break
		}
	}
	return word
}
