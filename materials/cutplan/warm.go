package cutplan

// warm begins from the plan of an earlier state of the job: what still lies soundly stays, the rest is laid
// where it overlaps least, and all is pulled apart. Sheets that are gone or used up are left out, and those of
// panels are opened anew.
func (s *search) warm() {
	p := s.improver
	if len(s.Start.Sheets) == 0 {
		return
	}
	start := s.Start.of(s.job)
	p.load(start, -1)
	taken := make([]bool, len(p.trays))
	for u := range p.seated {
		on := s.job.Pieces[p.units[u].piece].On
		sheet := p.at[u].sheet
		if sheet < 0 || p.trays[sheet].kind != on.Sheet || taken[sheet] {
			return // a panel is new or gone: the first plan opens its sheet
		}
		taken[sheet] = true
		p.put(u, sheet, p.lies[p.units[u].piece][0], on.At)
	}
	if p.place(p.effort) {
		p.take()
	}
}

// of a job is the plan less what the job no longer has.
func (p Plan) of(job Job) Plan {
	var out Plan
	used, to := make([]int, len(job.Sheets)), make([]int, len(p.Sheets))
	for i, o := range p.Sheets {
		if to[i] = -1; o.Sheet >= 0 && o.Sheet < len(job.Sheets) && (job.Sheets[o.Sheet].Limit == 0 || used[o.Sheet] < job.Sheets[o.Sheet].Limit) {
			to[i] = len(out.Sheets)
			used[o.Sheet]++
			out.Sheets = append(out.Sheets, o)
		}
	}
	for _, a := range p.Placements {
		if a.Piece >= 0 && a.Piece < len(job.Pieces) && a.Sheet >= 0 && a.Sheet < len(to) && to[a.Sheet] >= 0 {
			a.Sheet = to[a.Sheet]
			out.Placements = append(out.Placements, a)
		}
	}
	return out
}
