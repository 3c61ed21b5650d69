package words_test

import (
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"foamwright/materials/measure"
	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Separators and orders of dates follow the Unicode CLDR's usual patterns of each language, from memory.
func TestTongues(t *testing.T) {
	sum := money.Round(decimal.RequireFromString("-1234567.5"), "EUR")
	day := time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	for code, want := range map[string][4]string{
		"en": {"−1\u202f234\u202f567.50\u00a0EUR", "1 March 2027", "one gem", "3 gems"},
		"de": {"−1.234.567,50\u00a0EUR", "1. März 2027", "ein Schmuckstein", "3 Schmucksteine"},
		"fr": {"−1\u202f234\u202f567,50\u00a0EUR", "1er mars 2027", "une gemme", "3 gemmes"},
		"xx": {"−1\u202f234\u202f567.50\u00a0EUR", "1 March 2027", "one gem", "3 gems"},
	} {
		s := words.Speak(code)
		if got := [4]string{s.Price(sum), s.Date(day), s.Say("%d gems", 1), s.Say("%d gems", 3)}; got != want {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
	if s := words.Speak("fr"); s.Percent(decimal.New(125, -1)) != "12,5\u202f%" || s.Length(measure.FromMM(1250.44), 1) != "1\u202f250,4\u00a0mm" {
		t.Error(s.Percent(decimal.New(125, -1)), s.Length(measure.FromMM(1250.44), 1))
	}
	if s := (words.Tongue{}); s.Say("%d gems", 2) != "2 gems" || s.Code() != "en" {
		t.Error("the zero tongue is not English")
	}
}

// TestSeparatorsOfTheCLDR holds ours against those of the Unicode CLDR as golang.org/x/text has them (its version 32).
// French has a narrow space since, and English keeps the pages' space between thousands.
func TestSeparatorsOfTheCLDR(t *testing.T) {
	spaces := strings.NewReplacer("\u202f", " ", "\u00a0", " ")
	for _, s := range words.Tongues() {
		p := message.NewPrinter(language.MustParse(s.Code()))
		want := p.Sprintf("%.2f", 1234567.25)
		if s.Code() == "en" {
			want = strings.ReplaceAll(want, ",", " ")
		}
		if got := s.Number(decimal.RequireFromString("1234567.25")); spaces.Replace(got) != spaces.Replace(want) {
			t.Errorf("%s: %q, want %q", s.Name(), got, want)
		}
		if got, want := s.Percent(decimal.New(125, -1)), p.Sprint(number.Percent(0.125, number.Scale(1))); s.Code() != "en" && spaces.Replace(got) != spaces.Replace(want) {
			t.Errorf("%s: %q, want %q", s.Name(), got, want)
		}
	}
}
