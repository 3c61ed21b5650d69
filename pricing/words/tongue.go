package words

import (
	"strconv"
	"strings"
	"time"

	"github.com/shopspring/decimal"
	"golang.org/x/text/message"

	"foamwright/materials/measure"
	"foamwright/pricing/money"
)

// Tongue is a language that documents are written in: its sentences, numbers and days. The zero Tongue is English.
type Tongue struct{ *tongue }

type tongue struct {
	code       string
	name       string // as its speakers call it
	group, dot string // between thousands, before cents
	percent    string // after a percentage
	first      string // of a month, where it is no plain number
	months     []string
	date       string // with {day}, {month} and {year}
	say        *message.Printer
}

// Tongues are the languages there are, English first.
func Tongues() []Tongue { return spoken() }

// Speak is the tongue of a code, "de" or "de-AT"; English where there is none of it.
func Speak(code string) Tongue {
	short, _, _ := strings.Cut(strings.ToLower(code), "-")
	all := spoken()
	for _, t := range all {
		if t.code == short {
			return t
		}
	}
	return all[0]
}

// Code is the tongue's ISO 639-1 code.
func (t Tongue) Code() string { return t.known().code }

// Name is what its speakers call it.
func (t Tongue) Name() string { return t.known().name }

// Say is an English sentence in the tongue, its verbs filled in. A sentence that the catalogue does not have is said
// in English: a test looks for such.
func (t Tongue) Say(english string, args ...any) string {
	return t.known().say.Sprintf(english, args...)
}

// Money is an amount without its currency.
func (t Tongue) Money(a money.Amount) string {
	k := t.known()
	return grouped(a.String(), k.group, k.dot)
}

// Price is an amount with its currency.
func (t Tongue) Price(a money.Amount) string { return t.Money(a) + "\u00a0" + string(a.Currency()) }

// Number is a figure with as many places as it has.
func (t Tongue) Number(d decimal.Decimal) string {
	k := t.known()
	return grouped(d.String(), k.group, k.dot)
}

// Percent is a percentage, 20 for 20 %.
func (t Tongue) Percent(d decimal.Decimal) string { return t.Number(d) + t.known().percent }

// Length is a length in mm, with at most so many places.
func (t Tongue) Length(l measure.Length, places int32) string {
	return t.Number(l.Decimal().Round(places)) + "\u00a0mm"
}

// Date is a day in full.
func (t Tongue) Date(day time.Time) string {
	k := t.known()
	number := strconv.Itoa(day.Day())
	if day.Day() == 1 {
		number += k.first
	}
	return strings.NewReplacer("{day}", number, "{month}", k.months[day.Month()-1], "{year}", strconv.Itoa(day.Year())).Replace(k.date)
}

func (t Tongue) known() *tongue {
	if t.tongue == nil {
		return spoken()[0].tongue
	}
	return t.tongue
}

// grouped sets the thousands of a plain number apart and writes its point as the tongue does.
func grouped(s, group, dot string) string {
	sign := ""
	if rest, negative := strings.CutPrefix(s, "-"); negative {
		sign, s = "−", rest
	}
	whole, cents, dotted := strings.Cut(s, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + group + whole[i:]
	}
	if dotted {
		whole += dot + cents
	}
	return sign + whole
}
