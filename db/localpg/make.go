package localpg

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"time"
)

// make builds the cluster under a temporary name, so that a kill in the middle leaves nothing half done.
func (c cluster) make(ctx context.Context, more ...string) error {
	if err := c.clearHalfMade(ctx); err != nil {
		return err
	}
	fresh := fmt.Sprintf("%s.new-%d", c.data, os.Getpid())
	initdb := exec.CommandContext(ctx, filepath.Join(c.bin, "initdb"), append([]string{"--pgdata", fresh, "--username", owner,
		"--auth", "trust", "--encoding", "UTF8", "--locale", "C.UTF-8", "--no-instructions"}, more...)...)
	initdb.Dir, initdb.Env, initdb.SysProcAttr = c.home, environment(), c.account.attr()
	runtime.LockOSThread() // as in launch
	defer runtime.UnlockOSThread()
	dieWithParent(initdb.SysProcAttr)
	out, err := initdb.CombinedOutput()
	if err != nil {
		return cannot("PostgreSQL could not make its files in %s: %s", c.home, summary(out)).Because(err)
	}
	if err := os.Rename(fresh, c.data); err != nil {
		return cannot("%s cannot be renamed to %s.", fresh, c.data).Because(err)
	}
	folder, err := os.Open(c.home)
	if err != nil {
		return err
	}
	return errors.Join(folder.Sync(), folder.Close()) // the new name must outlive a power cut
}

// clearHalfMade removes what killed programs were making, and tries again while their initdb is still ending.
func (c cluster) clearHalfMade(ctx context.Context) error {
	left, _ := filepath.Glob(c.data + ".new-*") // fails only for a bad pattern
	for _, folder := range left {
		end := time.Now().Add(5 * time.Second)
		for err := os.RemoveAll(folder); err != nil; err = os.RemoveAll(folder) {
			if time.Now().After(end) || !rest(ctx, 20*time.Millisecond) {
				return cannot("%s is left over and cannot be removed.", folder).Because(err)
			}
		}
	}
	return nil
}
