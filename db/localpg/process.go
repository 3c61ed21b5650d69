package localpg

import (
	"errors"
	"os"
	"os/exec"
	"runtime"
	"syscall"
)

// process is a running server of ours.
type process struct {
	started *os.Process
	done    chan struct{} // closed when the process has ended and been reaped
}

// launch starts the server so that the kernel stops it when this program dies.
func launch(server *exec.Cmd) (*process, error) {
	p := &process{done: make(chan struct{})}
	started := make(chan error)
	go func() {
		// The kernel sends the signal when the thread that forked ends, not the whole program, so this
		// goroutine keeps its thread as long as the server lives.
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		dieWithParent(server.SysProcAttr)
		if err := server.Start(); err != nil {
			started <- err
			return
		}
		p.started = server.Process
		started <- nil
		_ = server.Wait() // how it ended is in its log
		close(p.done)
	}()
	if err := <-started; err != nil {
		return nil, err
	}
	return p, nil
}

// signal does nothing when the process has ended.
func (p *process) signal(sig syscall.Signal) { _ = p.started.Signal(sig) }

// alive tells whether the kernel knows the process; that includes one that has ended and was not yet reaped.
func alive(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || errors.Is(err, syscall.EPERM)
}
