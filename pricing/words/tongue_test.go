package words_test

import (
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/money"
	"foamwright/pricing/words"
)

// Separators and orders of dates follow the Unicode CLDR's usual patterns of each language, from memory.
func TestTongues(t *testing.T) {
	sum := money.Round(decimal.RequireFromString("-1234567.5"), "EUR")
	day := time.Date(2027, 3, 1, 0, 0, 0, 0, time.UTC)
	for code, want := range map[string][4]string{
		"en": {"−1\u202f234\u202f567.50\u00a0EUR", "1 March 2027", "1 piece", "3 pieces"},
		"de": {"−1.234.567,50\u00a0EUR", "1. März 2027", "1 Stück", "3 Stück"},
		"fr": {"−1\u202f234\u202f567,50\u00a0EUR", "1er mars 2027", "1 pièce", "3 pièces"},
		"xx": {"−1\u202f234\u202f567.50\u00a0EUR", "1 March 2027", "1 piece", "3 pieces"},
	} {
		s := words.Speak(code)
		if got := [4]string{s.Price(sum), s.Date(day), s.Say("%d pieces", 1), s.Say("%d pieces", 3)}; got != want {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
	if s := (words.Tongue{}); s.Say("%d pieces", 2) != "2 pieces" || s.Code() != "en" {
		t.Error("the zero tongue is not English")
	}
}
