package geom

import "slices"

// Hull is the smallest convex ring around places, running as outer rings do, without places on its straight
// sides. Fewer than three places, or places on one line, give the ends only.
func Hull(pts []Point) Ring {
	p := slices.Clone(pts)
	slices.SortFunc(p, func(a, b Point) int {
		switch {
		case a.before(b):
			return -1
		case b.before(a):
			return 1
		}
		return 0
	})
	p = slices.Compact(p)
	if len(p) < 3 {
		return p
	}
	half := func() Ring {
		var h Ring
		for _, q := range p {
			for len(h) > 1 && orient(h[len(h)-2], h[len(h)-1], q) <= 0 {
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		return h[:len(h)-1]
	}
	first := half()
	slices.Reverse(p)
	return append(first, half()...)
}
