//go:build unix && !linux

package localpg

import "syscall"

// dieWithParent does nothing where the kernel has no such signal; see the limits in the package comment.
func dieWithParent(*syscall.SysProcAttr) {}
