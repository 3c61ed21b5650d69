package transfer

import (
	"fmt"
	"regexp"
	"strings"
)

// longest is how much of a reference may follow its check digits.
const longest = 21

var referenceForm = regexp.MustCompile(`^RF[0-9]{2}[A-Z0-9]{1,21}$`)

// Reference makes an RF reference of a text, for example an invoice's number: of its letters and digits only, of
// which there must be 1 to 21.
func Reference(of string) (string, error) {
	s := strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' {
			return r
		}
		return -1
	}, bare(of))
	if s == "" || len(s) > longest {
		return "", refuse(of, "A payment reference is made of 1 to 21 letters A to Z or digits. Shorten the series.")
	}
	return fmt.Sprintf("RF%02d%s", 98-remainder(s+"RF00"), s), nil
}

// ParseReference reads an RF reference as a payer or a bank writes it, in groups and either case.
func ParseReference(typed string) (string, error) {
	s := bare(typed)
	if !referenceForm.MatchString(s) || !holds(s) {
		return "", refuse(typed, "This is no RF reference: RF, two check digits, and 1 to 21 letters or digits that fit them. Compare it with the invoice.")
	}
	return s, nil
}
