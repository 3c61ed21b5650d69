package db_test

import (
	"strings"
	"sync"
	"testing"

	"foamwright/db"
	"foamwright/db/dbtest"
	"foamwright/materials/fault"
)

// TestMigrateTogether: four programs start at once on an empty database; all come up, each step ran once.
func TestMigrateTogether(t *testing.T) {
	t.Parallel()
	url := dbtest.URL(t)
	d, err := db.Open(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer d.Close()
	steps := value[int](t, d, `SELECT count(*)::int FROM goose_db_version`)
	run(t, d, `DROP SCHEMA public CASCADE`, `CREATE SCHEMA public`)
	var starters sync.WaitGroup
	for range 4 {
		starters.Go(func() {
			d, err := db.Open(t.Context(), url)
			if err != nil {
				t.Error(err)
				return
			}
			defer d.Close()
			if err := d.Migrate(t.Context()); err != nil {
				t.Error(err)
			}
		})
	}
	starters.Wait()
	if got := value[int](t, d, `SELECT count(*)::int FROM goose_db_version`); got != steps {
		t.Errorf("%d steps recorded, want %d", got, steps)
	}
	if !value[bool](t, d, `SELECT fits(1.25, 2)`) {
		t.Error("no tables")
	}
}

// TestMigrateRefusesNewer: an older program must not write into tables it does not understand.
func TestMigrateRefusesNewer(t *testing.T) {
	t.Parallel()
	d := dbtest.New(t)
	run(t, d, `INSERT INTO goose_db_version (version_id, is_applied) VALUES (99999, true)`)
	err := d.Migrate(t.Context())
	if fault.KindOf(err) != fault.State || !strings.Contains(err.Error(), "newer foamwright") {
		t.Error(err)
	}
}
