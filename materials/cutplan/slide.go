package cutplan

// left and right are the sides of a slab at a height.
func (s *slab) left(y float64) float64  { return s.l0 + (y-s.y0)*s.lk }
func (s *slab) right(y float64) float64 { return s.r0 + (y-s.y0)*s.rk }

// span is an open stretch of x.
type span struct{ lo, hi float64 }

// kept collects where the moving slabs, dy higher than the standing ones, may not be shifted to. Between two
// slabs that share heights the shifts that overlap are one stretch, whose ends are met at an end of those
// heights; so for one dy the answer is exact. Both lists are in order of y0.
func kept(out []span, standing, moving []slab, dy float64) []span {
	first := 0
	for i := range standing {
		a := &standing[i]
		for first < len(moving) && moving[first].y1+dy <= a.y0+eps {
			first++
		}
		for k := first; k < len(moving); k++ {
			b := &moving[k]
			if b.y0+dy >= a.y1-eps {
				break
			}
			y0, y1 := max(a.y0, b.y0+dy), min(a.y1, b.y1+dy)
			if y1-y0 <= eps {
				continue
			}
			s := span{
				min(a.left(y0)-b.right(y0-dy), a.left(y1)-b.right(y1-dy)),
				max(a.right(y0)-b.left(y0-dy), a.right(y1)-b.left(y1-dy)),
			}
			if n := len(out); n > 0 && s.lo < out[n-1].hi && s.hi > out[n-1].lo {
				out[n-1] = span{min(s.lo, out[n-1].lo), max(s.hi, out[n-1].hi)}
			} else {
				out = append(out, s)
			}
		}
	}
	return out
}

// past is the first place at or after x that lies in no span.
func past(spans []span, x float64) float64 {
	for moved := true; moved; {
		moved = false
		for _, s := range spans {
			if x > s.lo+eps && x < s.hi-eps {
				x, moved = s.hi, true
			}
		}
	}
	return x
}
