package dbtest

import (
	"context"
	"errors"
	"strconv"
	"strings"
	"time"

	"foamwright/db"
	"foamwright/db/migrations"

	"github.com/jackc/pgx/v5"
)

// making is the key of the advisory lock under which one program makes the template.
const making = 0x666f616d // "foam"

// template names the migrated database that tests copy.
func template(ctx context.Context, admin *pgx.Conn, server string) (name string, err error) {
	digest, err := migrations.Digest()
	if err != nil {
		return "", err
	}
	return made(ctx, admin, server, "foamwright_test_template_"+digest[:16], "template0", migrate)
}

// made names a database to copy, and makes it when it is not there: as a copy of another one that is then filled. It
// gets its name only when it is complete, and nobody may connect to it, since PostgreSQL copies no database in use.
func made(ctx context.Context, admin *pgx.Conn, server, name, source string, fill func(ctx context.Context, url string) error) (_ string, err error) {
	if there, err := exists(ctx, admin, name); err != nil || there {
		return name, err
	}
	if _, err := admin.Exec(ctx, `SELECT pg_advisory_lock($1)`, making); err != nil {
		return "", err
	}
	defer func() {
		_, unlock := admin.Exec(ctx, `SELECT pg_advisory_unlock($1)`, making)
		err = errors.Join(err, unlock)
	}()
	if there, err := exists(ctx, admin, name); err != nil || there {
		return name, err
	}
	fresh := name + "_new"
	if err := statements(ctx, admin, `DROP DATABASE IF EXISTS `+fresh, `CREATE DATABASE `+fresh+` TEMPLATE `+source); err != nil {
		return "", err
	}
	if err := fill(ctx, At(server, fresh)); err != nil {
		return "", err
	}
	return name, statements(ctx, admin, `ALTER DATABASE `+fresh+` ALLOW_CONNECTIONS false`, `ALTER DATABASE `+fresh+` RENAME TO `+name)
}

func migrate(ctx context.Context, url string) error {
	d, err := db.Open(ctx, url)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Migrate(ctx)
}

func exists(ctx context.Context, admin *pgx.Conn, name string) (there bool, err error) {
	err = admin.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, name).Scan(&there)
	return there, err
}

// create copies the template file by file, which is quicker for a small database than writing it through the
// log. That is the only way before PostgreSQL 15, which does not know the word.
func create(ctx context.Context, admin *pgx.Conn, name, template string) error {
	strategy := ` STRATEGY FILE_COPY`
	major, _, _ := strings.Cut(admin.PgConn().ParameterStatus("server_version"), ".")
	if version, err := strconv.Atoi(major); err == nil && version < 15 {
		strategy = ""
	}
	return statements(ctx, admin, `CREATE DATABASE `+name+` TEMPLATE `+template+strategy)
}

// drop waits a moment for the connections just closed to end on the server as well: when one is left,
// PostgreSQL looks again only after a tenth of a second.
func drop(ctx context.Context, admin *pgx.Conn, name string) error {
	for range 50 {
		var open bool
		err := admin.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_stat_activity WHERE datname = $1)`, name).Scan(&open)
		if err != nil {
			return err
		}
		if !open {
			break
		}
		time.Sleep(time.Millisecond)
	}
	return statements(ctx, admin, `DROP DATABASE `+name+` WITH (FORCE)`)
}

func statements(ctx context.Context, admin *pgx.Conn, texts ...string) error {
	for _, text := range texts {
		if _, err := admin.Exec(ctx, text); err != nil {
			return err
		}
	}
	return nil
}
