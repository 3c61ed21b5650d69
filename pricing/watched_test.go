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
	var told []int
	got, err := pricing.MakeWatched(t.Context(), spec, snap, pricing.Issue, func(percent int) { told = append(told, percent) })
	if err != nil || !got.Price.Gross.Equal(want.Price.Gross) || got.Digest() != want.Digest() {
		t.Errorf("watched it costs %v, else %v; %v", got.Price.Gross, want.Price.Gross, err)
	}
	last := 0
	for _, percent := range told {
		if percent < last || percent > 100 {
			t.Fatalf("told %v", told)
		}
		last = percent
	}
	if last < 99 {
		t.Errorf("told %v", told)
	}
	ctx, leave := context.WithCancel(t.Context())
	after := 0
	_, err = pricing.MakeWatched(ctx, spec, snap, 20_000_000, func(int) { leave(); after++ })
	if fault.KindOf(err) != fault.Unavailable || after > 3 {
		t.Errorf("told %d times after it was left, %v", after, err)
	}
}
