package stock

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/shopspring/decimal"

	"foamwright/materials/fault"
)

// What a file may hold at most.
const (
	MaxCSV    = 2 << 20 // bytes
	mostRows  = 10_000
	mostWrong = 50 // problems that are named at once
	byteOrder = "\ufeff"
	yes       = "yes"
)

// risky are the characters that make a spreadsheet take a text for a formula. In front of them, and of the mark
// itself, an apostrophe is written; it is taken off again when the file is read.
const (
	risky = "=+-@\t\r\n＝＋－＠'"
	mark  = "'"
)

// Guarded is a text as a cell of a file: a spreadsheet does not take it for a formula.
func Guarded(text string) string {
	if first, _ := utf8.DecodeRuneInString(text); text != "" && strings.ContainsRune(risky, first) {
		return mark + text
	}
	return text
}

// table is a CSV file as it was read: rows by the names of their columns, and all that is wrong with it. Rows are
// numbered as a spreadsheet shows them, the names of the columns being row 1.
type table struct {
	fault.List
	columns map[string]int
	names   []string
	rows    []row
}

type row struct {
	n     int
	cells []string
	*table
}

// wrong notes what is wrong with a cell, up to a number that somebody can still read.
func (t *table) wrong(n int, column, value, remedy string) {
	switch {
	case t.Len() == mostWrong:
		t.Add("", "", fmt.Sprintf("There is more to put right after these %d.", mostWrong))
	case t.Len() < mostWrong:
		if n > 0 { // else it is an entry of a form
			column = fmt.Sprintf("row %d, %s", n, column)
		}
		t.Add(column, value, remedy)
	}
}

// readTable reads a file whose columns are among known; those of needed must be there. Commas, semicolons and tabs
// may stand between cells, whichever the names of the columns have most of.
func readTable(data []byte, known, needed []string) (*table, error) {
	t := &table{columns: map[string]int{}}
	switch {
	case len(data) > MaxCSV:
		return nil, fault.New(fault.TooLarge, "The file is larger than 2 MB, more than is read at once. Cut it into several.")
	case !utf8.Valid(data) || bytes.IndexByte(data, 0) >= 0:
		return nil, refuse("", "", "The file is not written in UTF-8. Save it again as CSV UTF-8.")
	}
	data = bytes.TrimPrefix(data, []byte(byteOrder))
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.ReuseRecord = between(data), -1, false
	for n := 1; ; n++ {
		cells, err := r.Read()
		var broken *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			if n == 1 {
				t.Add("", "", "There is nothing in the file. Its first row names the columns: "+strings.Join(known, ", ")+".")
			}
			return t, t.Err()
		case errors.As(err, &broken):
			t.Add(fmt.Sprintf("line %d", broken.Line), "", "The quotation marks do not pair up here. Put a cell with quotation marks between two of them and write each inside twice.")
			return t, t.Err()
		case err != nil:
			return nil, err
		case n > mostRows+1:
			return nil, fault.New(fault.TooLarge, "The file has more than %d rows, more than are read at once. Cut it into several.", mostRows)
		case n == 1:
			if t.name(cells, known, needed); !t.Empty() {
				return t, t.Err()
			}
		default:
			t.take(n, cells)
		}
	}
}

// between is what stands between the cells of the first line.
func between(data []byte) rune {
	first, _, _ := bytes.Cut(data, []byte("\n"))
	best := ','
	for _, c := range ";\t" {
		if bytes.Count(first, []byte(string(c))) > bytes.Count(first, []byte(string(best))) {
			best = c
		}
	}
	return best
}

// name reads the names of the columns.
func (t *table) name(cells, known, needed []string) {
	for i, cell := range cells {
		name := strings.Join(strings.Fields(cell), " ")
		if k := slices.IndexFunc(known, func(k string) bool { return strings.EqualFold(k, name) }); k >= 0 {
			name = known[k]
		}
		_, twice := t.columns[name]
		switch {
		case name == "" && i == len(cells)-1: // a separator too many at the end
		case !slices.Contains(known, name):
			t.wrong(1, fmt.Sprintf("column %d", i+1), cell, "There is no such column. Known are: "+strings.Join(known, ", ")+".")
		case twice:
			t.wrong(1, fmt.Sprintf("column %d", i+1), cell, "This column is there twice. Keep one.")
		}
		t.columns[name] = i
		t.names = append(t.names, name)
	}
	for _, name := range needed {
		if _, there := t.columns[name]; !there {
			t.wrong(1, name, "", "This column is missing.")
		}
	}
}

// take keeps a row; one without anything in it is left out.
func (t *table) take(n int, cells []string) {
	if !slices.ContainsFunc(cells, func(c string) bool { return c != "" }) {
		return
	}
	for len(cells) > len(t.names) && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	if len(cells) != len(t.names) {
		t.wrong(n, "all", "", fmt.Sprintf("This row has %d cells where there are %d columns.", len(cells), len(t.names)))
		return
	}
	t.rows = append(t.rows, row{n, cells, t})
}

// has tells whether the file has a column at all.
func (t *table) has(column string) bool {
	_, there := t.columns[column]
	return there
}

// text is a cell as it was meant; nothing where there is no such column.
func (r row) text(column string) string {
	if i, there := r.columns[column]; there {
		return oneEnd(strings.TrimPrefix(r.cells[i], mark))
	}
	return ""
}

// number is a decimal with a point; an empty cell is none.
func (r row) number(column string) decimal.Decimal {
	text := strings.TrimSpace(r.text(column))
	if text == "" {
		return decimal.Zero
	}
	d, err := decimal.NewFromString(text)
	if err != nil || len(text) > 20 || strings.Trim(text, "-0123456789.") != "" {
		r.wrong(r.n, column, text, "This is no number. Write one with a point and without anything else, for example 12.5.")
		return decimal.Zero
	}
	return d
}

func (r row) whole(column string) int {
	d := r.number(column)
	if !d.IsInteger() || d.Abs().GreaterThan(decimal.NewFromInt(1_000_000)) {
		r.wrong(r.n, column, d.String(), "Write a whole number.")
		return 0
	}
	return int(d.IntPart())
}

func (r row) tick(column string) bool {
	switch text := strings.ToLower(strings.TrimSpace(r.text(column))); text {
	case yes:
		return true
	case "", "no":
	default:
		r.wrong(r.n, column, text, "Write yes, or leave it empty.")
	}
	return false
}

func (r row) day(column string) time.Time {
	text := strings.TrimSpace(r.text(column))
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		r.wrong(r.n, column, text, "Write a day as year, month and day, for example 2026-03-01.")
	}
	return day
}

// check notes the problems of a check under the columns that show the fields; those without a column are left out.
func (r row) check(err error, column func(field string) string) error {
	if err != nil && fault.KindOf(err) != fault.Invalid {
		return err
	}
	for _, p := range fault.ProblemsOf(err) {
		if name := column(p.Field); name != "" {
			r.wrong(r.n, name, p.Value, p.Remedy)
		}
	}
	return nil
}

// writeTable writes rows below the names of their columns, marked as UTF-8 so that spreadsheets read m² as m².
func writeTable(w io.Writer, names []string, rows [][]string) error {
	if _, err := io.WriteString(w, byteOrder); err != nil {
		return err
	}
	c := csv.NewWriter(w)
	if err := c.Write(names); err != nil {
		return err
	}
	return c.WriteAll(rows)
}

func ticked(is bool) string {
	if is {
		return yes
	}
	return ""
}

// none writes nothing for zero.
func none(d decimal.Decimal) string {
	if d.IsZero() {
		return ""
	}
	return d.String()
}
