package artwork_test

import (
	"fmt"

	"foamwright/materials/artwork"
)

func ExampleRead() {
	file := `<svg xmlns="http://www.w3.org/2000/svg" width="60cm" height="90cm" viewBox="0 0 60 90">
  <ellipse id="outline" cx="30" cy="45" rx="28" ry="44"/>
  <g id="pieces" fill="white"><path id="star" d="M30 30l4 10h-8z"/></g>
</svg>`
	d, err := artwork.Read([]byte(file), artwork.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range d.Shapes {
		fmt.Printf("line %d: %s %q %s, %.0f mm²\n", s.Line, s.Role, s.Name, s.Fill, s.Path.Area())
	}
	// Output:
	// line 2: outline "" #000000, 387044 mm²
	// line 3: piece "star" #ffffff, 4000 mm²
}
