package words_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foamwright/pricing/words"
)

// sentence is an entry of a catalogue: what it is said instead of, and its plural forms or its one text.
type sentence struct {
	file, english string
	forms         map[string]string // by name of the form; "" where there is one text
}

// catalogue reads the files of a tongue as they lie there.
func catalogue(t *testing.T, code string) (all []sentence) {
	t.Helper()
	files, err := filepath.Glob("messages/" + code + "/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no catalogue of %s: %v", code, err)
	}
	for _, name := range files {
		body, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var raw map[string]json.RawMessage
		if err := json.Unmarshal(body, &raw); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for english, value := range raw {
			s := sentence{file: name, english: english}
			var one string
			if json.Unmarshal(value, &one) == nil {
				s.forms = map[string]string{"": one}
			} else if err := json.Unmarshal(value, &s.forms); err != nil {
				t.Fatalf("%s: %q: %v", name, english, err)
			}
			all = append(all, s)
		}
	}
	return all
}

// TestEverySentenceIsInEveryTongue walks the program for what is said in a customer's tongue. Say is always called
// with the sentence itself, or by a function of the same file that is, or it could not be found; names that are known only at run time are said by Wording.
func TestEverySentenceIsInEveryTongue(t *testing.T) {
	said := saidInGo(t)
	for english, at := range saidInTemplates(t) {
		said[english] = at
	}
	if len(said) < 50 {
		t.Fatalf("only %d sentences were found: does the walk still work?", len(said))
	}
	for _, tongue := range words.Tongues() {
		once := map[string]sentence{}
		for _, s := range catalogue(t, tongue.Code()) {
			if before, twice := once[s.english]; twice && !maps.Equal(before.forms, s.forms) {
				t.Errorf("%q is said one way in %s and another in %s", s.english, before.file, s.file)
			}
			once[s.english] = s
			if said[s.english] == "" {
				t.Errorf("%s: nobody says %q", s.file, s.english)
			}
		}
		for english, at := range said {
			if _, ok := once[english]; !ok && tongue.Code() != "en" {
				t.Errorf("%s: the catalogue of %s lacks %q", at, tongue.Name(), english)
			}
		}
	}
}

// saidInGo are the sentences of calls of Say, with where one is.
func saidInGo(t *testing.T) map[string]string {
	t.Helper()
	said := map[string]string{}
	walk(t, ".go", func(path string, _ []byte) {
		if strings.HasSuffix(path, "_test.go") {
			return
		}
		files := token.NewFileSet()
		tree, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		sayers, handed := sayers(tree)
		ast.Inspect(tree, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok || handed[n] {
				return true
			}
			arg, ok := sayers[called(call)]
			if !ok || arg >= len(call.Args) {
				return true
			}
			at := files.Position(call.Pos()).String()
			if text, ok := literal(call.Args[arg]); ok {
				said[text] = at
			} else {
				t.Errorf("%s: Say needs the sentence itself; a name that is not known beforehand goes through Wording", at)
			}
			return true
		})
	})
	return said
}

// sayers are Say and the functions of a file that hand a parameter on to it, with the number of that parameter; handed
// are those calls of Say.
func sayers(file *ast.File) (by map[string]int, handed map[ast.Node]bool) {
	by, handed = map[string]int{"Say": 0}, map[ast.Node]bool{}
	add := func(name string, f *ast.FuncType, body *ast.BlockStmt) {
		at := map[string]int{}
		for _, field := range f.Params.List {
			for _, p := range field.Names {
				at[p.Name] = len(at)
			}
		}
		ast.Inspect(body, func(n ast.Node) bool {
			if call, ok := n.(*ast.CallExpr); ok && called(call) == "Say" && len(call.Args) > 0 {
				if sentence, ok := call.Args[0].(*ast.Ident); ok {
					if i, ok := at[sentence.Name]; ok {
						by[name], handed[n] = i, true
					}
				}
			}
			return true
		})
	}
	ast.Inspect(file, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			if n.Body != nil {
				add(n.Name.Name, n.Type, n.Body)
			}
		case *ast.AssignStmt:
			for i, right := range n.Rhs {
				if f, ok := right.(*ast.FuncLit); ok {
					if name, ok := n.Lhs[i].(*ast.Ident); ok {
						add(name.Name, f.Type, f.Body)
					}
				}
			}
		}
		return true
	})
	return by, handed
}

