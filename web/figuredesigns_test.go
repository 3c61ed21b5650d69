package web_test

import (
	"encoding/csv"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/pricing/labour"
	"foamwright/pricing/people"
	"foamwright/pricing/sales"
)

// table is a file of figures: a decimal by row and name of the column.
type table struct {
	t    *testing.T
	rows []map[string]string
}

func tableOf(t *testing.T, a reply) table {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(a.want(http.StatusOK).body)).ReadAll()
	if err != nil || len(rows) == 0 {
		t.Fatalf("%v, %d rows", err, len(rows))
	}
	f := table{t: t}
	for _, r := range rows[1:] {
		row := map[string]string{}
		for i, name := range rows[0] {
			row[name] = r[i]
		}
		f.rows = append(f.rows, row)
	}
	return f
}

func (f table) n(row int, name string) decimal.Decimal {
	f.t.Helper()
	d, err := decimal.NewFromString(f.rows[row][name])
	if err != nil {
		f.t.Fatalf("%s of row %d: %v in %v", name, row, err, f.rows[row])
	}
	return d
}

// jobDone quotes the design, takes the order, logs so many minutes and so many of rework, and finishes it.
func (s *shop) jobDone(d sales.Design, minutes, rework string) sales.Order {
	s.t.Helper()
	ctx := s.t.Context()
	customers, err := s.sales.Customers(ctx, sales.Found{})
	s.must(err)
	q, err := s.sales.NewQuoteOf(ctx, customers[0].ID, d.Name, d)
	s.must(err)
	e, err := s.sales.Estimate(ctx, customers[0].ID, d.Form)
	s.must(err)
	_, err = s.sales.Issue(ctx, q.ID, sales.Shown{Digest: e.Digest(), Gross: e.Price.Gross.String()}, "The owner")
	s.must(err)
	taken, err := s.sales.Accept(ctx, q.ID, sales.Choice{}, "Hedda")
	s.must(err)
	_, err = s.sales.DepositCame(ctx, taken.Order.ID, time.Now().AddDate(0, 0, -1), sales.OtherWay, "")
	s.must(err)
	for why, m := range map[string]string{"": minutes, "the glue had skinned over": rework} {
		_, err := s.sales.LogTime(ctx, labour.Log{Order: taken.Order.ID, Step: "cut", Minutes: dec(m), Day: time.Now(), By: "wren", Rework: why})
		s.must(err)
	}
	done, err := s.sales.Finish(ctx, taken.Order.ID, nil, "wren")
	s.must(err)
	return done.Order
}

