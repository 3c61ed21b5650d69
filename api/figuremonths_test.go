package api_test

import (
	"foamwright/api"
	"foamwright/pricing/people"
)

// months asks for the figures of the month that an order's money moved in.
func (s *shop) months(m api.OrderMoney) {
	s.t.Helper()
	reads := func(path string, into any) { s.as(people.Bookkeeper, "GET", path, "").want(200, into) }
	var all struct{ Months []api.MonthFigures }
	reads("/figures/months?from=2026-01&to=2026-03", &all)
	if len(all.Months) != 3 || all.Months[2].Month != "2026-03" || all.Months[2].Orders == 0 {
		s.t.Fatalf("%+v", all)
	}
	var one api.OneMonth
	reads("/figures/months/2026-03", &one)
	if one.Month.Paid != all.Months[2].Paid || len(one.Taxes) != 3 || len(one.Taxes[0].Rates) == 0 || one.Bench.End == "" || len(one.Words) == 0 {
		s.t.Errorf("%+v", one)
	}
	var paid, taxed api.FigureDocuments
	reads("/figures/documents?what=paid&from=2026-03-01&to=2026-03-31", &paid)
	if paid.Sum != one.Month.Paid || paid.Rows != len(paid.Documents) || paid.Unit != m.Currency {
		s.t.Errorf("%+v", paid)
	}
	rate := one.Taxes[0].Rates[0]
	reads("/figures/documents?what=tax&from=2026-03-01&to=2026-03-31&code="+rate.Code+"&percent="+rate.Percent.String(), &taxed)
	if taxed.Sum != rate.Tax || taxed.Rows != rate.Documents {
		s.t.Errorf("%+v of %+v", taxed, rate)
	}
	for _, path := range []string{"/figures/months?from=soon", "/figures/months?from=2026-03&to=2026-01", "/figures/months/2026-13", "/figures/documents?what=all&from=2026-03-01&to=2026-03-31",
		"/figures/documents?what=paid&from=soon&to=2026-03-31", "/figures/documents?what=paid&from=2026-03-01", "/figures/documents?what=tax&from=2026-03-01&to=2026-03-31&percent=some"} {
		s.as(people.Owner, "GET", path, "").problem(422)
	}
}
