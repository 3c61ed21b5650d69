// Package stock is the shelf: what is on it, what is promised, what to buy and what it cost.
//
// The ledger is a list of movements that is only ever added to; balances and what is left of a lot follow from it.
// Quantities are decimals in an item's stock unit, to the unit's places; offcuts count as the share of a whole
// sheet, to four. Money is one currency, decimal, rounded once a movement to the cent: what the shelf is worth is
// always receipts less issues, to the cent. Days are midnight UTC.
// Limits: no SQL, no HTTP; who an order is for belongs to sales.
package stock
