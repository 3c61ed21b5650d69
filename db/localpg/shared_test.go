package localpg

import (
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"
)

// share is one user of a shared server that stops after a second.
func share(t *testing.T, dir string) (url string, leave func() error) {
	t.Helper()
	url, leave, err := sharedUntil(t.Context(), dir, 1)
	if err != nil {
		t.Error(err)
		return "", func() error { return nil }
	}
	return url, leave
}

// gone waits until the server and all its processes have ended.
func gone(t *testing.T, dir string) {
	t.Helper()
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

// TestShared: many begin at once and get one server; one of them killed neither ends it nor keeps it; it ends
// when the last has left, and the next finds what was there.
func TestShared(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	var users sync.WaitGroup
	leaves := make(chan func() error, 6)
	for range cap(leaves) {
		users.Go(func() {
			_, leave := share(t, dir)
			leaves <- leave
		})
	}
	users.Wait()
	server := leaderOf(dir)
	killed, url := holder(t, "SHARE="+dir)
	for range cap(leaves) {
		if err := (<-leaves)(); err != nil {
			t.Fatal(err)
		}
	}
	time.Sleep(2500 * time.Millisecond) // more than it waits for users: the other program is one
	books(t, url)
	if now := leaderOf(dir); now != server {
		t.Errorf("server %d, was %d", now, server)
	}
	if err := killed.Kill(); err != nil {
		t.Fatal(err)
	}
	gone(t, dir)
	url, leave := share(t, dir)
	checkBooks(t, url)
	if err := leave(); err != nil {
		t.Fatal(err)
	}
	gone(t, dir)
}

// TestSharedBroken: a cluster that a crash of the machine spoilt is made anew.
func TestSharedBroken(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	_, leave := share(t, dir)
	leave()
	gone(t, dir)
	if err := os.Remove(filepath.Join(dir, "postgres", "data", "global", "pg_control")); err != nil {
		t.Fatal(err)
	}
	url, leave := share(t, dir)
	books(t, url)
	leave()
	gone(t, dir)
}
