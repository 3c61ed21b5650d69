package figures

import "context"

// Tx reads what figures are made of as it stands at one moment: sums over many orders are made where the rows lie.
type Tx interface {
	JobsTx
	OutcomeTx
	MonthsTx
}

// Store runs a look as one read-only snapshot: two figures of one look never disagree because of what others did in
// between.
type Store interface {
	Look(ctx context.Context, look func(Tx) error) error
}
