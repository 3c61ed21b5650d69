package api_test

import (
	"slices"

	"foamwright/api"
	"foamwright/pricing/people"
)

// paying asks what designs cost and bring, what a margin hangs on and what the next one costs.
func (s *shop) paying(design string) {
	s.t.Helper()
	reads := func(path string, into any) { s.as(people.Bookkeeper, "GET", path, "").want(200, into) }
	var all struct {
		Designs []api.DesignFigures `json:"designs"`
	}
	reads("/figures/designs?all=true", &all)
	i := slices.IndexFunc(all.Designs, func(d api.DesignFigures) bool { return d.Design == design })
	if i < 0 || all.Designs[i].Today.Margin == "" || all.Designs[i].Price == "" {
		s.t.Fatalf("%+v", all)
	}
	var one struct {
		Today    api.DesignFigures
		Versions []api.VersionFigures
		Jobs     []api.JobDone
	}
	at := "/figures/designs/" + design
	reads(at+"?from=2026-01-01&to=2026-12-31&page=1", &one)
	if one.Today.Price != all.Designs[i].Price || len(one.Versions) == 0 {
		s.t.Errorf("%+v", one)
	}
	var hangs struct {
		Words  string
		Inputs []api.MarginInput
	}
	reads(at+"/sensitivity", &hangs)
	if len(hangs.Inputs) < 5 || hangs.Words == "" {
		s.t.Errorf("%+v", hangs)
	}
	var batch struct {
		Each    string
		Covered int `json:"covered_from"`
		Batches []api.BatchOf
	}
	reads(at+"/batch?each=1", &batch)
	if batch.Covered != 0 || batch.Each != "1.00" || len(batch.Batches) < 15 {
		s.t.Errorf("%+v", batch)
	}
	for _, path := range []string{"/figures/designs?from=soon", at + "?from=2026-02-01&to=2026-01-01", at + "/batch?each=dear"} {
		s.as(people.Bookkeeper, "GET", path, "").problem(422)
	}
}
