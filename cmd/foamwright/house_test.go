package main

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// anywhere may be imported by every room: how failures are told and how amounts are written.
var anywhere = rooms("materials/fault", "materials/measure")

// table is which room may import which of ours; a new arrow is argued for here, beside its reason.
var table = []struct {
	room   string
	may    []string
	reason string
}{
	{"materials/fault", nil, "the lowest room: how failures are told"},
	{"materials/measure", rooms("materials/fault"), "exact amounts; knows nothing of the trade"},
	{"materials/geom", nil, "outlines in mm; knows nothing of shields"},
	{"materials", nil, "the catalogue; no money"},
	{"materials/shield", rooms("materials", "materials/geom"), "a spec worked out"},
	{"materials/artwork", rooms("materials/geom"), "a customer's drawing file"},
	{"materials/orderform", rooms("materials/shield", "materials/geom", "materials/artwork"), "a spec as written: the one way from JSON, file or page to a spec"},
	{"materials/cutplan", rooms("materials/geom"), "places pieces, whatever they are for"},
	{"materials/takeoff", rooms("materials", "materials/shield", "materials/cutplan", "materials/geom"), "what a shield takes"},
	{"materials/stock", rooms("materials", "materials/geom", "materials/cutplan", "pricing/money"), "the shelf: what is there, promised, bought, and its worth; the one arrow up between the folders"},
	{"materials/drawing", rooms("materials/shield", "materials/cutplan", "materials/geom"), "draws parts and plans"},
	{"materials/pattern", rooms("materials", "materials/shield", "materials/geom"), "templates at their true size; prints them itself, for a library of documents knows no tiles"},
	{"pricing/money", nil, "amounts of a currency"},
	{"pricing/people", nil, "who signs in"},
	{"pricing/tax", rooms("pricing/money"), "tax on amounts"},
	{"pricing/transfer", rooms("pricing/money"), "accounts, payment references and payment codes; below sales, which prints them"},
	{"pricing/words", rooms("pricing/money"), "amounts and dates as people read them"},
	{"pricing/enquiry", rooms("materials/shield", "materials/orderform", "pricing/words"), "reads a customer's words into a written spec and questions; beside sales, for it keeps nothing and knows no prices"},
	{"pricing/labour", rooms("materials", "materials/takeoff", "pricing/money"), "work from drivers"},
	{"pricing/schedule", rooms("materials", "pricing/labour"), "days from work; of the catalogue only what a wait goes by"},
	{"pricing", append(below("materials", "materials/drawing", "materials/orderform"), rooms("pricing/money", "pricing/tax", "pricing/labour", "pricing/schedule")...), "a price of a spec"},
	{"pricing/workshop", append(below("materials", "materials/drawing", "materials/orderform"), rooms("pricing", "pricing/words", "pricing/money", "pricing/tax", "pricing/transfer", "pricing/labour", "pricing/schedule")...), "the maker's settings; two sentences of them are said to customers"},
	{"pricing/sales", append(below("materials", "materials/drawing"), below("pricing", "pricing/plot", "pricing/figures", "pricing/pdf", "pricing/calendar", "pricing/einvoice", "pricing/sales", "pricing/people")...), "from draft to issued document"},
	{"pricing/figures", append(below("materials"), rooms("pricing", "pricing/plot", "pricing/words", "pricing/money", "pricing/tax", "pricing/labour", "pricing/schedule", "pricing/workshop", "pricing/sales")...), "what pays: reads documents, changes nothing; of tax only the net of a price that is asked about"},
	{"pricing/plot", rooms("materials/drawing", "materials/geom"), "draws figures as plots; alone beside pdf it knows floats, of places on a sheet"},
	{"pricing/pdf", rooms("pricing/sales", "pricing/schedule", "materials/drawing", "materials/shield", "pricing/words", "pricing/tax", "pricing/money", "pricing/transfer"), "prints documents; of the shield only its answer to the size rule"},
	{"pricing/einvoice", rooms("pricing/sales", "pricing/tax", "pricing/money", "pricing/transfer", "pricing/words"), "invoices for other programs: UBL, its few sentences in the customer's tongue"},
	{"pricing/calendar", rooms("pricing/sales", "pricing/schedule"), "the plan of the bench for other programs' calendars"},
	{"db", append(below("materials", "materials/drawing"), append(below("pricing", "pricing/plot", "pricing/pdf", "pricing/calendar", "pricing/einvoice"), "db/migrations")...), "implements every store"},
	{"db/migrations", nil, "the tables"},
	{"db/localpg", nil, "the private server"},
	{"db/dbtest", rooms("db", "db/localpg", "db/migrations"), "a database per test"},
	{"api/problem", nil, "failures over HTTP"},
	{"api/guard", rooms("pricing/people", "api/problem"), "who may pass"},
	{"api", append(below("materials"), append(below("pricing"), rooms("api/problem", "api/guard")...)...), "the JSON face"},
	{"web", append(below("materials"), append(below("pricing"), rooms("materials/pattern", "api/problem", "api/guard")...)...), "the pages; of api only the guard and the failures"},
	{"cmd/foamwright/mail", rooms("pricing/sales"), "sends what waits in the books to the owner's mail server"},
	{"cmd/foamwright/demo", append(below("materials", "materials/drawing"), below("pricing", "pricing/plot", "pricing/figures", "pricing/pdf", "pricing/einvoice")...), "the invented workshop"},
	{"cmd/foamwright", append(below("materials"), append(below("pricing"), rooms("materials/pattern", "db", "db/localpg", "api", "api/guard", "api/problem", "web", "cmd/foamwright/demo", "cmd/foamwright/mail")...)...), "joins everything"},
}

