package localpg

import (
	"context"
	"os"
	"runtime"
	"syscall"
	"testing"
	"time"
)

// onPassingThread runs f on a thread that ends with it. The first thread of a program never ends, so a
// goroutine that finds itself there holds it and tries another.
func onPassingThread(f func()) {
	done := make(chan struct{})
	go func() {
		defer close(done)
		runtime.LockOSThread() // never unlocked, which is what ends the thread
		if syscall.Gettid() == os.Getpid() {
			onPassingThread(f)
			runtime.UnlockOSThread()
			return
		}
		f()
	}()
	<-done
}

// TestThreadEnds: the thread on which Start was called may end, and the server lives on.
func TestThreadEnds(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	var s *Server
	var err error
	onPassingThread(func() { s, err = Start(context.Background(), dir) })
	if err != nil {
		t.Fatal(err)
	}
	defer s.Stop()
	select {
	case <-s.Done():
		t.Error("the server ended with the thread")
	case <-time.After(300 * time.Millisecond):
		books(t, s.URL())
	}
}
