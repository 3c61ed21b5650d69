package sales

import "context"

// ShowTx is what goes on around orders, within one transaction: events, groups, parcels, photos, repairs and what is sold
// from the price list.
type ShowTx interface {
	EventTx
	GroupTx
	ParcelTx
	PhotoTx
	RepairTx
	StandardTx
	// CarryOver gives a new version of a quote the event and the group of the one before.
	CarryOver(ctx context.Context, from, to string) error
}
