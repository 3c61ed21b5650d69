package localpg

import (
	"context"
	"crypto/sha256"
	"fmt"
	"log/slog"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"
)

// longest is what fits in a Unix socket's address: 108 bytes on Linux (see unix(7)), with a closing zero.
const longest = 107

// cluster is one PostgreSQL cluster and where its parts lie.
type cluster struct {
	dir     string // as given, absolute
	home    string // closed to all but the account
	data    string
	sockets string
	log     string
	bin     string
	account account
}

// place tells where everything of a data folder lies and whose it is; it makes nothing.
func place(dir string) (cluster, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return cluster{}, cannot("The folder %s cannot be found.", dir).Because(err)
	}
	c := cluster{dir: dir, home: filepath.Join(dir, "postgres"), log: filepath.Join(dir, "postgres.log")}
	c.data, c.sockets = filepath.Join(c.home, "data"), filepath.Join(c.home, "socket")
	// Too long a path: the socket gets a closed folder of its own, named after the data, in a shorter one.
	elsewhere := fmt.Sprintf("foamwright-%.6x", sha256.Sum256([]byte(c.home)))
	for _, short := range []string{os.TempDir(), "/tmp"} {
		if len(c.socket()) > longest {
			c.sockets = filepath.Join(short, elsewhere)
			slog.Info("the path of the data folder is too long for a socket, which lies elsewhere", "folder", c.sockets)
		}
	}
	c.account, err = accountFor(c.home)
	return c, err
}

// prepare finds the programs and makes the folders, open and closed as they have to be; it starts nothing.
func (c *cluster) prepare() (err error) {
	major, _ := os.ReadFile(filepath.Join(c.data, "PG_VERSION")) // not there before the first start
	if c.bin, err = programs(strings.TrimSpace(string(major))); err != nil {
		return err
	}
	if err := c.account.open(c.dir); err != nil {
		return err
	}
	for _, folder := range []string{c.dir, c.bin, filepath.Dir(c.sockets)} {
		// The closed folder is the account's own once it is there.
		if folder != c.home {
			if err := c.account.reach(folder); err != nil {
				return err
			}
		}
	}
	if err := c.account.closed(c.home); err != nil {
		return err
	}
	return c.account.closed(c.sockets)
}

// socket is the file PostgreSQL listens on.
func (c cluster) socket() string { return filepath.Join(c.sockets, ".s.PGSQL."+port) }

// made tells whether the cluster is complete: it gets its name only then.
func (c cluster) made() bool {
	_, err := os.Stat(c.data)
	return err == nil
}

// environment leaves out what would steer PostgreSQL from outside (PGPORT, PGDATA, PGOPTIONS); its messages
// are in English because summary reads them.
func environment() []string { return []string{"PATH=/usr/bin:/bin", "LC_ALL=C", "TZ=UTC"} }

// command is the server, writing to log, with the settings given after our own.
func (c cluster) command(log *os.File, settings []string) *exec.Cmd {
	settings = append([]string{"listen_addresses=", "port=" + port, "unix_socket_directories=" + c.sockets,
		"unix_socket_permissions=0700", "logging_collector=off", "log_destination=stderr", "lc_messages=C",
		"timezone=UTC", "log_timezone=UTC", "log_checkpoints=off", "jit=off"}, settings...)
	args := []string{"-D", c.data}
	for _, setting := range settings {
		args = append(args, "-c", setting)
	}
	server := exec.Command(filepath.Join(c.bin, "postgres"), args...)
	server.Dir, server.Env, server.SysProcAttr = c.home, environment(), c.account.attr()
	server.Stdout, server.Stderr = log, log
	return server
}

// await returns when the server answers and has the workshop's database.
func (c cluster) await(ctx context.Context, died <-chan struct{}) error {
	var last error
	for {
		if last = c.answers(ctx); last == nil {
			return nil
		}
		select {
		case <-died:
			said, _ := os.ReadFile(c.log) // its absence is said by the summary
			return cannot("PostgreSQL stopped while starting: %s (more in %s)", summary(said), c.log).Because(last)
		case <-ctx.Done():
			return cannot("PostgreSQL did not answer in time; its log is %s.", c.log).Because(last)
		case <-time.After(10 * time.Millisecond):
		}
	}
}

// answers makes a real connection, and the workshop's database when it is not there.
func (c cluster) answers(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, c.url(maintain))
	if err != nil {
		return err
	}
	defer conn.Close(ctx)
	var there bool
	err = conn.QueryRow(ctx, `SELECT EXISTS (SELECT FROM pg_database WHERE datname = $1)`, owner).Scan(&there)
	if err == nil && !there {
		_, err = conn.Exec(ctx, `CREATE DATABASE `+owner)
	}
	return err
}
