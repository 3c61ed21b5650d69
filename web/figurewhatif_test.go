package web_test

import (
	"net/http"
	"testing"

	"foamwright/pricing/people"
)

// A price that rises is felt and said; what cannot be read is told beside its entry; nothing is changed by looking.
func TestWhatIf(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	before := owner.get("/figures/designs.csv").body
	owner.get("/figures/what-if").want(http.StatusOK).says("Nothing is changed by looking")
	owner.get("/figures/what-if?rate=60&wait=1").want(http.StatusOK).says("when their prices stay")
	owner.get("/figures/what-if?foam=-5&coats=-1&wait=1").want(http.StatusOK).says("Nothing falls below")
	owner.get("/figures/what-if?foam=abc&rate=1e9").want(http.StatusUnprocessableEntity).says("Write a number")
	owner.get("/figures/what-if?foam=100000").want(http.StatusUnprocessableEntity).says("900")
	if owner.get("/figures/designs.csv").body != before {
		t.Error("looking changed a figure")
	}
}
