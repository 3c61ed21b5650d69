package figures

import (
	"context"
	"errors"
	"sync"
	"sync/atomic"
	"testing"

	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
)

// Many who ask for the same at once wait for one who makes it.
func TestCacheMakesOnceTogether(t *testing.T) {
	c, made := newCache(), atomic.Int32{}
	var all sync.WaitGroup
	for range 16 {
		all.Go(func() {
			for i := range byte(8) {
				e, err := c.get(t.Context(), fingerprint{i}, func() (pricing.Estimate, error) {
					made.Add(1)
					return pricing.Estimate{Warnings: []string{string(rune('a' + i))}}, nil
				})
				if err != nil || e.Warnings[0] != string(rune('a'+i)) {
					t.Errorf("%d: %q %v", i, e.Warnings, err)
				}
			}
		})
	}
	all.Wait()
	if made.Load() != 8 {
		t.Errorf("8 were asked for, %d made", made.Load())
	}
}

// Who waits for somebody who goes away makes it; what cannot be made is tried anew; a panic holds nobody up.
func TestCacheGivesUpTogether(t *testing.T) {
	c, key := newCache(), fingerprint{1}
	ctx, leave := context.WithCancel(t.Context())
	begun, refused := make(chan struct{}), errors.New("refused")
	go func() {
		_, _ = c.get(ctx, key, func() (pricing.Estimate, error) {
			close(begun)
			<-ctx.Done()
			return pricing.Estimate{}, ctx.Err()
		})
	}()
	<-begun
	got := make(chan error, 1)
	go func() {
		_, err := c.get(t.Context(), key, func() (pricing.Estimate, error) { return pricing.Estimate{}, refused })
		got <- err
	}()
	gone, turn := context.WithCancel(t.Context())
	turn()
	if _, err := c.get(gone, key, nil); fault.KindOf(err) != fault.Unavailable {
		t.Errorf("who does not wait is told %v", err)
	}
	leave()
	if err := <-got; !errors.Is(err, refused) {
		t.Errorf("who waited was told %v", err)
	}
	func() {
		defer func() { _ = recover() }()
		_, _ = c.get(t.Context(), key, func() (pricing.Estimate, error) { panic("broken") })
	}()
	if e, err := c.get(t.Context(), key, func() (pricing.Estimate, error) { return pricing.Estimate{Warnings: []string{"x"}}, nil }); err != nil || e.Warnings[0] != "x" {
		t.Errorf("after a panic: %v", err)
	}
}

// However many are asked for, what is kept stays within its bounds, and the one asked for last is among it.
func TestCacheIsBounded(t *testing.T) {
	c := newCache()
	large := pricing.Estimate{Foam: []takeoff.FoamPlan{{Plan: cutplan.Plan{Placements: make([]cutplan.Placement, 5000)}}}}
	for i := range 2 * mostKept {
		e := pricing.Estimate{}
		if i > mostKept+mostKept/2 {
			e = large
		}
		if _, err := c.get(t.Context(), fingerprint{byte(i), byte(i >> 8)}, func() (pricing.Estimate, error) { return e, nil }); err != nil {
			t.Fatal(err)
		}
		if c.asked.Len() > mostKept || c.bytes > mostBytes || len(c.kept) != c.asked.Len() {
			t.Fatalf("%d kept, %d in the list, %d bytes", len(c.kept), c.asked.Len(), c.bytes)
		}
	}
	last := fingerprint{byte((2*mostKept - 1) & 255), byte((2*mostKept - 1) >> 8)}
	if c.kept[last] == nil {
		t.Error("the last one is gone")
	}
	if c.asked.Len() == mostKept {
		t.Error("large ones do not count more")
	}
}
