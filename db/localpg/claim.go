package localpg

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// ending is how long a killed program may take to be gone.
const ending = time.Second

// claim holds the folder for this program by a lock that the kernel lets go when the program ends, however it
// ends. The file tells who holds it.
func claim(path string) (*os.File, error) {
	file, err := lockFile(path)
	if err != nil {
		return nil, err
	}
	// A program that was killed a moment ago holds it until the kernel has taken it apart.
	err = lock(file, syscall.LOCK_EX)
	for began := time.Now(); errors.Is(err, syscall.EWOULDBLOCK) && time.Since(began) < ending; err = lock(file, syscall.LOCK_EX) {
		time.Sleep(10 * time.Millisecond)
	}
	if err == nil {
		err = errors.Join(file.Truncate(0), write(file, strconv.Itoa(os.Getpid())))
	}
	if err == nil {
		return file, nil
	}
	defer file.Close()
	if errors.Is(err, syscall.EWOULDBLOCK) {
		who, _ := os.ReadFile(path) // only to be named
		return nil, cannot("Another foamwright (process %s) is already using the data in %s. Stop it first, or give another folder with -data.",
			strings.TrimSpace(string(who)), filepath.Dir(path))
	}
	return nil, cannot("The folder %s cannot be locked. Give one on a local disk with -data.", filepath.Dir(path)).Because(err)
}

func write(file *os.File, text string) error {
	_, err := file.WriteAt([]byte(text+"\n"), 0)
	return err
}

// lockFile opens the file a lock lies on, and makes it; no link is followed.
func lockFile(path string) (*os.File, error) {
	file, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE|syscall.O_NOFOLLOW, 0o644)
	if err != nil {
		return nil, cannot("The folder %s cannot be written. Give another one with -data.", filepath.Dir(path)).Because(err)
	}
	return file, nil
}

// lock takes the lock, or says EWOULDBLOCK at once.
func lock(file *os.File, how int) error { return syscall.Flock(int(file.Fd()), how|syscall.LOCK_NB) }

// lockWithin takes the lock, waiting for it until ctx ends.
func lockWithin(ctx context.Context, path string, how int) (*os.File, error) {
	file, err := lockFile(path)
	if err != nil {
		return nil, err
	}
	for {
		err := lock(file, how)
		if err == nil {
			return file, nil
		}
		if !errors.Is(err, syscall.EWOULDBLOCK) || !rest(ctx, 5*time.Millisecond) {
			file.Close()
			return nil, cannot("The lock %s could not be had in time.", path).Because(errors.Join(err, ctx.Err()))
		}
	}
}

// rest waits; false when ctx ended first.
func rest(ctx context.Context, wait time.Duration) bool {
	select {
	case <-time.After(wait):
		return true
	case <-ctx.Done():
		return false
	}
}