// only is which rooms may import a library from outside that the design keeps in one place.
var only = map[string][]string{
	"github.com/jackc/pgx":                 {"db", "db/dbtest", "db/localpg"},
	"github.com/pressly/goose":             {"db"},
	"github.com/johnfercher/maroto":        {"pricing/pdf"},
	"github.com/arran4/golang-ical":        {"pricing/calendar"},
	"github.com/phpdave11/gofpdf":          {"materials/drawing", "materials/pattern", "pricing/pdf"},
	"github.com/wneessen/go-mail":          {"cmd/foamwright/mail"},
	"github.com/boombuler/barcode":         {"pricing/pdf"},
	"github.com/gofiber/fiber":             {"api", "api/guard", "api/problem", "web", "cmd/foamwright"},
	"github.com/danielgtaylor/huma":        {"api"},
	"github.com/peterstace/simplefeatures": {"materials/geom", "materials/cutplan"},
	"net/http":                             {"api", "api/problem", "api/guard"},
	"html/template":                        {"web"},
	"database/sql":                         {},
}

func rooms(names ...string) []string { return names }

// below is every listed room under a folder, the folder's own package too, but for some.
func below(folder string, but ...string) []string {
	all := map[string][]string{
		"materials": rooms("materials", "materials/geom", "materials/artwork", "materials/shield", "materials/orderform", "materials/cutplan", "materials/takeoff", "materials/stock", "materials/drawing"),
		"pricing":   rooms("pricing", "pricing/money", "pricing/people", "pricing/tax", "pricing/transfer", "pricing/words", "pricing/labour", "pricing/schedule", "pricing/workshop", "pricing/enquiry", "pricing/sales", "pricing/plot", "pricing/figures", "pricing/pdf", "pricing/calendar", "pricing/einvoice"),
	}
	return slices.DeleteFunc(slices.Clone(all[folder]), func(name string) bool { return slices.Contains(but, name) })
}

// room is a package as the go command lists it.
type room struct {
	ImportPath, Dir string
	Imports         []string
	GoFiles         []string
}

const module = "foamwright/"

func house(t *testing.T) map[string]room {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,GoFiles", module+"...").Output()
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]room{}
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var r room
		if err := dec.Decode(&r); errors.Is(err, io.EOF) {
			return found
		} else if err != nil {
			t.Fatal(err)
		}
		if len(r.GoFiles) > 0 {
			found[strings.TrimPrefix(r.ImportPath, module)] = r
		}
	}
}

func TestImportTable(t *testing.T) {
	found := house(t)
	listed := map[string]bool{}
	for _, row := range table {
		listed[row.room] = true
		r, ok := found[row.room]
		if !ok {
			t.Errorf("the table has %s, the house does not", row.room)
			continue
		}
		for _, path := range r.Imports {
			name, ours := strings.CutPrefix(path, module)
			if ours && !slices.Contains(row.may, name) && !slices.Contains(anywhere, name) {
				t.Errorf("%s (%s) imports %s", row.room, row.reason, name)
			}
			for library, where := range only {
				if strings.HasPrefix(path, library) && !slices.Contains(where, row.room) {
					t.Errorf("%s imports %s, which is kept to %v", row.room, library, where)
				}
			}
		}
	}
	for name := range found {
		if !listed[name] {
			t.Errorf("%s is not in the table: say what it may import, and why", name)
		}
	}
}

// Every package says what it is for and where it ends; nothing runs before main; files stay small; domain types
// carry no JSON tags; money never meets a float.
func TestHabits(t *testing.T) {
	for name, r := range house(t) {
		doc := ""
		for _, file := range r.GoFiles {
			path := filepath.Join(r.Dir, file)
			set := token.NewFileSet()
			parsed, err := parser.ParseFile(set, path, nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			doc += parsed.Doc.Text()
			where := name + "/" + file
			if lines := set.File(parsed.Pos()).LineCount(); lines > 500 {
				t.Errorf("%s has %d lines: does it still hold one thing?", where, lines)
			}
			domain := strings.HasPrefix(name, "materials") || strings.HasPrefix(name, "pricing")
			ast.Inspect(parsed, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.FuncDecl:
					if n.Name.Name == "init" && n.Recv == nil {
						t.Errorf("%s has an init function", where)
					}
				case *ast.TypeSpec:
					if s, ok := n.Type.(*ast.StructType); ok && domain && n.Name.IsExported() && name != "materials/orderform" && tagged(s) {
						t.Errorf("%s: %s has JSON tags; written forms belong to orderform and api", where, n.Name)
					}
				case *ast.Ident:
					if (n.Name == "float64" || n.Name == "float32" || n.Name == "InexactFloat64") && strings.HasPrefix(name, "pricing") && name != "pricing/pdf" && name != "pricing/plot" {
						t.Errorf("%s: %s; floats stop at measure", where, n.Name)
					}
				}
				return true
			})
		}
		if !strings.Contains(doc, "Package ") && !strings.Contains(doc, "Command ") || len(doc) < 80 {
			t.Errorf("%s has no package comment that says purpose, units and limits", name)
		}
		if base := filepath.Base(name); strings.Contains(base, "util") || base == "common" || base == "helpers" {
			t.Errorf("%s says nothing about what is in it", name)
		}
	}
}

func tagged(s *ast.StructType) bool {
	return slices.ContainsFunc(s.Fields.List, func(f *ast.Field) bool { return f.Tag != nil })
}

// The top level is fixed.
func TestTopLevel(t *testing.T) {
	fixed := strings.Fields("cmd api pricing materials db web testdata go.mod go.sum README.md DEVELOPERS.md Makefile out")
	entries, err := fs.Glob(os.DirFS("../.."), "*")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasPrefix(e, ".") && !slices.Contains(fixed, e) {
			t.Errorf("%s does not belong at the top", e)
		}
	}
}
