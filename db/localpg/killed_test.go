package localpg

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// TestMain lets the test binary be another program that holds a server, to be killed.
func TestMain(m *testing.M) {
	ctx := context.Background()
	hold, share := os.Getenv("HOLD"), os.Getenv("SHARE")
	switch {
	case hold != "":
		s, err := Start(ctx, hold)
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		fmt.Println(s.URL())
	case share != "":
		url, _, err := sharedUntil(ctx, share, 1)
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		fmt.Println(url)
	default:
		os.Exit(m.Run())
	}
	time.Sleep(time.Minute) // long enough to be killed
}

// holder is another program that holds or shares a server, as setting says, and the server's address.
func holder(t *testing.T, setting string) (*os.Process, string) {
	t.Helper()
	program, out := another(t, setting)
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || !strings.HasPrefix(line, "postgres:") {
		t.Fatal(line, err)
	}
	return program, strings.TrimSpace(line)
}

// another is the test binary started as another program.
func another(t *testing.T, setting string) (*os.Process, io.Reader) {
	t.Helper()
	program := exec.Command(os.Args[0])
	program.Env = append(os.Environ(), setting)
	program.Stderr = os.Stderr
	out, err := program.StdoutPipe()
	if err == nil {
		err = program.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		program.Process.Kill()
		program.Wait()
	})
	return program.Process, out
}

// leaderOf is the process number of the cluster's server.
func leaderOf(dir string) int { return pidIn(filepath.Join(dir, "postgres", "data", "postmaster.pid")) }

// TestProgramKilled: after a kill -9 of the program its server goes by itself, and a new program finds all
// that was committed, without waiting for anybody to clean up.
func TestProgramKilled(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	program, url := holder(t, "HOLD="+dir)
	books(t, url)
	old := leaderOf(dir)
	if err := program.Kill(); err != nil {
		t.Fatal(err)
	}
	s := start(t, dir)
	checkBooks(t, s.URL())
	if now := leaderOf(dir); now != s.process.started.Pid || now == old {
		t.Errorf("server %d serves, was %d, ours is %d", now, old, s.process.started.Pid)
	}
	if slices.Contains(s.cluster.strays(), old) {
		t.Errorf("the old server %d still runs", old)
	}
}

// TestKilledWhileMaking: a program killed in the middle of its first start leaves nothing half done.
func TestKilledWhileMaking(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	program, _ := another(t, "HOLD="+dir)
	half := filepath.Join(dir, "postgres", "data.new-*")
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(time.Millisecond) {
		if made, _ := filepath.Glob(filepath.Join(half, "global")); len(made) > 0 {
			break
		}
		if time.Now().After(end) {
			t.Fatal("nothing is being made")
		}
	}
	if err := program.Kill(); err != nil {
		t.Fatal(err)
	}
	books(t, start(t, dir).URL())
	if left, _ := filepath.Glob(half); len(left) > 0 {
		t.Errorf("%v is left", left)
	}
}

// TestServerGoesWithProgram: nobody has to start again for the server to stop.
func TestServerGoesWithProgram(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	program, _ := holder(t, "HOLD="+dir)
	if err := program.Kill(); err != nil {
		t.Fatal(err)
	}
	c, err := place(dir)
	if err != nil {
		t.Fatal(err)
	}
	for end := time.Now().Add(20 * time.Second); len(c.strays()) > 0; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("processes %v are left", c.strays())
		}
	}
}

// TestStrayStopped: a server that was not told of its program's death is stopped by the next start, also when
// only its helpers are left.
func TestStrayStopped(t *testing.T) {
	t.Parallel()
	for name, harm := range map[string]syscall.Signal{"whole": 0, "leader killed": syscall.SIGKILL} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := folder(t)
			first := start(t, dir)
			books(t, first.URL())
			first.Stop()
			log, err := first.cluster.openLog()
			if err != nil {
				t.Fatal(err)
			}
			defer log.Close()
			stray := first.cluster.command(log, kept())
			if err := stray.Start(); err != nil {
				t.Fatal(err)
			}
			// Reaped only at the end, so that the second case leaves a zombie behind whose number is in the locks.
			defer stray.Wait()
			if err := first.cluster.await(t.Context(), nil); err != nil {
				t.Fatal(err)
			}
			if err := stray.Process.Signal(harm); err != nil {
				t.Fatal(err)
			}
			checkBooks(t, start(t, dir).URL())
		})
	}
}

// TestLocksOfAnother: the number of a dead server was given to a program of another kind, or belongs to a
// zombie; PostgreSQL alone would refuse to start on either.
func TestLocksOfAnother(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	s := start(t, dir)
	books(t, s.URL())
	s.Stop()
	// The account must own the process, or PostgreSQL would see by itself that it is not the old server.
	alien := exec.Command("sleep", "60")
	alien.SysProcAttr, alien.Dir = s.cluster.account.attr(), "/"
	if err := alien.Start(); err != nil {
		t.Fatal(err)
	}
	defer alien.Wait()
	defer alien.Process.Kill()
	for _, zombie := range []bool{false, true} {
		if zombie {
			alien.Process.Kill() // and not waited for
		}
		locks := fmt.Sprintf("%d\n%s\n1\n%s\n%s\n", alien.Process.Pid, s.cluster.data, port, s.cluster.sockets)
		for _, path := range []string{filepath.Join(s.cluster.data, "postmaster.pid"), s.cluster.socket() + ".lock"} {
			if err := os.WriteFile(path, []byte(locks), 0o600); err != nil {
				t.Fatal(err)
			}
			if err := os.Chown(path, s.cluster.account.uid, s.cluster.account.gid); err != nil {
				t.Fatal(err)
			}
		}
		again := start(t, dir)
		checkBooks(t, again.URL())
		again.Stop()
	}
}
