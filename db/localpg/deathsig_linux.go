package localpg

import "syscall"

// dieWithParent asks for a fast shutdown of the child when the thread that starts it ends. Go sets it after
// the change of account, which would clear it.
func dieWithParent(attr *syscall.SysProcAttr) { attr.Pdeathsig = syscall.SIGINT }
