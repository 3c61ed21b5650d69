package localpg

import (
	"context"
	_ "embed"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"time"
)

const (
	idle  = "20"               // seconds a shared server waits for another user
	stale = 7 * 24 * time.Hour // when a shared cluster is made anew
)

// keeper is the shell script that minds a shared server.
//
//go:embed keeper.sh
var keeper string

// Shared is the address of a throw-away server under dir that all programs of this account use together, for
// tests: the first starts it, it outlives each of them, and stops when nobody has used it for 20 s. The
// caller lets go with leave. Nothing is safe on it: no write waits for the disk, and the cluster is made anew
// once a week, which clears away what killed tests and old versions left, and when it does not start.
//
// How they share: every user holds the file "users" locked, shared, for as long as it uses the server; the
// kernel lets go for one that was killed. A small shell script, the server's parent, asks every second for the
// same lock alone: when it gets it there are no users, and after 20 s of that it stops the server while new
// ones wait at the lock. Those who find no server start it one after the other, under the lock of the file "starting".
func Shared(ctx context.Context, dir string) (url string, leave func() error, err error) {
	c, err := prepare(dir)
	if err != nil {
		return "", nil, err
	}
	starting, err := lockWithin(ctx, filepath.Join(c.dir, "starting"), syscall.LOCK_EX)
	if err != nil {
		return "", nil, err
	}
	defer starting.Close()
	users, err := lockWithin(ctx, filepath.Join(c.dir, "users"), syscall.LOCK_SH)
	if err != nil {
		return "", nil, err
	}
	if c.answers(ctx) != nil {
		if err = c.share(ctx); err != nil {
			// Without fsync a crash of the machine can leave a cluster that does not start. Nothing in it is of worth.
			if err = errors.Join(c.stopStrays(ctx), os.RemoveAll(c.data)); err == nil {
				err = c.share(ctx)
			}
		}
		if err != nil {
			users.Close()
			return "", nil, err
		}
	}
	return c.url(maintain), users.Close, nil
}

// share starts the server under its keeper.
func (c cluster) share(ctx context.Context) error {
	if _, err := exec.LookPath("flock"); err != nil {
		return cannot("The program flock is missing: install the package util-linux.").Because(err)
	}
	if err := c.stopStrays(ctx); err != nil {
		return err
	}
	if info, err := os.Stat(filepath.Join(c.data, "PG_VERSION")); err == nil && time.Since(info.ModTime()) > stale {
		if err := os.RemoveAll(c.data); err != nil {
			return cannot("%s is out of date and cannot be removed.", c.data).Because(err)
		}
	}
	if !c.made() {
		if err := c.make(ctx, "--no-sync"); err != nil {
			return err
		}
	}
	log, err := c.openLog()
	if err != nil {
		return err
	}
	defer log.Close()
	server := c.command(log, []string{"fsync=off", "synchronous_commit=off", "full_page_writes=off", "autovacuum=off",
		"wal_level=minimal", "max_wal_senders=0", "shared_buffers=64MB", "max_connections=300"})
	mind := exec.Command("/bin/sh", append([]string{"-c", keeper, "keeper", filepath.Join(c.dir, "users"), idle}, server.Args...)...)
	mind.Dir, mind.Env, mind.SysProcAttr, mind.Stdout, mind.Stderr = server.Dir, server.Env, server.SysProcAttr, log, log
	if err := mind.Start(); err != nil {
		return cannot("PostgreSQL cannot be started from %s.", c.bin).Because(err)
	}
	died := make(chan struct{})
	go func() {
		_ = mind.Wait() // how it ended is in the log
		close(died)
	}()
	return c.await(ctx, died)
}
