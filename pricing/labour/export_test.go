package labour

import "github.com/shopspring/decimal"

// UnitShare is the time of the nth piece as a share of the first one's.
func UnitShare(l Learning, n int) decimal.Decimal {
	slope, _ := l.slope()
	share, _ := l.unit(n, slope)
	return share
}