// called is the name of what a call calls.
func called(call *ast.CallExpr) string {
	switch f := call.Fun.(type) {
	case *ast.SelectorExpr:
		return f.Sel.Name
	case *ast.Ident:
		return f.Name
	}
	return ""
}

// literal is a string that is written out, in one piece or several.
func literal(e ast.Expr) (string, bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, err := strconv.Unquote(e.Value)
		return text, err == nil && e.Kind == token.STRING
	case *ast.BinaryExpr:
		left, ok := literal(e.X)
		right, also := literal(e.Y)
		return left + right, ok && also && e.Op == token.ADD
	}
	return "", false
}

// saidInTemplates are the sentences that pages say, {{say "…"}} or {{$t.Say "…"}}.
func saidInTemplates(t *testing.T) map[string]string {
	t.Helper()
	call := regexp.MustCompile(`(?:\bsay|\.Say)\s+(?:[$.][\w.$]*\s+)?("(?:[^"\\]|\\.)*"|` + "`[^`]*`)")
	said := map[string]string{}
	walk(t, ".html", func(path string, body []byte) {
		for _, m := range call.FindAllSubmatch(body, -1) {
			if text, err := strconv.Unquote(string(m[1])); err == nil {
				said[text] = path
			}
		}
	})
	return said
}

// walk reads the program's files of a kind, this room's aside: it says what others hand it.
func walk(t *testing.T, kind string, each func(path string, body []byte)) {
	t.Helper()
	err := filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && (d.Name() == ".git" || d.Name() == "testdata" || path == "../../pricing/words") {
			if err == nil {
				err = fs.SkipDir
			}
			return err
		}
		if filepath.Ext(path) != kind {
			return nil
		}
		body, err := os.ReadFile(path)
		if err == nil {
			each(path, body)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// TestVerbsAgree: every translation takes the arguments of its sentence, each as it is meant. One that takes them in
// another order says which: %[2]s.
func TestVerbsAgree(t *testing.T) {
	for _, tongue := range words.Tongues() {
		for _, s := range catalogue(t, tongue.Code()) {
			want := verbs(s.english)
			for form, text := range s.forms {
				got := verbs(text)
				if form == "=1" || form == "=0" || form == "one" && tongue.Code() != "fr" { // may say the number in a word
					if len(want) > 0 && got[0] == "" {
						got[0] = want[0]
					}
				}
				if !slices.Equal(args(got, len(want)), args(want, len(want))) || len(got) > max(1, len(want)) {
					t.Errorf("%s: %q takes %v, its form %q %q takes %v", s.file, s.english, want, form, text, got)
				}
			}
		}
	}
}

// verbs are what a text does with its arguments, by their place; at least one place.
func verbs(text string) []string {
	all, next := []string{""}, 0
	for _, m := range regexp.MustCompile(`%(?:\[(\d+)\])?([a-zA-Z%])`).FindAllStringSubmatch(text, -1) {
		if m[2] == "%" {
			continue
		}
		if m[1] != "" {
			next, _ = strconv.Atoi(m[1])
			next--
		}
		for len(all) <= next {
			all = append(all, "")
		}
		all[next] = m[2]
		next++
	}
	return all
}

// args are the first n verbs.
func args(verbs []string, n int) []string {
	return append(slices.Clone(verbs), make([]string, n)...)[:n]
}

// TestPluralForms: 0, 1, 2 and 5 in every tongue. That nothing is singular in French and plural in English and German
// is the CLDR's rule, from memory.
func TestPluralForms(t *testing.T) {
	for code, want := range map[string][4]string{
		"en": {"0 gems", "one gem", "2 gems", "5 gems"},
		"de": {"0 Schmucksteine", "ein Schmuckstein", "2 Schmucksteine", "5 Schmucksteine"},
		"fr": {"0 gemme", "une gemme", "2 gemmes", "5 gemmes"},
	} {
		s := words.Speak(code)
		var got [4]string
		for i, n := range []int{0, 1, 2, 5} {
			got[i] = s.Say("%d gems", n)
		}
		if got != want {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
	for _, tongue := range words.Tongues() {
		for _, s := range catalogue(t, tongue.Code()) {
			if _, one := s.forms[""]; one {
				continue
			}
			if s.forms["other"] == "" {
				t.Errorf("%s: %q has no form \"other\"", s.file, s.english)
			}
			if s.forms["one"]+s.forms["=0"] == "" && tongue.Code() == "fr" {
				t.Errorf("%s: %q needs a form \"one\" or \"=0\": nothing is singular in French", s.file, s.english)
			}
		}
	}
}
