package main

import (
	"path/filepath"
	"testing"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// BenchmarkCases is an estimate of each shield of testdata, live effort, as read from its spec: to be under 100 ms.
func BenchmarkCases(b *testing.B) {
	snap, err := demo.Snapshot(thursday())
	if err != nil {
		b.Fatal(err)
	}
	for _, c := range shieldCases(b) {
		b.Run(filepath.Base(c.file), func(b *testing.B) {
			for b.Loop() {
				spec, err := orderform.Read(c.Spec)
				if err == nil {
					_, err = pricing.Make(b.Context(), spec, snap, pricing.Live)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
