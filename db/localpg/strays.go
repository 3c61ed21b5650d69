package localpg

import (
	"context"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// stopStrays ends what a killed program or server left running on our cluster, then clears what it left
// lying. The caller holds the folder, so whatever still runs there has lost its program.
func (c cluster) stopStrays(ctx context.Context) error {
	if !c.made() {
		return nil
	}
	leader := pidIn(filepath.Join(c.data, "postmaster.pid"))
	for _, step := range insistence() {
		strays := c.strays()
		if len(strays) == 0 {
			break
		}
		slog.InfoContext(ctx, "stopping a database server left over by a killed program", "process", leader, "signal", step.signal)
		wait := step.wait
		switch {
		case step.signal != syscall.SIGINT:
			for _, pid := range strays {
				_ = syscall.Kill(pid, step.signal) // may have ended meanwhile
			}
		case slices.Contains(strays, leader):
			_ = syscall.Kill(leader, step.signal)
		default:
			wait = 3 * time.Second // the leader is dead, and its helpers notice by themselves
		}
		for end := time.Now().Add(wait); len(c.strays()) > 0 && time.Now().Before(end); {
			if !rest(ctx, 5*time.Millisecond) {
				return cannot("A database server left over in %s did not stop in time (process %d).", c.home, leader).Because(ctx.Err())
			}
		}
	}
	if left := c.strays(); len(left) > 0 {
		return cannot("A database server left over in %s does not stop (processes %v). Stop it by hand, then start again.", c.home, left)
	}
	clearStale(filepath.Join(c.data, "postmaster.pid"))
	clearStale(c.socket() + ".lock")
	return nil
}

// strays are the PostgreSQL processes that work in the cluster: all of them, the leader and its helpers, have
// it as their working directory. Found only where there is a /proc.
func (c cluster) strays() []int {
	data, err := filepath.EvalSymlinks(c.data)
	if err != nil {
		return nil
	}
	links, _ := filepath.Glob("/proc/[0-9]*/cwd") // fails only for a bad pattern
	var found []int
	for _, link := range links {
		folder := filepath.Dir(link)
		if at, err := os.Readlink(link); err != nil || at != data {
			continue // ended meanwhile, a zombie, another's, or elsewhere
		}
		// A person may have gone there with a shell to look.
		if name, err := os.ReadFile(filepath.Join(folder, "comm")); err != nil || strings.TrimSpace(string(name)) != "postgres" {
			continue
		}
		if pid, err := strconv.Atoi(filepath.Base(folder)); err == nil {
			found = append(found, pid)
		}
	}
	return found
}

// clearStale removes a lock of a dead server where PostgreSQL would not do so itself: it takes any process
// with the number in it for the old server, even one that has ended but was not reaped, or one of another
// kind that got the same number after a restart. Where no process has the number PostgreSQL is left to look
// for itself, because it also asks whether the old server's memory is still in use.
func clearStale(path string) {
	if pid := pidIn(path); pid > 0 && hasProc() && alive(pid) {
		_ = os.Remove(path) // the server says so if it is still there
	}
}

// hasProc tells whether strays can see: without it nothing may be cleared.
func hasProc() bool {
	_, err := os.Stat("/proc/self/cwd")
	return err == nil
}

// pidIn reads the process number in the first line of a lock file of PostgreSQL, or 0.
func pidIn(path string) int {
	text, err := os.ReadFile(path)
	if err != nil {
		return 0
	}
	first, _, _ := strings.Cut(string(text), "\n")
	pid, err := strconv.Atoi(strings.TrimSpace(first))
	if err != nil {
		return 0
	}
	return pid
}