// Designs are compared by what they bring, every row adds up; a job that was done stands beside its plan on every page
// and opens to its order; a helper sees none of it.
func TestFiguresOfDesigns(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	designs, err := s.sales.Designs(t.Context())
	s.must(err)
	buckler := designs[slices.IndexFunc(designs, func(d sales.Design) bool { return d.Name == "Ferry buckler" })]
	order := s.jobDone(buckler, "390", "45.5")
	changed := buckler
	changed.Form, err = buckler.Form.With(map[string]string{"outline.diameter": "42 cm"})
	s.must(err)
	_, err = s.sales.KeepDesign(t.Context(), changed)
	s.must(err)

	at := "/figures/designs/" + buckler.ID
	owner.get("/figures").want(http.StatusOK).says("Contribution an hour", "Quoted and done", "0.8 rework")
	owner.get("/figures?by=margin&span=all").want(http.StatusOK).says("Margin in money", "of all time")
	file := tableOf(t, owner.get("/figures/designs.csv"))
	for i, r := range file.rows {
		n := func(name string) decimal.Decimal { return file.n(i, name) }
		if !n("material").Add(n("labour")).Add(n("other")).Equal(n("cost")) || !n("net").Sub(n("fee")).Sub(n("cost")).Equal(n("earned")) {
			t.Errorf("%s does not add up: %v", r["design"], r)
		}
		if !n("earned").DivRound(n("net"), 4).Equal(n("margin")) {
			t.Errorf("%s: %s of %s is no margin of %s", r["design"], r["earned"], r["net"], r["margin"])
		}
		if want := map[bool]string{true: "1", false: "0"}[r["design"] == "Ferry buckler"]; r["jobs"] != want || r["quotes"] != want {
			t.Errorf("%s: %s jobs, %s quotes", r["design"], r["jobs"], r["quotes"])
		}
	}
	jobs := tableOf(t, owner.get(at+"/jobs.csv"))
	if len(jobs.rows) != 1 || jobs.rows[0]["order"] != order.Number.String() || jobs.rows[0]["took_hours"] != "7.26" || jobs.rows[0]["rework_hours"] != "0.76" || jobs.rows[0]["version"] != "1" {
		t.Errorf("%v", jobs.rows)
	}
	owner.get(at).want(http.StatusOK).says("The margin hangs most on the shop rate", "2, since", "diameter: ", "/orders/"+order.ID, "0.76 rework", "accepted")
	if v := tableOf(t, owner.get(at+"/versions.csv")); len(v.rows) != 2 || v.rows[0]["jobs"] != "0" || v.rows[1]["jobs"] != "1" || v.rows[1]["took_hours"] != "7.26" {
		t.Errorf("%v", v.rows)
	}
	if q := tableOf(t, owner.get(at+"/quotes.csv")); len(q.rows) != 1 || q.rows[0]["standing"] != "accepted" {
		t.Errorf("%v", q.rows)
	}
	if in := tableOf(t, owner.get(at+"/sensitivity.csv")); len(in.rows) < 10 || in.rows[2]["ten_percent_more_of"] != "Shop rate" {
		t.Errorf("%v", in.rows)
	}
	owner.get(at+"?from=2001-01-01&to=2001-12-31").want(http.StatusOK).says("No job of it was done in these days", "Nothing was quoted")
	both := url.Values{"design": {designs[1].ID, buckler.ID, buckler.ID, "nothing"}}.Encode()
	owner.get("/figures/compare?"+both).want(http.StatusOK).says("Contribution a drying day", "best", "Hours, took")
	owner.get("/figures/compare").want(http.StatusOK).says("Nothing is ticked")
	if two := tableOf(t, owner.get("/figures/designs.csv?"+both)); len(two.rows) != 2 {
		t.Errorf("%v", two.rows)
	}

	for _, path := range []string{"/figures?from=soon", "/figures/compare?from=2026-02-30", at + "?from=2026-05-02&to=2026-05-01", at + "/batch?each=dear", at + "/batch?each=-1"} {
		owner.get(path).want(http.StatusUnprocessableEntity)
	}
	owner.get("/figures?from=soon").says(`value="soon"`, "Write a day")
	owner.get("/figures/designs.csv?from=soon").want(http.StatusUnprocessableEntity)
	owner.get("/figures/designs/" + order.ID).want(http.StatusNotFound)
	for _, path := range []string{"/figures", "/figures/designs.csv", "/figures/what-if", "/figures/compare", at, at + "/jobs.csv", at + "/batch"} {
		s.as(people.Helper).get(path).want(http.StatusForbidden)
		s.as(people.Bookkeeper).get(path).want(http.StatusOK)
	}
	s.byNumber(t, owner, changed)
}

// byNumber: prices by number are those of whole estimates made another way; what the next ones cost sums to the cost of
// the last; the price that is asked about decides which order pays.
func (s *shop) byNumber(t *testing.T, owner *visitor, d sales.Design) {
	t.Helper()
	at := "/figures/designs/" + d.ID + "/batch"
	file := tableOf(t, owner.get(at+".csv?each=10"))
	sum, before, byNumber := decimal.Zero, decimal.Zero, map[int64]int{}
	for i := range file.rows {
		n := file.n(i, "pieces")
		if n.Sub(before).Equal(decimal.New(1, 0)) {
			sum = sum.Add(file.n(i, "next_costs"))
			if !sum.Equal(file.n(i, "cost")) {
				t.Errorf("the first %s cost %s together, the order %s", n, sum, file.rows[i]["cost"])
			}
			before = n
		}
		byNumber[n.IntPart()] = i
	}
	breaks, err := s.sales.Breaks(t.Context(), "", d.Form)
	s.must(err)
	for _, b := range breaks {
		if i, ok := byNumber[int64(b.Quantity)]; b.Estimate != nil && (!ok || !file.n(i, "price").Equal(b.Estimate.Price.Gross.Decimal())) {
			t.Errorf("%d pieces: %v, estimated %s", b.Quantity, file.rows[i], b.Estimate.Price.Gross)
		}
	}
	owner.get(at+"?each=10").want(http.StatusOK).says("At 10.00 EUR each no order up to", "are set-up that an order has once")
	owner.get(at).want(http.StatusOK).says("an order of one covers its cost and keeps the 20.0 % that are aimed at")
	s.must(s.sales.SetStandard(t.Context(), d.ID, time.Now(), dec("275"), "The owner"))
	owner.get(at).want(http.StatusOK).says("At 275.00 EUR each the smallest order that covers its cost is")
}
