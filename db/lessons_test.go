package db_test

import (
	"testing"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/labour"
	"foamwright/pricing/sales"
	"foamwright/pricing/workshop"
)

// Settings of an older program have the steps that it did not know; what was hidden stays so.
func TestOlderSettingsGrow(t *testing.T) {
	d := shelfOf(t, stock.Average)
	seed, err := labour.Seed()
	if err != nil {
		t.Fatal(err)
	}
	old := append([]labour.Step{}, seed[:10]...)
	old[3].Hidden = true
	err = d.Sales().Act(t.Context(), func(tx sales.Tx) error {
		w, err := tx.Workshop(t.Context(), time.Now())
		if err != nil {
			return err
		}
		w.Figures.Steps = old
		if err := tx.SetWorkshop(t.Context(), w); err != nil {
			return err
		}
		if w, err = tx.Workshop(t.Context(), time.Now()); err != nil {
			return err
		}
		if steps := w.Figures.Steps; len(steps) != len(seed) || !steps[3].Hidden || steps[3].Code != seed[3].Code || w.ShopRate.Hour().String() != workshop.Usual().ShopRate.Hour().String() {
			t.Errorf("%d steps of %d, %+v", len(steps), len(seed), steps[3])
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Settings as they were kept when a step only knew whether the air dries it: glue goes by warmth from now on, as the
// program's own does.
func TestSettingsWithoutWarmthReadWell(t *testing.T) {
	d := shelfOf(t, stock.Average)
	seed, err := labour.Seed()
	if err != nil {
		t.Fatal(err)
	}
	act := func(do func(sales.Tx, workshop.Workshop) error) {
		t.Helper()
		err := d.Sales().Act(t.Context(), func(tx sales.Tx) error {
			w, err := tx.Workshop(t.Context(), time.Now())
			if err != nil {
				return err
			}
			return do(tx, w)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	act(func(tx sales.Tx, w workshop.Workshop) error {
		w.Figures.Steps = seed
		return tx.SetWorkshop(t.Context(), w)
	})
	run(t, d, `UPDATE workshop SET body = regexp_replace(regexp_replace(body::text, '"Sets": ?"air"', '"Dries": true', 'g'), '"Sets": ?"(warmth|itself)"', '"Dries": false', 'g')::json`)
	if !value[bool](t, d, `SELECT body::text LIKE '%"Dries": true%' AND body::text NOT LIKE '%"Sets"%' FROM workshop`) {
		t.Fatal("these are no older settings")
	}
	act(func(_ sales.Tx, w workshop.Workshop) error {
		for i, s := range w.Figures.Steps {
			if s.Code != seed[i].Code || s.Sets != seed[i].Sets {
				t.Errorf("%s goes by %q, want %q", s.Code, s.Sets, seed[i].Sets)
			}
		}
		return nil
	})
}

// A lesson is read back as it was written, the newest first, and stays.
func TestLessonsStay(t *testing.T) {
	d := shelfOf(t, stock.Average)
	times := func(likely string) labour.Times {
		return labour.Times{Unit: labour.Spread{Low: dec("1"), Likely: dec(likely), High: dec("9.5")}}
	}
	at := time.Date(2026, 3, 5, 10, 0, 0, 0, time.UTC)
	err := d.Sales().Act(t.Context(), func(tx sales.Tx) error {
		for _, likely := range []string{"2", "3.25"} {
			if err := tx.AddLesson(t.Context(), labour.Taught{Step: "cut", Was: times("1.6"), Is: times(likely), Jobs: 5, At: at, ByWhom: "wren"}); err != nil {
				return err
			}
		}
		lessons, err := tx.Lessons(t.Context())
		if err != nil {
			return err
		}
		if len(lessons) != 2 || !lessons[0].Is.Equal(times("3.25")) || !lessons[1].Was.Equal(times("1.6")) || !lessons[0].At.Equal(at) || lessons[0].Jobs != 5 {
			t.Errorf("%+v", lessons)
		}
		made, err := tx.Made(t.Context(), 10)
		if n, wrong := tx.MadeJobs(t.Context()); err != nil || wrong != nil || n != 0 || len(made) != 0 {
			t.Errorf("%d, %v, %v, %v", n, made, err, wrong)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
