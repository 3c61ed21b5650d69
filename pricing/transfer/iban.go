// Package transfer is what a customer needs to pay by bank: the account (IBAN, ISO 13616; BIC, ISO 9362), the
// reference to pay with (RF creditor reference, ISO 11649), and the text of the code that a bank's program scans
// (EPC069-12, version 002).
//
// Units: amounts are money.Amount; everything else is text in capitals without spaces. Limits: an IBAN's check digits
// and form are looked at, not how long its country has them; nobody asks a bank whether the account is there.
package transfer

import (
	"regexp"
	"strings"
	"unicode"

	"foamwright/materials/fault"
)

var (
	ibanForm = regexp.MustCompile(`^[A-Z]{2}[0-9]{2}[A-Z0-9]{11,30}$`)
	bicForm  = regexp.MustCompile(`^[A-Z0-9]{4}[A-Z]{2}[A-Z0-9]{2}([A-Z0-9]{3})?$`)
)

// ParseIBAN reads an account number as people write it, in groups and either case; the empty text is none.
func ParseIBAN(typed string) (string, error) {
	s := bare(typed)
	switch {
	case s == "":
		return "", nil
	case !ibanForm.MatchString(s):
		return "", refuse(typed, "An IBAN is two letters for the country, two digits, and 11 to 30 letters or digits, for example BE72 0000 0000 1616. Write it as it stands on the bank's papers.")
	case !holds(s):
		return "", refuse(typed, "The check digits of this IBAN do not fit the rest: a character is wrong or two have changed places. Compare it with the bank's papers.")
	}
	return s, nil
}

// ParseBIC reads a bank's code, 8 or 11 characters; the empty text is none.
func ParseBIC(typed string) (string, error) {
	s := bare(typed)
	if s != "" && !bicForm.MatchString(s) {
		return "", refuse(typed, "A BIC has 8 or 11 characters, the fifth and sixth being the country's letters, for example BPOTBEB1. Write it as it stands on the bank's papers, or leave it empty.")
	}
	return s, nil
}

// Grouped is an IBAN or a reference as it is printed, in groups of four that a line does not part.
func Grouped(s string) string {
	var b strings.Builder
	for i, r := range s {
		if i > 0 && i%4 == 0 {
			b.WriteRune('\u00a0')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// bare is a text in capitals without white space.
func bare(typed string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return unicode.ToUpper(r)
	}, typed)
}

// holds tells whether the number that a text makes, its first four characters last and A being 10, leaves 1 when
// divided by 97 (ISO/IEC 7064). It wants capitals and digits only.
func holds(s string) bool { return remainder(s[4:]+s[:4]) == 1 }

func remainder(s string) (rest int) {
	for _, r := range s {
		if r >= 'A' {
			rest = (rest*100 + int(r-'A') + 10) % 97
		} else {
			rest = (rest*10 + int(r-'0')) % 97
		}
	}
	return rest
}

func refuse(value, remedy string) error {
	var l fault.List
	l.Add("", value, remedy)
	return l.Err()
}
