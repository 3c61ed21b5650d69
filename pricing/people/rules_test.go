package people

import (
	"strings"
	"testing"
	"time"

	"foamwright/materials/fault"
)

func TestCanonicalLogin(t *testing.T) {
	for typed, want := range map[string]string{
		"mara": "mara", " Mara ": "mara", "MARA@Example.org": "mara@example.org", "Ｍａｒａ": "mara", // full width
		"ju\u0308rgen": "jürgen", "jo": "jo", "i.l-s_e+1": "i.l-s_e+1",
	} {
		if got, ok := CanonicalLogin(typed); !ok || got != want {
			t.Errorf("%q: %q, %v; want %q", typed, got, ok, want)
		}
	}
	for _, typed := range []string{"", " ", "m", "ma ra", "ma\x00ra", "ma\tra", "ma\u202era", "\xff\xfe", "ma\xffra", strings.Repeat("m", 65), "♞♞"} {
		if got, ok := CanonicalLogin(typed); ok {
			t.Errorf("%q is taken as %q", typed, got)
		}
	}
}

func TestPasswordRules(t *testing.T) {
	for _, c := range []struct {
		name, typed, remedy string
	}{
		{"ten", "0123456789", ""},
		{"ten letters of any script", "ßßßßßßßßßß", ""},
		{"two hundred", strings.Repeat("ж", 200), ""},
		{"blanks are characters", "a b c d e f", ""},
		{"nine", "012345678", "at least 10"},
		{"ten that become nine", "01234567u\u0308", "at least 10"},
		{"none", "", "at least 10"},
		{"two hundred and one", strings.Repeat("x", 201), "at most 200"},
		{"a book", strings.Repeat("x", 1<<20), "at most 200"},
		{"a control character", "0123456789\x00", "control"},
		{"broken text", "0123456789\xff", "control"},
		{"the login", "Long.Login.Mara", "login itself"},
	} {
		var l fault.List
		checkPassword(&l, "password", c.typed, "long.login.mara")
		if c.remedy == "" && !l.Empty() {
			t.Errorf("%s: %v", c.name, l.Err())
		}
		if c.remedy == "" {
			continue
		}
		p := fault.ProblemsOf(l.Err())
		if len(p) != 1 || p[0].Field != "password" || p[0].Value != "" || !strings.Contains(p[0].Remedy, c.remedy) {
			t.Errorf("%s: %+v", c.name, p)
		}
	}
}

func TestEntryNamesEveryProblemAtOnce(t *testing.T) {
	var l fault.List
	e := Entry{Login: "a b", Name: "two\nlines", Role: "king", Password: "short"}
	e.check(&l, true)
	var fields []string
	for _, p := range fault.ProblemsOf(l.Err()) {
		fields = append(fields, p.Field)
	}
	if got := strings.Join(fields, " "); got != "login name role password" {
		t.Errorf("problems with %s", got)
	}
}

func TestOnlyHelperSeesNoPrices(t *testing.T) {
	for _, r := range append(Roles(), "") {
		if want := r == Owner || r == Bookkeeper; r.SeesPrices() != want {
			t.Errorf("%q sees prices: %v", r, !want)
		}
	}
}

func TestWaitIsRoundedUp(t *testing.T) {
	for wait, want := range map[int]string{1: "1 minute.", 60: "1 minute.", 61: "2 minutes.", 900: "15 minutes."} {
		if got := TooMany(time.Duration(wait) * time.Second).Error(); got != "Too many attempts; try again in "+want {
			t.Errorf("%d s: %s", wait, got)
		}
	}
}

// FuzzLogin: a login that is taken stays what it is when it is typed again.
func FuzzLogin(f *testing.F) {
	f.Add("Mara")
	f.Add("ſtraße@Ｘ")
	f.Fuzz(func(t *testing.T, typed string) {
		login, ok := CanonicalLogin(typed)
		if !ok {
			return
		}
		if again, ok := CanonicalLogin(login); !ok || again != login {
			t.Fatalf("%q becomes %q, then %q (%v)", typed, login, again, ok)
		}
	})
}
