package pricing_test

import (
	"context"
	"testing"

	"foamwright/materials/fault"
	"foamwright/pricing"
)

// Watching changes nothing, tells of the whole effort in order, and may end the search.
func TestWatched(t *testing.T) {
	spec, snap := round(), snapshot(t)
	want, err := pricing.Make(t.Context(), spec, snap, pricing.Issue)
	if err != nil {
		t.Fatal(err)
	}
	var told []float64
	got, err := pricing.MakeWatched(t.Context(), spec, snap, pricing.Issue, func(share float64) { told = append(told, share) })
	if err != nil || !got.Price.Gross.Equal(want.Price.Gross) || got.Digest != want.Digest {
		t.Errorf("watched it costs %v, else %v; %v", got.Price.Gross, want.Price.Gross, err)
	}
	last := 0.0
	for _, share := range told {
		if share < last || share > 1 {
			t.Fatalf("told %v", told)
		}
		last = share
	}
	if last < 0.99 {
		t.Errorf("told %v", told)
	}
	ctx, leave := context.WithCancel(t.Context())
	after := 0
	_, err = pricing.MakeWatched(ctx, spec, snap, 20_000_000, func(float64) { leave(); after++ })
	if fault.KindOf(err) != fault.Unavailable || after > 3 {
		t.Errorf("told %d times after it was left, %v", after, err)
	}
}
