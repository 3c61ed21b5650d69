package main

import (
	"regexp"
	"strings"
	"testing"

	"foamwright/db/dbtest"
)

// People are added, changed, shut out and let in again by the command line, and their tokens made and ended.
func TestUserCommand(t *testing.T) {
	at := []string{"-database-url", dbtest.URL(t)}
	run := func(want int, in, says string, args ...string) (out string) {
		t.Helper()
		code, out, problems := shell(t, in, append(append([]string{"user"}, args...), at...)...)
		if code != want || !regexp.MustCompile(says).MatchString(out+problems) {
			t.Errorf("%v: exit code %d: %s%s", args, code, out, problems)
		}
		return out
	}
	jonas := []string{"-login", "Jonas"}
	with := func(more ...string) []string { return append(jonas[:len(jonas):len(jonas)], more...) }
	run(1, "", `Nobody has the login "Jonas"`, jonas...)
	run(0, "three old boots\n", "Mara signs in as mara", "-login", "mara", "-name", "Mara", "-role", "helper", "-password")
	run(0, "", `^mara +Mara, owner\n$`) // the first is
	run(0, "", `Jonas signs in once at /link/[\w-]{43} until`, with("-name", "Jonas")...)
	run(0, "", `jonas +Jonas, helper\n`)
	run(1, "", "login", with("-name", "Jonas")...)
	run(2, "", "role", with("-role", "king")...)
	run(0, "", "Jonas is bookkeeper now", with("-role", "bookkeeper")...)
	run(2, "another old boot\n", "sign-in link", with("-password")...)
	secret := run(0, "", `shown once: fw_[\w-]{43}`, with("-token", "Bench scale")...)
	run(1, "", "name", with("-token", "Bench scale")...)
	run(1, "", `no API token "scale"\. There are: Bench scale\.`, with("-end-token", "scale")...)
	run(0, "", "no API token of that name any more", with("-end-token", "Bench scale")...)
	run(1, "", "There are: none", with("-end-token", "Bench scale")...)
	run(0, "", "Jonas is signed out everywhere", with("-sign-out")...)
	run(0, "", "Jonas may no longer sign in", with("-disable")...)
	if list := run(0, "", `jonas +Jonas, bookkeeper, may not sign in\n`); strings.Contains(list, strings.TrimSpace(secret)) {
		t.Error(list)
	}
	run(0, "", "Jonas may sign in again", with("-enable")...)
	run(1, "", "only owner", "-login", "mara", "-disable")
	run(1, "", "only owner", "-login", "mara", "-role", "helper")
}
