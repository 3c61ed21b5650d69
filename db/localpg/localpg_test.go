package localpg

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"foamwright/materials/fault"

	"github.com/jackc/pgx/v5"
)

// folder is a new data folder that a lent account can reach, unlike the test's own.
func folder(t testing.TB) string {
	t.Helper()
	parent, err := os.MkdirTemp(Scratch(), "foamwright-localpg-")
	if err == nil {
		err = os.Chmod(parent, 0o755)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(parent); err != nil {
			t.Error(err)
		}
	})
	return filepath.Join(parent, "data")
}

func start(t testing.TB, dir string) *Server {
	t.Helper()
	s, err := Start(t.Context(), dir)
	if err != nil {
		t.Fatalf("%v (%v)", err, errors.Unwrap(err))
	}
	t.Cleanup(func() { s.Stop() })
	return s
}

// run executes one statement on a new connection.
func run(t testing.TB, url, sql string) {
	t.Helper()
	conn, err := pgx.Connect(t.Context(), url)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close(context.WithoutCancel(t.Context()))
	if _, err := conn.Exec(t.Context(), sql); err != nil {
		t.Fatal(err)
	}
}

// books is what a program had committed; kept checks that it is all there.
func books(t testing.TB, url string) {
	t.Helper()
	run(t, url, `CREATE TABLE books AS SELECT n FROM generate_series(1, 1000) n`)
}

func checkBooks(t testing.TB, url string) {
	t.Helper()
	run(t, url, `DO $$ BEGIN ASSERT (SELECT count(*) FROM books) = 1000; END $$`)
}

func ended(t testing.TB, s *Server) {
	t.Helper()
	select {
	case <-s.Done():
	case <-time.After(10 * time.Second):
		t.Fatal("the server does not end")
	}
	if left := s.cluster.strays(); len(left) > 0 {
		t.Errorf("processes %v are left", left)
	}
}

func TestStartStop(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	s := start(t, dir)
	books(t, s.URL())
	run(t, s.URL(), `DO $$ BEGIN
		ASSERT current_setting('listen_addresses') = '' AND current_setting('fsync') = 'on';
		ASSERT current_setting('synchronous_commit') = 'on' AND current_setting('server_encoding') = 'UTF8';
		ASSERT lower('ÄÖ') = 'äö' AND current_database() = 'foamwright' AND current_user = 'foamwright'; END $$`)
	if err := errors.Join(s.Stop(), s.Stop()); err != nil {
		t.Fatal(err)
	}
	ended(t, s)
	checkBooks(t, start(t, dir).URL())
}

// TestClosedToOthers: trust is only as good as the folder around the socket.
func TestClosedToOthers(t *testing.T) {
	t.Parallel()
	s := start(t, folder(t))
	for _, path := range []string{s.cluster.home, s.cluster.sockets, s.cluster.data} {
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if info.Mode().Perm() != 0o700 || ownerOf(info) != s.cluster.account.uid {
			t.Errorf("%s: mode %v, owner %d", path, info.Mode(), ownerOf(info))
		}
	}
}

// TestServerKilled: after a kill -9 of the server alone the program is told, and the next start recovers.
func TestServerKilled(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	s := start(t, dir)
	books(t, s.URL())
	if err := syscall.Kill(s.process.started.Pid, syscall.SIGKILL); err != nil {
		t.Fatal(err)
	}
	select {
	case <-s.Done():
	case <-time.After(10 * time.Second):
		t.Fatal("nobody was told")
	}
	if err := s.Stop(); err != nil {
		t.Fatal(err)
	}
	checkBooks(t, start(t, dir).URL())
}

func TestSecondInstance(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	first := start(t, dir)
	_, err := Start(t.Context(), dir)
	says(t, err, "Another foamwright (process ", dir, "-data")
	books(t, first.URL())
}

// says checks that err is a fault with all of these words.
func says(t testing.TB, err error, words ...string) {
	t.Helper()
	if fault.KindOf(err) != fault.State {
		t.Fatalf("not a fault for the screen: %v", err)
	}
	for _, word := range words {
		if !strings.Contains(err.Error(), word) {
			t.Errorf("%q does not say %q", err, word)
		}
	}
}

// TestClosedParent: a folder above the data that the server's account cannot pass is named, with the remedy.
// For a normal user that is a folder in which nothing can be made.
func TestClosedParent(t *testing.T) {
	t.Parallel()
	parent := folder(t)
	if err := os.Mkdir(parent, 0o700); err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(parent, "below", "data")
	if os.Geteuid() == 0 {
		_, err := Start(t.Context(), dir)
		says(t, err, "The folder "+parent+" is closed to the account", "chmod o+x "+parent)
		return
	}
	if err := os.Chmod(parent, 0o500); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(parent, 0o700)
	_, err := Start(t.Context(), dir)
	says(t, err, "The folder "+filepath.Dir(dir)+" cannot be made", "-data")
}

// TestLongPath: a socket's address is short, so a long data folder gets its socket elsewhere, as closed.
func TestLongPath(t *testing.T) {
	t.Parallel()
	s := start(t, filepath.Join(folder(t), strings.Repeat("long", 30)))
	t.Cleanup(func() { os.RemoveAll(s.cluster.sockets) })
	books(t, s.URL())
	if info, err := os.Stat(s.cluster.sockets); err != nil || info.Mode().Perm() != 0o700 {
		t.Error(info, err)
	}
}

// TestLogSummarised: what PostgreSQL says about itself is in the sentence, and where to read the rest.
func TestLogSummarised(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	s := start(t, dir)
	s.Stop()
	file, err := os.OpenFile(filepath.Join(s.cluster.data, "postgresql.conf"), os.O_APPEND|os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := file.WriteString("\nno_such_setting = 1\n"); err != nil {
		t.Fatal(err)
	}
	file.Close()
	_, err = Start(t.Context(), dir)
	says(t, err, "contains errors", filepath.Join(dir, "postgres.log"))
}

// BenchmarkColdStart is the first start on a machine: the cluster is made.
func BenchmarkColdStart(b *testing.B) {
	for b.Loop() {
		start(b, folder(b)).Stop()
	}
}

// BenchmarkWarmStart is every later start, with the stop before it; BenchmarkStop of the two is what ms/stop says.
func BenchmarkWarmStart(b *testing.B) {
	dir := folder(b)
	start(b, dir).Stop()
	var stopping time.Duration
	for b.Loop() {
		s := start(b, dir)
		begun := time.Now()
		s.Stop()
		stopping += time.Since(begun)
	}
	b.ReportMetric(float64(stopping.Milliseconds())/float64(b.N), "ms-of-it-to-stop/op")
}
