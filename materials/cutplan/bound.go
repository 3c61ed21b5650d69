package cutplan

import "math"

// bound is what any plan needs at least, by area. Pieces and sheets are measured with half the spacing around
// them, so that no two share any of it.
type bound struct {
	areas  []float64 // by piece
	total  float64   // of all copies
	usable []float64 // by sheet
}

func (k *stock) bound() bound {
	var b bound
	r := k.job.Spacing / 2
	for i, p := range k.job.Pieces {
		a := k.areas[i]
		if p.On == nil {
			root := math.Sqrt(a) + math.Sqrt(math.Pi)*r // Brunn and Minkowski: no outline grows by less than a disc
			a = root * root
		}
		b.areas = append(b.areas, a*(1-1e-9))
		b.total += b.areas[i] * float64(p.Count)
	}
	for i, s := range k.job.Sheets {
		g := k.grounds[i]
		most := (g.box.Width() + 2*r) * (g.box.Height() + 2*r)
		if k.seated == 0 {
			most = (g.inner.Width() + 2*r) * (g.inner.Height() + 2*r)
		}
		if s.shaped() && k.job.Margin >= r {
			most = min(most, g.area)
		}
		b.usable = append(b.usable, most)
	}
	return b
}
