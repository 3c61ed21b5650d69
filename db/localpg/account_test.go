package localpg

import (
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// TestAccountStays: whoever owns the data keeps serving it, also when root starts the program or the machine
// has got a better account since.
func TestAccountStays(t *testing.T) {
	t.Parallel()
	home := filepath.Join(folder(t), "postgres")
	if err := os.MkdirAll(home, 0o700); err != nil {
		t.Fatal(err)
	}
	want := os.Geteuid()
	if want == 0 {
		nobody, err := user.Lookup("nobody")
		if err != nil {
			t.Fatal(err)
		}
		want, _ = strconv.Atoi(nobody.Uid)
		if err := os.Chown(home, want, -1); err != nil {
			t.Fatal(err)
		}
	}
	if a, err := accountFor(home); err != nil || a.uid != want {
		t.Errorf("account %+v, want %d: %v", a, want, err)
	}
}

// TestClosedRefusesLinks: in a folder for all, somebody else may have laid a link under the name.
func TestClosedRefusesLinks(t *testing.T) {
	t.Parallel()
	dir := folder(t)
	if err := os.Symlink(t.TempDir(), dir); err != nil {
		t.Fatal(err)
	}
	says(t, account{uid: os.Geteuid()}.closed(dir), dir, "remove it")
}

// TestAsNormalUser runs the tests that differ once more as an account without rights, when they run as root.
// Otherwise they already do.
func TestAsNormalUser(t *testing.T) {
	if os.Geteuid() != 0 {
		return
	}
	t.Parallel()
	nobody, err := user.Lookup("nobody")
	if err != nil {
		t.Fatal(err)
	}
	uid, _ := strconv.Atoi(nobody.Uid)
	gid, _ := strconv.Atoi(nobody.Gid)
	dir := folder(t)
	if err := os.Mkdir(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	binary, err := os.ReadFile(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	copied, home := filepath.Join(dir, "localpg.test"), filepath.Join(dir, "home")
	if err := os.WriteFile(copied, binary, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(home, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Chown(home, uid, gid); err != nil {
		t.Fatal(err)
	}
	tests := exec.Command(copied, "-test.v", "-test.run", "^Test(StartStop|ProgramKilled|ClosedParent|SecondInstance|Shared)$", "-test.count", "1")
	tests.Dir, tests.Env = home, []string{"PATH=" + os.Getenv("PATH"), "HOME=" + home, "TMPDIR=" + home}
	tests.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
	out, err := tests.CombinedOutput()
	if err != nil {
		t.Errorf("as nobody: %v\n%s", err, out)
	}
	for _, name := range []string{"StartStop", "ProgramKilled", "ClosedParent", "SecondInstance", "Shared"} {
		if !strings.Contains(string(out), "--- PASS: Test"+name+" ") {
			t.Errorf("as nobody: Test%s did not run", name)
		}
	}
}
