package localpg

import (
	"context"
	_ "embed"
	"errors"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"time"
)

const (
	idle   = 20                 // seconds a shared server waits for another user
	stale  = 7 * 24 * time.Hour // when a shared cluster is made anew
	plenty = 2 << 30            // bytes of memory that may serve as a disk; a container often has only 64 MB
)

// keeper is the shell script that minds a shared server.
//
//go:embed keeper.sh
var keeper string

// Scratch is the folder for servers whose data are thrown away: in memory where there is plenty, else the
// temporary folder. A new database is some 300 small files, and to make those on a disk can cost ten times as
// much.
func Scratch() string {
	const shm, writable = "/dev/shm", 2
	var memory syscall.Statfs_t
	err := errors.Join(syscall.Statfs(shm, &memory), syscall.Access(shm, writable))
	if err == nil && memory.Blocks*uint64(memory.Bsize) >= plenty {
		return shm
	}
	return os.TempDir()
}

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
	return sharedUntil(ctx, dir, idle)
}

func sharedUntil(ctx context.Context, dir string, idle int) (url string, leave func() error, err error) {
	c, err := place(dir)
	if err != nil {
		return "", nil, err
	}
	if err := c.own(); err != nil {
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
	if !c.listens() {
		if err := c.share(ctx, idle); err != nil {
			users.Close()
			return "", nil, err
		}
	}
	return c.url(maintain), users.Close, nil
}

// own makes the folder, and refuses one that another account has laid there.
func (c cluster) own() error {
	if err := c.account.open(c.dir); err != nil {
		return err
	}
	if info, err := os.Lstat(c.dir); err != nil || !info.IsDir() || ownerOf(info) != os.Geteuid() {
		return cannot("%s is not a folder of the account %s; remove it, then start again.", c.dir, nameOf(os.Geteuid())).Because(err)
	}
	return nil
}

// listens tells that a server is there; who starts one holds the lock until it also answers.
func (c cluster) listens() bool {
	conn, err := net.Dial("unix", c.socket())
	return err == nil && conn.Close() == nil
}

// share starts the server, on a new cluster when the one that is there is old or does not start: without fsync
// a crash of the machine can leave such a one, and nothing in it is of worth.
func (c cluster) share(ctx context.Context, idle int) error {
	if err := c.prepare(); err != nil {
		return err
	}
	if err := c.stopStrays(ctx); err != nil {
		return err
	}
	if info, err := os.Stat(filepath.Join(c.data, "PG_VERSION")); err == nil && time.Since(info.ModTime()) < stale && c.mind(ctx, idle) == nil {
		return nil
	}
	if err := errors.Join(c.stopStrays(ctx), os.RemoveAll(c.data)); err != nil {
		return cannot("The old test server in %s cannot be removed.", c.home).Because(err)
	}
	if err := c.make(ctx, "--no-sync"); err != nil {
		return err
	}
	return c.mind(ctx, idle)
}

// mind starts the server under its keeper and waits until it answers.
func (c cluster) mind(ctx context.Context, idle int) error {
	if _, err := exec.LookPath("flock"); err != nil {
		return cannot("The program flock is missing: install the package util-linux.").Because(err)
	}
	log, err := c.openLog()
	if err != nil {
		return err
	}
	defer log.Close()
	server := c.command(log, []string{"fsync=off", "synchronous_commit=off", "full_page_writes=off", "autovacuum=off",
		"wal_level=minimal", "max_wal_senders=0", "shared_buffers=64MB", "max_connections=300", "min_wal_size=32MB", "max_wal_size=256MB"})
	keep := exec.Command("/bin/sh", append([]string{"-c", keeper, "keeper", filepath.Join(c.dir, "users"), strconv.Itoa(idle)}, server.Args...)...)
	keep.Dir, keep.Env, keep.SysProcAttr, keep.Stdout, keep.Stderr = server.Dir, server.Env, server.SysProcAttr, log, log
	if err := keep.Start(); err != nil {
		return cannot("PostgreSQL cannot be started from %s.", c.bin).Because(err)
	}
	died := make(chan struct{})
	go func() {
		_ = keep.Wait() // how it ended is in the log
		close(died)
	}()
	return c.await(ctx, died)
}
