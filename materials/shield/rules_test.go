package shield_test

import (
	"testing"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
)

func TestCheckRules(t *testing.T) {
	mm := measure.Millimetre
	good := func() shield.Rule {
		return shield.Rule{Code: "salt", Name: "Salt Coast", Edition: "2027", Measured: shield.Flat, Width: 600 * mm, Height: 900 * mm, Circle: 700 * mm, Either: true}
	}
	if err := shield.CheckRules(nil); err != nil {
		t.Error(err)
	}
	if err := shield.CheckRules([]shield.Rule{good()}); err != nil {
		t.Error(err)
	}
	for field, change := range map[string]func(*shield.Rule){
		"0.name": func(r *shield.Rule) { r.Name = "" }, "0.edition": func(r *shield.Rule) { r.Edition = "two\nlines" }, "0.measured": func(r *shield.Rule) { r.Measured = "" },
		"0.width": func(r *shield.Rule) { r.Width = 6000 * mm }, "0.height": func(r *shield.Rule) { r.Height = 0 }, "0.circle": func(r *shield.Rule) { r.Circle = 0 },
		"0.min_face": func(r *shield.Rule) { r.MinFace, r.Side = 500*mm, 400*mm }, "0.thickness": func(r *shield.Rule) { r.Thickness = -mm },
		"0.area": func(r *shield.Rule) { r.Area = decimal.NewFromInt(11) }, "0.weight": func(r *shield.Rule) { r.Weight = decimal.NewFromInt(-1) }, "0.code": func(r *shield.Rule) { r.Code = "" },
	} {
		r := good()
		change(&r)
		if problems := fault.ProblemsOf(shield.CheckRules([]shield.Rule{r})); len(problems) != 1 || problems[0].Field != field {
			t.Errorf("%s: %v", field, problems)
		}
	}
	empty := good()
	empty.Width, empty.Height, empty.Circle, empty.Either = 0, 0, 0, false
	if problems := fault.ProblemsOf(shield.CheckRules([]shield.Rule{empty})); len(problems) != 1 {
		t.Errorf("without a limit: %v", problems)
	}
	twin := good()
	twin.Name = "salt coast"
	if problems := fault.ProblemsOf(shield.CheckRules([]shield.Rule{good(), twin})); len(problems) != 2 || problems[0].Field != "1.code" || problems[1].Field != "1.name" {
		t.Errorf("twice: %v", problems)
	}
}
