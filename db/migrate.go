package db

import (
	"context"
	"errors"
	"log/slog"

	"foamwright/db/migrations"
	"foamwright/materials/fault"

	"github.com/jackc/pgx/v5/stdlib"
	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"
)

// Migrate brings the tables up to this program's version. Several programs may do so at once: one works under
// an advisory lock of the database and the others wait, looking once a second for up to five minutes. It
// refuses with a fault a database that a newer program has already changed.
func (d *DB) Migrate(ctx context.Context) (err error) {
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockTimeout(1, 300))
	if err != nil {
		return err
	}
	plain := stdlib.OpenDBFromPool(d.pool)
	defer func() { err = errors.Join(err, plain.Close()) }()
	provider, err := goose.NewProvider(goose.DialectPostgres, plain, migrations.FS(),
		goose.WithSessionLocker(locker), goose.WithDisableGlobalRegistry(true),
		goose.WithSlog(slog.New(slog.DiscardHandler)))
	if err != nil {
		return err
	}
	if _, err := provider.Up(ctx); err != nil {
		return translate(err)
	}
	current, ours, err := provider.GetVersions(ctx)
	if err != nil {
		return translate(err)
	}
	if current > ours {
		return fault.New(fault.State, "The database was set up by a newer foamwright (its tables are at step %d, "+
			"this program knows %d): start that one, or give another database.", current, ours)
	}
	return nil
}
