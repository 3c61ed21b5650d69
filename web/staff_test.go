package web_test

import (
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"foamwright/materials/fault"
	"foamwright/pricing/people"
)

// Somebody is added, comes in by a link, is given another role, and is shut out and let in again.
func TestPeopleComeAndGo(t *testing.T) {
	s := stocked(t)
	owner := s.as(people.Owner)
	owner.get("/workshop/people").says("The helper", "The bookkeeper", "since")
	for _, c := range []struct {
		field string
		typed url.Values
	}{
		{"name", url.Values{"name": {" "}, "login": {"ilse"}, "role": {"helper"}}},
		{"login", url.Values{"name": {"Ilse"}, "login": {"I l s e"}, "role": {"helper"}}},
		{"login", url.Values{"name": {"Ilse"}, "login": {"helper"}, "role": {"helper"}}}, // there is one
		{"role", url.Values{"name": {"Ilse"}, "login": {"ilse"}, "role": {"king"}}},
	} {
		a := owner.post("/workshop/people", c.typed)
		if seen := a.see(); a.StatusCode < 400 || seen.remedies[c.field] == "" || seen.fields["name"] != c.typed.Get("name") || seen.fields["login"] != c.typed.Get("login") {
			t.Errorf("%v: %d %v, %v", c.typed, a.StatusCode, seen.remedies, seen.fields)
		}
	}
	path := strings.TrimSuffix(owner.post("/workshop/people", url.Values{"name": {"Ilse"}, "login": {"Ilse"}, "role": {"bookkeeper"}}).to(), "?new=1")
	owner.get(path+"?new=1").says("Ilse was added", "Signs in as ilse")
	link := regexp.MustCompile(`/link/[\w-]{43}`).FindString(owner.post(path+"/link", nil).want(http.StatusOK).says("shown only now", "works once").body)
	if owner.get(path).lacks(link); owner.get(path+"/link").to() != path {
		t.Error("a page of a posted link cannot be asked for again")
	}
	ilse := s.visit()
	ilse.get(link).want(http.StatusOK)
	ilse.post(link, nil).want(http.StatusSeeOther)
	ilse.get("/quotes").want(http.StatusOK)

	owner.post(path, url.Values{"name": {"Ilse B."}, "role": {"helper"}}).want(http.StatusSeeOther)
	ilse.get("/quotes").want(http.StatusForbidden)
	ilse.get("/today").want(http.StatusOK)
	owner.post(path, url.Values{"name": {""}, "role": {"king"}}).want(http.StatusUnprocessableEntity)
	owner.get(path).says("Ilse B.")

	owner.post(path, url.Values{"do": {"sign out"}}).want(http.StatusSeeOther)
	ilse.get("/today").want(http.StatusSeeOther)
	again := regexp.MustCompile(`/link/[\w-]{43}`).FindString(owner.post(path+"/link", nil).body)
	owner.post(path, url.Values{"do": {"disable"}}).want(http.StatusSeeOther)
	owner.get(path).says("Let in again").lacks("Make a sign-in link")
	owner.get("/workshop/people").says("may not sign in since")
	ilse.get(again)
	ilse.post(again, nil).want(http.StatusUnauthorized)
	owner.post(path+"/link", nil).want(http.StatusConflict).says("Let them in again first")
	owner.post(path, url.Values{"do": {"enable"}}).want(http.StatusSeeOther)
	owner.post(path+"/link", nil).want(http.StatusOK).says("Here is the link")

	own := regexp.MustCompile(`/workshop/people/\d+"><span class="what">The owner`).FindString(owner.get("/workshop/people").body)
	own, _, _ = strings.Cut(own, `"`)
	for _, form := range []url.Values{{"do": {"disable"}}, {"name": {"The owner"}, "role": {"helper"}}} {
		owner.post(own, form).want(http.StatusConflict).says("only owner")
	}
	for _, bad := range []string{"/workshop/people/0", "/workshop/people/x", "/workshop/people/99999999999999999999"} {
		owner.get(bad).want(http.StatusNotFound)
		owner.post(bad, url.Values{"name": {"x"}, "role": {"helper"}}).want(http.StatusNotFound)
	}
	for _, role := range []people.Role{people.Helper, people.Bookkeeper} {
		v := s.as(role)
		v.get("/workshop/people").want(http.StatusForbidden)
		for _, to := range []string{"/workshop/people", path, path + "/link", path + "/token/1/end"} {
			v.post(to, url.Values{"name": {"Eve"}, "login": {"eve"}, "role": {"owner"}}).want(http.StatusForbidden)
		}
	}
}

// A token works for whoever made it until they end it, or the owner does.
func TestTokensAreMadeAndEnded(t *testing.T) {
	s := stocked(t)
	v := s.as(people.Helper)
	secret := func(name string) string {
		t.Helper()
		return regexp.MustCompile(`fw_[\w-]{43}`).FindString(v.post("/account/token", url.Values{"name": {name}}).want(http.StatusOK).says("shown only now").body)
	}
	works := func(secret string, want bool) {
		t.Helper()
		who, err := s.people.Bearer(t.Context(), secret)
		if want != (err == nil && who.Role == people.Helper) || !want && fault.KindOf(err) != fault.Unauthenticated {
			t.Errorf("%+v, %v", who, err)
		}
	}
	scale, script := secret("Bench scale"), secret("Script")
	works(scale, true)
	works(script, true)
	v.get("/account").says("Bench scale", "last used").lacks(scale, script)
	if a := v.post("/account/token", url.Values{"name": {"Script"}}).want(http.StatusConflict); a.see().remedies["name"] == "" {
		t.Error("a name taken is not told")
	}
	v.post("/account/token", url.Values{"name": {strings.Repeat("long ", 99)}}).want(http.StatusUnprocessableEntity)
	ends := regexp.MustCompile(`/account/token/\d+/end`).FindAllString(v.get("/account").body, -1) // the newest first
	s.as(people.Bookkeeper).post(ends[0], nil).want(http.StatusSeeOther)
	works(script, true)
	v.post(ends[0], nil).want(http.StatusSeeOther)
	v.post(ends[0], nil).want(http.StatusSeeOther)
	works(script, false)
	works(scale, true)

	owner := s.as(people.Owner)
	for _, path := range regexp.MustCompile(`/workshop/people/\d+`).FindAllString(owner.get("/workshop/people").body, -1) {
		if end := regexp.MustCompile(path + `/token/\d+/end`).FindString(owner.get(path).body); end != "" {
			owner.get(path).says("Bench scale")
			owner.post(end, nil).want(http.StatusSeeOther)
		}
	}
	works(scale, false)

	other := s.as(people.Helper)
	v.post("/account/sign-out", nil).want(http.StatusSeeOther)
	v.get("/account").want(http.StatusSeeOther)
	other.get("/account").want(http.StatusSeeOther)
}
