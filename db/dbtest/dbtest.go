// Package dbtest gives each test a migrated PostgreSQL database of its own, in some tens of milliseconds.
//
// The server is the one at DATABASE_URL, whose role must be allowed to create databases, else a throw-away
// one in memory or the temporary folder that all test packages of this account share (see localpg.Shared): it
// outlives the test programs, so that set-up is paid once, and stops 20 s after the last of them.
//
// Each database is a copy of a template that is named after the digest of the migrations, made once by
// whoever comes first. Limits: on a server of DATABASE_URL templates of older migrations, what was filled for one
// run, and databases of tests that were killed, stay until somebody drops them (their names begin with
// foamwright_test_).
package dbtest

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"foamwright/db"
	"foamwright/db/localpg"

	"github.com/jackc/pgx/v5"
)

// patience bounds the first start of the server; afterwards all takes milliseconds.
const patience = time.Minute

// run tells what this program has filled from what others have.
var run = strings.ToLower(rand.Text()[:12])

// New opens a database of the test's own, with all tables and no rows, and drops it when the test ends. It
// fails the test when there is no PostgreSQL, with a sentence that names the package to install.
func New(t testing.TB) *db.DB {
	t.Helper()
	d, err := db.Open(t.Context(), URL(t))
	fatal(t, err)
	// Cleanups run last one first: this one before the database is dropped.
	t.Cleanup(d.Close)
	return d
}

// URL is New for a test that opens the database itself, such as one that starts the whole program.
func URL(t testing.TB) string {
	t.Helper()
	return copied(t, template)
}

// Filled is URL of a database that is not empty: the first test of this program that asks for the name has it filled,
// every one gets a copy of its own. fill must have let go of the database when it is done.
func Filled(t testing.TB, name string, fill func(ctx context.Context, url string) error) string {
	t.Helper()
	return copied(t, func(ctx context.Context, admin *pgx.Conn, server string) (string, error) {
		source, err := template(ctx, admin, server)
		if err != nil {
			return "", err
		}
		return made(ctx, admin, server, "foamwright_test_"+name+"_"+run, source, fill)
	})
}

func copied(t testing.TB, from func(ctx context.Context, admin *pgx.Conn, server string) (string, error)) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	server, leave, err := server(ctx)
	fatal(t, err)
	admin, err := pgx.Connect(ctx, server)
	fatal(t, err)
	source, err := from(ctx, admin, server)
	fatal(t, err)
	name := "foamwright_test_" + strings.ToLower(rand.Text())
	fatal(t, create(ctx, admin, name, source))
	t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), patience)
		defer cancel()
		if err := errors.Join(drop(ctx, admin, name), admin.Close(ctx), leave()); err != nil {
			t.Error(err)
		}
	})
	return At(server, name)
}

// fatal ends the test with the sentence and, unlike what a person at the screen is shown, its cause.
func fatal(t testing.TB, err error) {
	t.Helper()
	if cause := errors.Unwrap(err); cause != nil {
		t.Fatalf("%v (%v)", err, cause)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// server is the address of the server to use, and how to let go of it.
func server(ctx context.Context) (string, func() error, error) {
	if given := os.Getenv("DATABASE_URL"); given != "" {
		return given, func() error { return nil }, nil
	}
	return localpg.Shared(ctx, filepath.Join(localpg.Scratch(), fmt.Sprintf("foamwright-test-%d", os.Getuid())))
}

// At is the address server with another database in it, in either of the two forms the driver reads.
func At(server, database string) string {
	if address, err := url.Parse(server); err == nil && address.Scheme != "" {
		address.Path = "/" + database
		return address.String()
	}
	return server + " dbname=" + database
}
