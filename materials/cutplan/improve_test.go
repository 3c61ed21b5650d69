package cutplan

import (
	"context"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// Depths and slide, which share no code but the slabs, agree on what overlaps; and a piece moved out by the
// depth of two convex ones is clear.
func TestDepthAgreesWithSlide(t *testing.T) {
	checks(t, 200, 10_000)
	rapid.Check(t, func(t *rapid.T) {
		a, b := exact(drawShape(t, 300), 0), exact(drawShape(t, 300), 1)
		x, y := rapid.Float64Range(-500, 500).Draw(t, "x"), rapid.Float64Range(-500, 500).Draw(t, "y")
		sa, sb := newSolid(0, a.swollen, a.solid()), newSolid(1, b.swollen, b.solid())
		both := newPair(sa, sb)
		kept, _ := both.depth(x, y)
		both.fits = nil
		fresh, _ := both.depth(x, y)
		if d := kept - fresh; d > 1e-6 || d < -1e-6 {
			t.Fatalf("remembered depth %v, found afresh %v", kept, fresh)
		}
		if blocked := past(kept1(a, b, y), x) > x+1e-3; kept == 0 && blocked || kept > 1e-3*float64(len(sa.parts)*len(sb.parts)) && past(kept1(a, b, y), x) == x {
			t.Fatalf("depth %v, blocked %v", kept, blocked)
		}
	})
}

func kept1(a, b *form, dy float64) []span { return kept(nil, a.solid(), b.solid(), dy) }

// No plan costs less than the bound by area, so an aim beyond it is never taken.
func TestBoundHolds(t *testing.T) {
	checks(t, 100, 3_000)
	rapid.Check(t, func(t *rapid.T) {
		job := drawJob(t)
		plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 2000})
		if err != nil {
			t.Fatal(err)
		}
		d := &decoder{job: job, like: job.alike(), upright: job.grounds(false)}
		d.bodies = job.bodies(d.like)
		for _, p := range job.Pieces {
			d.areas = append(d.areas, net(p.Shape))
		}
		needs := newStock(job, d.bodies, d.like, d.upright, d.field(false), d.areas).bound()
		has := 0.0
		for _, o := range plan.Sheets {
			has += needs.usable[o.Sheet]
		}
		if has < needs.total {
			t.Fatalf("the sheets hold %v mm², the bound asks %v", has, needs.total)
		}
	})
}

// Progress tells of every better plan in turn, each of them sound, the last the one that is returned.
func TestProgress(t *testing.T) {
	job := foamJob(t, "foam1_buckler")
	var told []Progress
	plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 200_000, Progress: func(p Progress) { told = append(told, p) }})
	if err != nil || len(told) < 2 {
		t.Fatalf("told %d times, %v", len(told), err)
	}
	for i, p := range told {
		if err := Verify(job, p.Plan); err != nil {
			t.Error(err)
		}
		if i > 0 && !p.Score.Better(told[i-1].Score) {
			t.Errorf("%+v follows %+v", p.Score, told[i-1].Score)
		}
	}
	if !reflect.DeepEqual(told[len(told)-1].Plan.Placements, plan.Placements) {
		t.Error("the last plan told of is not the one returned")
	}
}

// The cap ends the search without an error.
func TestCap(t *testing.T) {
	job := binJob(t, "TA001")
	plan, err := New().Plan(context.Background(), job, Budget{Evaluations: 1 << 40, Cap: 50 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	if err := Verify(job, plan); err != nil {
		t.Error(err)
	}
}

// Two equal offcuts are two sheets, each used as often as there are of it.
func TestEqualOffcuts(t *testing.T) {
	offcut := Sheet{Label: "offcut", Width: 300, Height: 200, Limit: 1, Offcut: true}
	job := Job{Sheets: append(mat(550, 550), offcut, offcut), Pieces: piece(rectangle(290, 190), 3)}
	if plan := lay(t, job, 20_000); len(plan.Sheets) != 3 || job.Score(plan).Cost != 1000*1_000_000 {
		t.Errorf("sheets %+v", plan.Sheets)
	}
}

// The foam jobs reach what an academic solver leaves of the last mat outside the box of what lies on it
// (testdata/nesting/README.md): 153 240 and 102 500 mm².
func TestFoamRemnants(t *testing.T) {
	for name, least := range map[string]float64{"foam1_buckler": 153_240, "foam2_heater": 102_500} {
		job := foamJob(t, name)
		job.CreditShare = 0
		if got := job.Score(lay(t, job, 300_000)).Around; got < least-0.01 {
			t.Errorf("%s leaves %v mm², want %v", name, got, least)
		}
	}
}

// On a roll the length used counts.
func TestRoll(t *testing.T) {
	job := stripJob(t, "fu")
	if got := density(job, lay(t, job, 400_000)); got < 86 {
		t.Errorf("fu is laid to %.2f %%", got)
	}
}
