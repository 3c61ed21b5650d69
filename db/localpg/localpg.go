// Package localpg runs the workshop's own PostgreSQL when no DATABASE_URL names a server: it makes the
// cluster on first use, starts the server as a child of this program and stops it with it.
//
// What lies in the data folder: "lock" (held by the one program that uses the folder), "postgres.log" (of
// this start; ".1" of the one before) and "postgres", closed to all (0700), with the cluster and the socket.
//
// The server listens on a Unix socket only and trusts whoever can open it. That is safe because the socket
// lies in a folder that only the server's own account (and root) can enter: the kernel does the checking, and
// there is no password to keep, to lose or to find in a process list.
//
// Started by root, the server runs as the account postgres, or nobody where there is none, because
// PostgreSQL refuses to run as root; every folder above the data must then let that account pass.
//
// Limits: Unix only. After a kill -9 of the program, Linux stops the server at once; on other systems the
// next start is refused by PostgreSQL itself until the old server is gone. Access lists beyond the mode bits
// are honoured. A network file system must support flock.
package localpg

import (
	"context"
	"log/slog"
	"net/url"
	"os"
	"path/filepath"
	"sync"
	"syscall"
	"time"
)

const (
	owner    = "foamwright" // the role and the database the program uses
	maintain = "postgres"   // the database every cluster has
	port     = "5432"       // part of the socket's name only; nothing listens on the network
)

// Server is a running private PostgreSQL.
type Server struct {
	cluster cluster
	claim   *os.File
	process *process
	stop    sync.Once
	err     error // of the first Stop
}

// Start starts the private PostgreSQL with its data under dir, which is made when it is not there, and
// returns when the server has answered a query; recovery after a crash may take its time, bounded by ctx. A
// server left behind by a killed program is stopped first. It fails with a fault that says what to do: no
// PostgreSQL programs, a folder the server's account cannot reach, another foamwright on the same folder, or
// what the server's own log says.
func Start(ctx context.Context, dir string) (*Server, error) {
	c, err := place(dir)
	if err != nil {
		return nil, err
	}
	if err := c.prepare(); err != nil {
		return nil, err
	}
	claim, err := claim(filepath.Join(c.dir, "lock"))
	if err != nil {
		return nil, err
	}
	s := &Server{cluster: c, claim: claim}
	if err := s.start(ctx); err != nil {
		_ = s.Stop() // why it did not start is what matters
		return nil, err
	}
	return s, nil
}

func (s *Server) start(ctx context.Context) error {
	c := s.cluster
	if err := c.stopStrays(ctx); err != nil {
		return err
	}
	if !c.made() {
		slog.InfoContext(ctx, "making the database for the first time", "folder", c.home)
		if err := c.make(ctx); err != nil {
			return err
		}
	}
	log, err := c.openLog()
	if err != nil {
		return err
	}
	defer log.Close()
	if s.process, err = launch(c.command(log, kept())); err != nil {
		return cannot("PostgreSQL cannot be started from %s.", c.bin).Because(err)
	}
	return c.await(ctx, s.process.done)
}

// URL is the address of the workshop's database on this server, for the driver, psql and pg_dump.
func (s *Server) URL() string { return s.cluster.url(owner) }

// Done is closed when the server process has ended, whether stopped or dead by itself.
func (s *Server) Done() <-chan struct{} { return s.process.done }

// Stop ends the server: its clients are cut off, what was committed is kept. It waits until the process has
// gone and lets go of the folder. Calling it again, or after the server died, does no harm.
func (s *Server) Stop() error {
	s.stop.Do(func() {
		if s.process != nil {
			s.process.end()
		}
		s.err = s.claim.Close()
	})
	return s.err
}

// DefaultDir is where the data lies when no -data was given: /var/lib/foamwright for root, because the
// server's own account must be able to reach it, else foamwright under the user's data directory.
func DefaultDir() string {
	if os.Geteuid() == 0 {
		return "/var/lib/foamwright"
	}
	if data := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(data) {
		return filepath.Join(data, "foamwright")
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return ".data" // no home at all: beside where the program was started
	}
	return filepath.Join(home, ".local", "share", "foamwright")
}

// url addresses a database of the cluster through its socket.
func (c cluster) url(database string) string {
	query := url.Values{"host": {c.sockets}, "port": {port}, "sslmode": {"disable"}}
	return (&url.URL{Scheme: "postgres", User: url.User(owner), Path: "/" + database, RawQuery: query.Encode()}).String()
}

// kept are the settings of a server whose data matter: every commit is on the disk before it is reported.
// Memory is modest, since a workshop's books are small and share the machine with a browser.
func kept() []string {
	return []string{"fsync=on", "synchronous_commit=on", "full_page_writes=on", "shared_buffers=64MB", "max_connections=50"}
}

// end asks the server for a fast shutdown, and insists when it does not come.
func (p *process) end() {
	for _, step := range insistence() {
		p.signal(step.signal)
		select {
		case <-p.done:
			return
		case <-time.After(step.wait):
		}
	}
}

// insistence is how a server is made to stop: fast shutdown, then without the last checkpoint (the next start
// recovers), then by force.
func insistence() []struct {
	signal syscall.Signal
	wait   time.Duration
} {
	return []struct {
		signal syscall.Signal
		wait   time.Duration
	}{{syscall.SIGINT, 30 * time.Second}, {syscall.SIGQUIT, 5 * time.Second}, {syscall.SIGKILL, 5 * time.Second}}
}
