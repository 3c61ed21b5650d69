package geom

// Nonzero is the path as SVG's nonzero rule fills it, drawn so that the even-odd rule, which everything here
// goes by, fills the same: closed subpaths that border nothing, since they run the same way as what is around
// them, are left out. Open ones stay. Subpaths must not cross themselves or each other, see Check.
func (p Path) Nonzero() Path {
	_, parent := nest(p.rings(Fine))
	var kept Path
	for i, s := range p {
		outside := 0
		for j := parent[i]; j >= 0; j = parent[j] {
			outside += sign(p[j].area())
		}
		from, to := s.Ends()
		if inside := outside + sign(s.area()); !s.Closed && from.distance(to) > snap || (inside == 0) != (outside == 0) {
			kept = append(kept, s)
		}
	}
	return kept
}
