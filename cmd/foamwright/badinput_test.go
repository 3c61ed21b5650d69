package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// inner are words of the program's insides that nobody at a terminal should meet.
var inner = regexp.MustCompile(`panic|goroutine|runtime error|nil pointer|\.go:\d|[^-]json: |strconv|geom:|nmarshal|map\[|<nil>|%!|pieces\[|interface|invalid syntax|EOF`)

// refused prices a bad file and gives its problems, one a line. Whatever is wrong: exit code 2, nothing on standard
// output, nothing of the program's insides.
func refused(t *testing.T, spec string) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "spec.json")
	fatal(t, os.WriteFile(file, []byte(spec), 0o644))
	code, out, problems := shell(t, "", "estimate", file)
	if code != 2 || out != "" {
		t.Errorf("exit code %d, printed %q", code, out)
	}
	if found := inner.FindString(problems); found != "" {
		t.Errorf("%q in %s", found, problems)
	}
	lines := strings.Split(strings.TrimSuffix(problems, "\n"), "\n")
	for _, line := range lines {
		if len(line) < 20 || len(line) > 400 || !strings.HasSuffix(line, ".") {
			t.Errorf("no sentence a maker can use: %q", line)
		}
	}
	return lines
}

// round is a spec that can be made, with its first entry in place of %s.
const round = `{"outline": {"shape": "round", "diameter": %s}, "core": {"foam": "mat-10"}}`

// Each names its entry, what was typed and what to write instead.
func TestBadSpecsAreRefusedInWords(t *testing.T) {
	with := func(more string) string {
		return `{"outline": {"shape": "round", "diameter": "60 cm"}, "core": {"foam": "mat-10"}, ` + more + `}`
	}
	for name, c := range map[string]struct {
		spec string
		says []string // of the lines, in order
	}{
		"empty":               {"", []string{"nothing in it"}},
		"blank":               {" \n\t\n", []string{"nothing in it"}},
		"comma too many":      {"{\"outline\": {\"shape\":\n \"round\",}\n", []string{"line 2"}},
		"broken off":          {"{\n\"outline\": {\n", []string{"line 3"}},
		"two specs":           {"{}\n{}", []string{"line 2"}},
		"a list":              {`[1]`, []string{"curly brackets"}},
		"a number":            {`7`, []string{"curly brackets"}},
		"null":                {`null`, []string{"outline.shape: Choose one of", "core.foam: Name the foam"}},
		"unknown entries":     {`{"outline": {"colour": "x"}, "zzz": 1}`, []string{"outline.colour: There is no such entry. Known here: shape", "zzz: There is no such entry. Known here: kind, name"}},
		"no unit":             {fmt.Sprintf(round, `"80"`), []string{`outline.diameter "80": 80 what? Write the unit too, for example 80 cm.`}},
		"below zero":          {fmt.Sprintf(round, `"-60 cm"`), []string{`outline.diameter "-60 cm": A length cannot be below zero.`}},
		"a number below zero": {fmt.Sprintf(round, `-600`), []string{`outline.diameter "-600": A length cannot be below zero.`}},
		"nothing":             {fmt.Sprintf(round, `0`), []string{`outline.diameter "0": Write the diameter, for example 58 cm.`}},
		"NaN as text":         {fmt.Sprintf(round, `"NaN"`), []string{`outline.diameter "NaN": This is not a length.`}},
		"NaN":                 {fmt.Sprintf(round, `NaN`), []string{"line 1"}},
		"infinity":            {fmt.Sprintf(round, `"inf cm"`), []string{`outline.diameter "inf cm"`}},
		"1e308":               {fmt.Sprintf(round, `1e308`), []string{`outline.diameter "1e308": That is longer than a kilometre.`}},
		"1e999999999":         {fmt.Sprintf(round, `1e999999999`), []string{`outline.diameter "1e999999999"`}},
		"tiny":                {fmt.Sprintf(round, `1e-300`), []string{`outline.diameter "1e-300"`}},
		"4 mm":                {fmt.Sprintf(round, `"4 mm"`), []string{`outline.diameter "4 mm": An outline is from 50 mm to 3 m.`}},
		"crossing":            {`{"outline": {"shape": "path", "d": "M0 0 L400 400 L400 0 L0 300 Z"}, "core": {"foam": "mat-10"}}`, []string{"outline.d: The outline crosses or touches itself at (171.429, 171.429) mm."}},
		"open":                {`{"outline": {"shape": "path", "d": "M0 0 L400 0 L400 400"}, "core": {"foam": "mat-10"}}`, []string{"outline.d: The outline is open: it starts at (0, 0) mm and ends at (400, 400) mm"}},
		"half off its axis":   {`{"outline": {"shape": "half", "d": "M5 0 L200 0 L200 400 L0 600"}, "core": {"foam": "mat-10"}}`, []string{"outline.d: The half outline starts 5 mm off the centre line"}},
		"no path":             {`{"outline": {"shape": "path", "d": "hello"}, "core": {"foam": "mat-10"}}`, []string{"outline.d"}},
		"unknown foam":        {`{"outline": {"shape": "round", "diameter": "60 cm"}, "core": {"foam": "cork"}}`, []string{`core.foam "cork": The catalogue has no such foam. It has mat-10`}},
		"no outline":          {`{"core": {"foam": "mat-10"}}`, []string{"outline.shape: Choose one of: round, oval"}},
		"no core":             {`{"outline": {"shape": "round", "diameter": "60 cm"}}`, []string{"core.foam: Name the foam of the layers"}},
		"none of them":        {with(`"quantity": 0`), []string{`quantity "0": Write a whole number from 1 to 500.`}},
		"half a shield":       {with(`"quantity": 0.5`), []string{`quantity "0.5": Write a whole number`}},
		"too many":            {with(`"quantity": 1e9`), []string{`quantity "1e9": Write a whole number`}},
		"500 of many panels":  {with(`"quantity": 500`), []string{`quantity "500": That takes`}},
		"a group for a text":  {with(`"name": {"x": 1}`), []string{"name: This takes one text or number"}},
		"a text for a list":   {with(`"paint": "red"`), []string{`paint "red": This takes a list, in square brackets.`}},
		"written twice":       {`{"outline": {"shape": "round", "diameter": "60 cm"}, "core": {"foam": "mat-10"}, "core": {"foam": "mat-12"}}`, []string{"core: This entry is written twice. Keep one of them."}},
		"twice inside":        {`{"outline": {"shape": "round", "diameter": "60 cm", "diameter": "70 cm"}, "core": {"foam": "mat-10"}}`, []string{"outline.diameter: This entry is written twice."}},
		"unprintable":         {with(`"name": "a\u0000b"`), []string{"name: There are characters in it that cannot be printed."}},
		"no such colour":      {with(`"paint": [{"colour": "sky"}]`), []string{`paint.0.colour "sky": The catalogue has no such colour.`}},
		"rim too wide":        {with(`"rim": {"width": "40 cm"}`), []string{`rim.width "400 mm": Nothing would be left inside it.`}},
		"rim too narrow":      {with(`"rim": {"width": "0.01 mm"}`), []string{`rim.width "0.01 mm": A strip of foam is at least 5 mm wide.`}},
		"piece off the sheet": {with(`"pieces": [{"foam": "half-5", "d": "M0 0 H5000 V5000 Z"}]`), []string{`pieces.0.d "5000 × 5000 mm": Half sheet 5 mm is 1000 × 500 mm`}},
		"kilometres carved":   {with(`"grooves": [{"length": "900 m", "passes": 5}]`), []string{"grooves: There are 4500 m of grooves"}},
		"a day that is over":  {with(`"delivery": {"by": "2026-03-04"}`), []string{`delivery.by "2026-03-04": That day is over.`}},
		"everything at once":  {`{"quantity": "many", "outline": {"shape": "egg"}, "core": {"foam": "mat-10", "layers": 99}}`, []string{`quantity "many"`, `outline.shape "egg"`, `core.layers "99"`}},
	} {
		t.Run(name, func(t *testing.T) {
			lines := refused(t, c.spec)
			if len(lines) != len(c.says) {
				t.Fatalf("%d problems instead of %d:\n%s", len(lines), len(c.says), strings.Join(lines, "\n"))
			}
			for i, want := range c.says {
				if !strings.Contains(lines[i], want) {
					t.Errorf("%q does not say %q", lines[i], want)
				}
			}
		})
	}
}

