package web_test

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/pricing/people"
)

// Designs are compared by what they bring; every row adds up; a helper sees none of it.
func TestFiguresOfDesigns(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	owner.get("/figures").want(http.StatusOK).says("Contribution an hour")
	owner.get("/figures?by=margin").want(http.StatusOK).says("Margin in money")
	file := owner.get("/figures/designs.csv").want(http.StatusOK)
	rows, err := csv.NewReader(strings.NewReader(file.body)).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%v %d rows", err, len(rows))
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	for _, r := range rows[1:] {
		n := func(name string) decimal.Decimal { return decimal.RequireFromString(r[at[name]]) }
		if !n("material").Add(n("labour")).Add(n("other")).Equal(n("cost")) || !n("net").Sub(n("cost")).Equal(n("earned")) {
			t.Errorf("%s does not add up: %v", r[0], r)
		}
		if !n("earned").DivRound(n("net"), 4).Equal(n("margin")) {
			t.Errorf("%s: %s of %s is no margin of %s", r[0], r[at["earned"]], r[at["net"]], r[at["margin"]])
		}
	}
	for _, path := range []string{"/figures", "/figures/designs.csv", "/figures/what-if"} {
		s.as(people.Helper).get(path).want(http.StatusForbidden)
		s.as(people.Bookkeeper).get(path).want(http.StatusOK)
	}
}
