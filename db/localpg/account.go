package localpg

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// account is who the server runs as. For a normal user that is the user; root lends it another one.
type account struct {
	name     string
	uid, gid int
	lent     bool
}

// accountFor picks the account: the owner of a folder that is already there, so that data made by a user and
// served by root later (or by nobody before there was a postgres) stays readable; else postgres, else nobody.
func accountFor(home string) (account, error) {
	here, err := os.Lstat(home)
	switch {
	case err == nil && !here.IsDir():
		return account{}, cannot("%s is not a folder; move it away or give another folder with -data.", home)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return account{}, cannot("The folder %s cannot be read. Give another one with -data.", home).Because(err)
	}
	if os.Geteuid() != 0 {
		if err == nil && ownerOf(here) != os.Geteuid() {
			return account{}, cannot("The folder %s belongs to the account %s. Start foamwright as that account or as root, "+
				"or give another folder with -data.", home, nameOf(ownerOf(here)))
		}
		return account{name: nameOf(os.Geteuid()), uid: os.Geteuid(), gid: os.Getegid()}, nil
	}
	candidates := []string{"postgres", "nobody"}
	if err == nil && ownerOf(here) != 0 {
		candidates = []string{nameOf(ownerOf(here))}
	}
	for _, name := range candidates {
		if known, err := user.Lookup(name); err == nil {
			uid, _ := strconv.Atoi(known.Uid) // decimal on Unix, by user.User's contract
			gid, _ := strconv.Atoi(known.Gid)
			return account{name: name, uid: uid, gid: gid, lent: true}, nil
		}
	}
	return account{}, cannot("PostgreSQL does not run as root and this machine has no account to lend it (%s): "+
		"make an account named postgres, or start foamwright as a normal user.", candidates[0])
}

func ownerOf(info fs.FileInfo) int { return int(info.Sys().(*syscall.Stat_t).Uid) }

func nameOf(uid int) string {
	if known, err := user.LookupId(strconv.Itoa(uid)); err == nil {
		return known.Username
	}
	return strconv.Itoa(uid)
}

// attr makes a command run as the account, out of reach of the terminal's Ctrl-C: the program decides when
// the server stops.
func (a account) attr() *syscall.SysProcAttr {
	attr := &syscall.SysProcAttr{Setsid: true}
	if a.lent {
		attr.Credential = &syscall.Credential{Uid: uint32(a.uid), Gid: uint32(a.gid)}
	}
	return attr
}

// reach checks that the account can pass through every folder down to dir, by letting the kernel say so.
func (a account) reach(dir string) error {
	if !a.lent || a.passes(dir) {
		return nil
	}
	shut := dir
	for parent := filepath.Dir(shut); shut != "/" && !a.passes(parent); parent = filepath.Dir(shut) {
		shut = parent
	}
	return cannot("The folder %s is closed to the account %s, as which the database runs when foamwright is started by root. "+
		"Give another folder with -data (%s for example), or open this one: chmod o+x %s", shut, a.name, "/var/lib/foamwright", shut)
}

func (a account) passes(dir string) bool {
	look := exec.Command("test", "-x", dir)
	look.Dir = "/"
	look.SysProcAttr = a.attr()
	return look.Run() == nil
}

// closed makes dir, or makes it again, a folder that only the account can enter. Another's folder under that
// name, or a link, is refused: in a folder like /tmp somebody else may have laid it there.
func (a account) closed(dir string) error {
	err := os.Mkdir(dir, 0o700)
	made := err == nil
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return cannot("The folder %s cannot be made. Give another one with -data.", dir).Because(err)
	}
	here, err := os.Lstat(dir)
	if err != nil || !here.IsDir() || (!made && ownerOf(here) != a.uid && ownerOf(here) != os.Geteuid()) {
		return cannot("%s is not a folder of the account %s; remove it, then start again.", dir, a.name).Because(err)
	}
	if a.lent {
		if err := os.Lchown(dir, a.uid, a.gid); err != nil {
			return cannot("The folder %s cannot be given to the account %s.", dir, a.name).Because(err)
		}
	}
	if err := os.Chmod(dir, 0o700); err != nil {
		return cannot("The folder %s cannot be closed to others.", dir).Because(err)
	}
	return nil
}

// open makes dir and its parents where they are missing, so that a lent account can pass whatever the umask
// is; a normal user's are closed to others.
func (a account) open(dir string) error {
	if info, err := os.Stat(dir); err == nil && info.IsDir() {
		return nil
	}
	if parent := filepath.Dir(dir); parent != dir {
		if err := a.open(parent); err != nil {
			return err
		}
	}
	mode := fs.FileMode(0o700)
	if a.lent {
		mode = 0o755
	}
	err := os.Mkdir(dir, mode)
	if err == nil {
		err = os.Chmod(dir, mode)
	}
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return cannot("The folder %s cannot be made by the account %s. Give another one with -data.", dir, nameOf(os.Geteuid())).Because(err)
	}
	return nil
}
