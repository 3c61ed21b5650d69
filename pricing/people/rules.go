package people

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"foamwright/materials/fault"

	"golang.org/x/text/secure/precis"
)

// Lengths in characters. Long passwords and no rules of composition follow NIST SP 800-63B (from memory);
// the upper end only bounds the work.
const (
	minLogin, maxLogin       = 2, 64
	minPassword, maxPassword = 10, 200
	maxName                  = 100
)

// CanonicalLogin is the form in which logins are kept and compared: the UsernameCaseMapped profile of
// RFC 8265, so that "Mara" and "mara" are one person. It is false for what can be no login.
func CanonicalLogin(typed string) (string, bool) {
	login, err := precis.UsernameCaseMapped.String(strings.TrimSpace(typed))
	n := utf8.RuneCountInString(login)
	return login, err == nil && utf8.ValidString(typed) && n >= minLogin && n <= maxLogin
}

// canonicalPassword is the OpaqueString profile of RFC 8265: the same characters from any keyboard.
func canonicalPassword(typed string) (string, bool) {
	if len(typed) > utf8.UTFMax*maxPassword {
		return "", false
	}
	p, err := precis.OpaqueString.String(typed)
	return p, err == nil && utf8.ValidString(typed) && utf8.RuneCountInString(p) <= maxPassword
}

// check puts an entry into its kept form and notes everything wrong with it.
func (e *Entry) check(l *fault.List, needPassword bool) {
	typed := e.Login
	login, ok := CanonicalLogin(typed)
	if e.Login = login; !ok {
		l.Add("login", typed, "Write a login of 2 to 64 letters, digits or signs, without spaces; an e-mail address will do.")
	}
	e.Name = checkName(l, e.Name)
	checkRole(l, e.Role)
	if needPassword || e.Password != "" {
		e.Password = checkPassword(l, "password", e.Password, login)
	}
}

// checkPassword never repeats the password: the problem's value stays empty.
func checkPassword(l *fault.List, field, typed, login string) string {
	p, ok := canonicalPassword(typed)
	n := utf8.RuneCountInString(p)
	switch {
	case utf8.RuneCountInString(typed) > maxPassword:
		l.Add(field, "", "Use at most 200 characters.")
	case utf8.RuneCountInString(typed) < minPassword, ok && n < minPassword:
		l.Add(field, "", "Use at least 10 characters; a few words in a row are easy to remember.")
	case !ok:
		l.Add(field, "", "Leave out control characters such as tabs.")
	case strings.EqualFold(p, login):
		l.Add(field, "", "Choose something other than the login itself.")
	}
	return p
}

func checkName(l *fault.List, typed string) string {
	name := strings.TrimSpace(typed)
	n := utf8.RuneCountInString(name)
	if n == 0 || n > maxName || !utf8.ValidString(name) || strings.ContainsFunc(name, unicode.IsControl) {
		l.Add("name", typed, "Write the name as the workshop says it, up to 100 characters on one line.")
	}
	return name
}

func checkRole(l *fault.List, r Role) {
	for _, known := range Roles() {
		if r == known {
			return
		}
	}
	l.Add("role", string(r), "Choose owner, helper or bookkeeper.")
}
