package drawing

import (
	"math"
	"strconv"
	"strings"

	"foamwright/materials/geom"
)

// chain writes places relative to each other, rounded so that no rounding adds up.
func (w *svg) chain(points []geom.Point, closed bool) {
	scale := math.Pow(10, float64(w.places))
	var x, y int
	command := ""
	for i, p := range thinned(points, w.close, closed) {
		px, py := int(math.Round(p.X*scale)), int(math.Round(p.Y*scale))
		across, down := w.num(float64(px-x)/scale), w.num(float64(py-y)/scale)
		next, numbers := "l", []string{across, down}
		switch {
		case i == 0:
			next = "M"
		case px == x && py == y:
			continue
		case px == x:
			next, numbers = "v", numbers[1:]
		case py == y:
			next, numbers = "h", numbers[:1]
		}
		for k, n := range numbers {
			switch {
			case k == 0 && next != command:
				w.put(next)
			case n[0] != '-':
				w.put(" ")
			}
			w.put(n)
		}
		x, y, command = px, py, next
	}
	if closed {
		w.put("z")
	}
}

func (w *svg) num(v float64) string { return trimmed(v, w.places) }

func trimmed(v float64, places int) string {
	s := strconv.FormatFloat(v, 'f', places, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	switch {
	case s == "-0":
		return "0"
	case strings.HasPrefix(s, "0."):
		return s[1:]
	case strings.HasPrefix(s, "-0."):
		return "-" + s[2:]
	}
	return s
}
