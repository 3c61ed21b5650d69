package materials

import "github.com/shopspring/decimal"

// Wet is how thick so many l/m² lie before they dry, in µm: a litre on a square metre is a millimetre.
func (l Liquid) Wet(spread decimal.Decimal) decimal.Decimal { return spread.Shift(3) }

// Dry is what stays of it, in µm.
func (l Liquid) Dry(spread decimal.Decimal) decimal.Decimal { return l.Wet(spread).Mul(l.Solids) }
