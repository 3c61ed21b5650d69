package sales

import (
	"github.com/shopspring/decimal"
)

// Sum is one line of the price as it was issued: a group of materials or a line of the build-up.
type Sum struct {
	Key, Label string
	Amount     decimal.Decimal
}

// Moved is what a later version changed, and what that did to the price: worked out when it was issued and then read
// back. Prices and spec are told apart by an estimate of the old spec with the new figures in between.
type Moved struct {
	Version  int             // it is held against
	Was, Now decimal.Decimal // what the customer pays, tax included
	Entries  []MovedEntry    // of the spec
	Said     []string        // the same for the customer, a sentence each, in the tongue of the document
	Lines    []MovedLine     // that moved; none where the version before did not keep its sums
	// Prices is what materials, rates and steps did, Spec the rest; neither where Untold says why they cannot be told apart.
	Prices, Spec decimal.Decimal
	Untold       string
}

// MovedEntry is an entry of the spec in words, with what was written there and what is now.
type MovedEntry struct{ What, Was, Now string }

// MovedLine is a line of the price before and now, and what prices and spec did to it.
type MovedLine struct {
	Key, Label             string
	Was, Prices, Spec, Now decimal.Decimal
}

// By is what the price moved by.
func (m Moved) By() decimal.Decimal { return m.Now.Sub(m.Was) }
