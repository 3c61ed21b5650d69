package geom_test

import (
	"fmt"

	"foamwright/materials/geom"
)

// A maker draws the right half of a kite and flips it.
func ExampleMirrorHalf() {
	half, err := geom.ParsePath("M0 0 Q200 0 200 180 L0 640")
	if err != nil {
		panic(err)
	}
	whole, err := geom.MirrorHalf(half)
	if err != nil {
		panic(err)
	}
	fmt.Println(whole.D())
	fmt.Printf("%.0f mm², %.0f mm round", whole.Area(), whole.Length())
	// Output:
	// M0 0Q200 0 200 180L0 640L-200 180Q-200 0 0 0Z
	// 152000 mm², 1620 mm round
}

// What a browser would draw half of is refused with the place.
func ExampleParsePath() {
	_, err := geom.ParsePath("M0 0 L100 0 L50,,80 Z")
	fmt.Println(err)
	// Output: Character 17: a number is missing here: y.
}
