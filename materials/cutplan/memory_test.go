package cutplan

import (
	"context"
	"testing"

	"foamwright/materials/geom"
)

// What is remembered stays bounded, and forgetting changes no answer.
func TestForgetting(t *testing.T) {
	job := shieldJob(20)
	like := job.alike()
	bodies, grounds := job.bodies(like), job.grounds(false)
	f := job.field(bodies, like, grounds, false)
	areas := make([]float64, len(job.Pieces))
	k := newStock(job, bodies, like, grounds, f, areas)
	a, b := k.lies[0][0].solid, k.lies[1][0].solid
	was, looks := k.pair(a, b).depth(3, 5)
	k.held = mostHeld
	k.pair(b, a)
	if k.pairs[a.id] != nil || k.held > mostHeld/2 {
		t.Errorf("full, it holds %d bytes and still the first pair", k.held)
	}
	if now, again := k.pair(a, b).depth(3, 5); now != was || again != looks || was == 0 {
		t.Errorf("depth %v became %v", was, now)
	}

	s := slider{field: f}
	standing := &item{form: f.forms[2][0]}
	to := s.clear(standing, f.forms[0][0], 0, 10)
	f.held = mostMet
	s.clear(standing, f.forms[0][0], 0, 20)
	if len(f.spans) != 1 || f.held > mostMet/2 {
		t.Errorf("full, it holds %d bytes, %d pairings", f.held, len(f.spans))
	}
	if again := s.clear(standing, f.forms[0][0], 0, 10); again != to || to == 0 {
		t.Errorf("cleared at %v became %v", to, again)
	}
}

// Pieces that are cut and may lie alike share what is found out about one of them; a plan tells them apart.
func TestAlike(t *testing.T) {
	p := Piece{Label: "a", Shape: rectangle(80, 50), Count: 1}
	over, grain, hole, seat := p, p, p, p
	over.Mirror, grain.Turns, seat.On = true, []float64{0}, &Seat{}
	hole.Shape.Holes = []geom.Ring{Pose{At: geom.Point{X: 40, Y: 25}}.ring(oval(20, 20, 12))}
	again := p
	again.Label, again.Count = "b", 3
	job := Job{Sheets: mat(300, 300), Pieces: []Piece{p, over, grain, hole, seat, again, grain, seat}}
	for i, want := range []int{0, 1, 2, 3, 4, 0, 2, 7} {
		if got := job.alike()[i]; got != want {
			t.Errorf("piece %d is like %d, want %d", i, got, want)
		}
	}
	lay(t, job, 3000)
}

// live is the budget of an estimate while someone types: about 10 ms for twenty pieces, eight of them outlines of 150
// corners, on one core of a small server.
const live = 20_000

// Spent tells of the budget in order, often enough to be watched, to the end of it.
func TestSpent(t *testing.T) {
	for name, n := range map[string]int{"first plan only": 1, "live": live, "long": 400_000} {
		var told []int
		if _, err := New().Plan(context.Background(), foamJob(t, "foam2_heater"), Budget{Evaluations: n, Spent: func(e int) { told = append(told, e) }}); err != nil {
			t.Fatal(err)
		}
		if len(told) == 0 || len(told) > 100 || told[len(told)-1] < n*95/100 {
			t.Fatalf("%s: told %v", name, told)
		}
		for i, e := range told {
			if e > n || i > 0 && e <= told[i-1] {
				t.Fatalf("%s: told %v", name, told)
			}
		}
	}
}