// Too large, too deep, too long and no text at all: refused as quickly, in one line.
func TestMonstrousFilesAreRefused(t *testing.T) {
	noise := make([]byte, 4096)
	random := rand.NewChaCha8([32]byte{7})
	_, _ = random.Read(noise) // never fails
	for name, spec := range map[string]string{
		"over 1 MB":       `{"name": "` + strings.Repeat("a", 1<<20) + `"}`,
		"10 MB":           strings.Repeat("x", 10<<20),
		"10 MB of spaces": strings.Repeat(" ", 10<<20) + "{}",
		"noise":           string(noise),
		"zeros":           strings.Repeat("\x00", 5000),
		"deep lists":      strings.Repeat("[", 200_000),
		"deep groups":     strings.Repeat(`{"outline":`, 50_000),
		"nested":          strings.Repeat(`{"outline":`, 5_000) + "1" + strings.Repeat("}", 5_000),
		"long list":       `{"paint": [` + strings.Repeat("{},", 300_000) + `{}]}`,
		"many entries":    `{` + strings.Repeat(`"name": "a",`, 80_000) + `"name": "b"}`,
		"long number":     fmt.Sprintf(round, strings.Repeat("9", 900_000)),
		"long length":     fmt.Sprintf(round, `"`+strings.Repeat("9", 900_000)+` cm"`),
	} {
		t.Run(name, func(t *testing.T) {
			for _, line := range refused(t, spec)[:1] {
				t.Log(line)
			}
		})
	}
}

// What is asked of the command itself, and files that are none.
func TestBadCommandsAreRefused(t *testing.T) {
	for _, args := range [][]string{
		{}, {"quote"}, {"estimate"}, {"estimate", "a", "b"}, {"estimate", "-wrong", "a"}, {"estimate", "-json=perhaps", "a"},
		{"estimate", "nowhere.json"}, {"estimate", t.TempDir()}, {"serve", "more"}, {"serve", "-secure=perhaps"},
	} {
		code, out, problems := shell(t, "", args...)
		lines := strings.Count(problems, "\n")
		if code != 2 || out != "" || inner.MatchString(problems) || len(args) > 0 && lines != 1 {
			t.Errorf("%v: exit code %d, printed %q and %q", args, code, out, problems)
		}
	}
	if code, out, problems := shell(t, "", "estimate", "-h"); code != 0 || problems != "" || !strings.Contains(out, "-steps") {
		t.Errorf("help: exit code %d, %q and %q", code, out, problems)
	}
}
