package takeoff_test

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/shopspring/decimal"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/cutplan"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
)

var budget = cutplan.Budget{Evaluations: 15_000, Seed: 7}

// heater is the mat that the demo's heater is cut from: three layers, locked, of two panels each.
func heater(t *testing.T) (takeoff.FoamPlan, int) {
	t.Helper()
	snap, err := demo.Snapshot(time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile("../../cmd/foamwright/demo/designs/tidewall-heater.json")
	if err != nil {
		t.Fatal(err)
	}
	spec, err := orderform.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		t.Fatal(err)
	}
	foams, err := takeoff.Foams(s, snap.Catalogue, snap.Usage, snap.Rates.OffcutShare)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(foams, func(f takeoff.FoamPlan) bool { return f.Foam.Code == "mat-10" })
	return foams[i], spec.Quantity
}

func offcut(label string, worth string, corners ...geom.Point) takeoff.Offcut {
	return takeoff.Offcut{Label: label, Shape: geom.Shape{Outer: corners}, Worth: decimal.RequireFromString(worth)}
}

// What is small goes on offcuts, an L among them, and one mat fewer is opened; the plan stands up to the verifier,
// and the same shelf gives the same plan.
func TestOffcutsComeFirst(t *testing.T) {
	f, n := heater(t)
	without, from, err := f.FromShelf(t.Context(), n, takeoff.Supply{Sheets: 20}, cutplan.New(), budget)
	if err != nil || !slices.Equal(from, []int{-1}) {
		t.Fatal(from, err)
	}
	have := takeoff.Supply{Sheets: without.Sheets - 1, Offcuts: []takeoff.Offcut{
		offcut("sliver", "0.01", geom.Point{}, geom.Point{X: 600}, geom.Point{X: 600, Y: 41}, geom.Point{Y: 41}),
		offcut("L", "0.3", geom.Point{}, geom.Point{X: 550}, geom.Point{X: 550, Y: 300}, geom.Point{X: 300, Y: 300}, geom.Point{X: 300, Y: 500}, geom.Point{Y: 500}),
	}}
	with, from, err := f.FromShelf(t.Context(), n, have, cutplan.New(), budget)
	if err != nil {
		t.Fatal(err)
	}
	if with.Sheets != without.Sheets-1 || !slices.Equal(from, []int{-1, 0, 1}) {
		t.Errorf("%d whole mats with an offcut, %d without; sheets are %v of the shelf", with.Sheets, without.Sheets, from)
	}
	if err := cutplan.Verify(with.Job, with.Plan); err != nil {
		t.Error(err)
	}
	if with.Job.Sheets[0].Limit != have.Sheets {
		t.Errorf("the job says there are %d mats", with.Job.Sheets[0].Limit)
	}
	again, _, err := f.FromShelf(t.Context(), n, have, cutplan.New(), budget)
	if err != nil || !reflect.DeepEqual(again, with) {
		t.Error("the same shelf gives another plan", err)
	}
}

// Where the shelf has too little, what is missing is said in whole sheets; and nothing whole is needed where offcuts
// do.
func TestMissingSheetsAreCounted(t *testing.T) {
	f, n := heater(t)
	all, _, err := f.FromShelf(t.Context(), n, takeoff.Supply{Sheets: 20}, cutplan.New(), budget)
	if err != nil {
		t.Fatal(err)
	}
	for have, words := range []string{"no whole sheet", "1 whole sheet", "2 whole sheets"} {
		_, _, err := f.FromShelf(t.Context(), n, takeoff.Supply{Sheets: have}, cutplan.New(), budget)
		want := "Missing: " + decimal.NewFromInt(int64(all.Sheets-have)).String()
		if fault.KindOf(err) != fault.Shortage || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), words+" ") {
			t.Errorf("%d of %d mats: %v", have, all.Sheets, err)
		}
	}
	f.Job.Pieces = f.Job.Pieces[len(f.Job.Pieces)-1:]
	f.Job.Pieces[0].On = nil
	box := f.Job.Pieces[0].Shape.Outer.Bounds()
	w, h := box.Width()+20, box.Height()+20
	piece, from, err := f.FromShelf(t.Context(), n, takeoff.Supply{Offcuts: []takeoff.Offcut{
		offcut("a", "0.1", geom.Point{}, geom.Point{X: w}, geom.Point{X: w, Y: h}, geom.Point{Y: h}), offcut("b", "0.1", geom.Point{}, geom.Point{X: w}, geom.Point{X: w, Y: h}, geom.Point{Y: h}),
	}}, cutplan.New(), budget)
	if err != nil {
		t.Fatal(err)
	}
	if piece.Sheets != 0 || len(from) != 3 || cutplan.Verify(piece.Job, piece.Plan) != nil {
		t.Errorf("%d whole sheets, from %v: %v", piece.Sheets, from, cutplan.Verify(piece.Job, piece.Plan))
	}
}
