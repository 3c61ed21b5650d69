// Package money holds amounts of a currency, rounds them to what can be paid, and shares them out without
// losing a cent.
//
// Units: an Amount is a whole number of the currency's minor units (ISO 4217), written as a decimal. Prices per
// unit, rates and factors are plain decimals; they become an Amount by Round, once per printed line.
//
// Amounts of two currencies never meet: a workshop has one currency, so a mixture is a mistake in the program, not
// something a person typed, and arithmetic panics on it instead of burdening every sum with an error. Where foreign
// money can come in, compare Currency first. The zero Amount is nothing in no currency and goes with any.
//
// Limits: amounts that are typed have at most 15 digits before the point. No exchange rates, no local formats.
package money

import (
	"fmt"
	"strings"

	"github.com/shopspring/decimal"
)

// mostWhole is how many digits a typed amount may have before the point.
const mostWhole = 15

// Amount is an exact sum of money that can be paid: never a fraction of the currency's minor unit.
type Amount struct {
	value    decimal.Decimal
	currency Currency
}

// New takes an amount as somebody gave it. More places than the currency has, or more than 15 digits before the
// point, is a fault: nobody guesses which cent was meant.
func New(value decimal.Decimal, c Currency) (Amount, error) {
	digits := c.Digits()
	switch e := int(value.Exponent()); {
	case e > mostWhole || e+value.NumDigits() > mostWhole:
		return Amount{}, refuse(value.ScientificNotationString(), "That is more money than can be handled. Check the number.")
	case !value.Equal(value.Round(digits)):
		remedy := fmt.Sprintf("Write at most %d places after the point: %s has no smaller coin.", digits, c)
		if digits == 0 {
			remedy = fmt.Sprintf("Write a whole number: %s has no smaller coin.", c)
		}
		return Amount{}, refuse(value.ScientificNotationString(), remedy)
	}
	return Round(value, c), nil
}

// Round is the nearest amount to a computed value, half away from zero (as EN 16931 rounds).
func Round(value decimal.Decimal, c Currency) Amount { return Amount{value.Round(c.Digits()), c} }

// Sum adds amounts of a currency; without any it is zero.
func Sum(c Currency, amounts ...Amount) Amount {
	sum := Round(decimal.Zero, c)
	for _, a := range amounts {
		sum = sum.Add(a)
	}
	return sum
}

// Decimal is the amount as a number, with exactly the currency's places.
func (a Amount) Decimal() decimal.Decimal { return a.value }

// Currency is what the amount is in; empty for the zero Amount.
func (a Amount) Currency() Currency { return a.currency }

// Add is a + b.
func (a Amount) Add(b Amount) Amount { return Amount{a.value.Add(b.value), common(a, b)} }

// Sub is a − b.
func (a Amount) Sub(b Amount) Amount { return Amount{a.value.Sub(b.value), common(a, b)} }

// Neg is −a.
func (a Amount) Neg() Amount { return Amount{a.value.Neg(), a.currency} }

// Times is the amount for n pieces.
func (a Amount) Times(n int) Amount {
	return Amount{a.value.Mul(decimal.NewFromInt(int64(n))), a.currency}
}

// Cmp is −1, 0 or +1 as a is less than, equal to or more than b.
func (a Amount) Cmp(b Amount) int {
	common(a, b)
	return a.value.Cmp(b.value)
}

// Equal tells whether a and b are as much money.
func (a Amount) Equal(b Amount) bool { return a.Cmp(b) == 0 }

// Sign is −1, 0 or +1.
func (a Amount) Sign() int { return a.value.Sign() }

// String is the number with the currency's places and a point, "573.82"; local formats are made elsewhere.
func (a Amount) String() string {
	if a.currency == "" {
		return "0"
	}
	return a.value.StringFixed(a.currency.Digits())
}

// MarshalText writes the amount with its currency, "573.82 EUR"; the zero Amount is "0".
func (a Amount) MarshalText() ([]byte, error) {
	if a.currency == "" {
		return []byte("0"), nil
	}
	return []byte(a.String() + " " + string(a.currency)), nil
}

// UnmarshalText reads what MarshalText wrote.
func (a *Amount) UnmarshalText(text []byte) error {
	number, code, found := strings.Cut(string(text), " ")
	value, err := decimal.NewFromString(number)
	if err != nil || !found {
		*a = Amount{}
		if err == nil && !value.IsZero() {
			err = refuse(string(text), "An amount has a currency, for example 573.82 EUR.")
		}
		return err
	}
	c, err := ParseCurrency(code)
	if err == nil {
		*a, err = New(value, c)
	}
	return err
}

// common is the currency of both amounts. A mixture panics; the package comment says why.
func common(a, b Amount) Currency {
	switch {
	case a.currency == b.currency, b.currency == "":
		return a.currency
	case a.currency == "":
		return b.currency
	}
	panic(fmt.Sprintf("money: %s and %s in one sum", a.currency, b.currency))
}
