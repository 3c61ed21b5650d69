package stock

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
)

// column is one property of an item as it is written: a cell of a file, an entry of a form.
type column struct {
	name  string                            // in files
	field string                            // in forms and faults
	of    []Family                          // that have it; all when empty
	write func(i Item) string               // called for these families only
	read  func(r row, name string, i *Item) // likewise
}

// has tells whether items of a family have the property.
func (c column) has(f Family) bool { return len(c.of) == 0 || slices.Contains(c.of, f) }

const (
	colCode = "code"
	colKind = "kind"
)

// itemColumns are the properties of items, in trade words. Empty means none.
func itemColumns() []column {
	return slices.Concat(commonColumns(), foamColumns(), liquidColumns(), goodColumns(), keepingColumns())
}

func commonColumns() []column {
	return []column{
		{colCode, "code", nil, func(i Item) string { return i.Code }, func(row, string, *Item) {}}, // read by begin
		{"name", "name", nil, func(i Item) string { return i.Name }, func(r row, n string, i *Item) { i.Name = r.text(n) }},
		{colKind, "kind", nil, func(i Item) string { return string(i.Family()) }, func(row, string, *Item) {}}, // read by begin
		{"unit", "unit", nil, func(i Item) string { return string(i.Unit) }, readUnit},
		{"place", "place", nil, func(i Item) string { return none(decimal.NewFromInt(int64(i.Place))) }, func(r row, n string, i *Item) {
			if strings.TrimSpace(r.text(n)) != "" {
				i.Place = r.whole(n)
			}
		}},
		{"use", "use", []Family{Liquid, Good}, func(i Item) string { return string(i.Use()) }, func(r row, n string, i *Item) {
			use := materials.Use(r.text(n))
			if i.Liquid != nil {
				i.Liquid.Use = use
			} else {
				i.Good.Use = use
			}
		}},
	}
}

func readUnit(r row, n string, i *Item) {
	unit, err := measure.ParseUnit(r.text(n))
	if err != nil {
		_ = r.check(err, func(string) string { return n }) // always Invalid
		return
	}
	i.Unit = unit
	if i.Good != nil {
		i.Good.Unit = unit
	}
}

func foamColumns() []column {
	of := []Family{Foam}
	length := func(name, field string, at func(*materials.Foam) *measure.Length) column {
		return column{name, field, of, func(i Item) string { return none(at(i.Foam).Decimal()) }, func(r row, n string, i *Item) { *at(i.Foam) = r.length(n) }}
	}
	return []column{
		{"form", "form", of, func(i Item) string { return string(i.Foam.Form) }, func(r row, n string, i *Item) { i.Foam.Form = materials.Form(strings.TrimSpace(r.text(n))) }},
		length("thickness mm", "thickness", func(f *materials.Foam) *measure.Length { return &f.Thickness }),
		length("width mm", "width", func(f *materials.Foam) *measure.Length { return &f.Width }),
		length("height mm", "height", func(f *materials.Foam) *measure.Length { return &f.Height }),
		length("pitch mm", "pitch", func(f *materials.Foam) *measure.Length { return &f.Pitch }),
		{"density kg/m³", "density_kg_m3", of, func(i Item) string { return none(i.Foam.Density) }, func(r row, n string, i *Item) { i.Foam.Density = r.number(n) }},
		{"textured", "textured", of, func(i Item) string { return ticked(i.Foam.Textured) }, func(r row, n string, i *Item) { i.Foam.Textured = r.tick(n) }},
	}
}

func liquidColumns() []column {
	of := []Family{Liquid}
	figure := func(name, field string, shift int32, at func(*materials.Liquid) *decimal.Decimal) column {
		return column{name, field, of, func(i Item) string { return none(at(i.Liquid).Shift(shift)) }, func(r row, n string, i *Item) { *at(i.Liquid) = r.number(n).Shift(-shift) }}
	}
	return []column{
		{"colour", "colour", of, func(i Item) string { return i.Liquid.Colour }, func(r row, n string, i *Item) { i.Liquid.Colour = r.text(n) }},
		{"swatch", "swatch", of, func(i Item) string { return i.Liquid.Swatch }, func(r row, n string, i *Item) { i.Liquid.Swatch = strings.ToLower(strings.TrimSpace(r.text(n))) }},
		figure("density kg/l", "density_kg_l", 0, func(q *materials.Liquid) *decimal.Decimal { return &q.Density }),
		figure("solids %", "solids", 2, func(q *materials.Liquid) *decimal.Decimal { return &q.Solids }),
		figure("spread l/m²", "spread", 0, func(q *materials.Liquid) *decimal.Decimal { return &q.Spread }),
		figure("first spread l/m²", "first_spread", 0, func(q *materials.Liquid) *decimal.Decimal { return &q.FirstSpread }),
		figure("loss %", "loss", 2, func(q *materials.Liquid) *decimal.Decimal { return &q.Loss }),
		figure("dry after h", "dry_hours", 0, func(q *materials.Liquid) *decimal.Decimal { return &q.DryHours }),
		{"sets by", "sets", of, func(i Item) string { return string(i.Liquid.Sets) }, func(r row, n string, i *Item) {
			i.Liquid.Sets = materials.Setting(strings.ToLower(strings.TrimSpace(r.text(n))))
		}},
		{"not sanded", "unsanded", of, func(i Item) string { return ticked(i.Liquid.Unsanded) }, func(r row, n string, i *Item) { i.Liquid.Unsanded = r.tick(n) }},
		{"flags", "flags", of, func(i Item) string { return strings.ReplaceAll(join(i.Liquid.Flags), ",", "") }, func(r row, n string, i *Item) {
			i.Liquid.Flags = nil
			for _, f := range strings.Fields(r.text(n)) {
				i.Liquid.Flags = append(i.Liquid.Flags, materials.Flag(f))
			}
		}},
	}
}

func goodColumns() []column {
	of := []Family{Good}
	side := func(name, field string, k int) column {
		return column{name, field, of, func(i Item) string { return none(i.Good.Holds[k].Decimal()) }, func(r row, n string, i *Item) { i.Good.Holds[k] = r.length(n) }}
	}
	return []column{
		{"mass kg", "mass", of, func(i Item) string { return none(i.Good.Mass) }, func(r row, n string, i *Item) { i.Good.Mass = r.number(n) }},
		side("holds length mm", "holds_length", 0), side("holds width mm", "holds_width", 1), side("holds depth mm", "holds_depth", 2),
	}
}

func keepingColumns() []column {
	days := func(name, field string, at func(*Item) *int) column {
		return column{name, field, nil, func(i Item) string { return none(decimal.NewFromInt(int64(*at(&i)))) }, func(r row, n string, i *Item) { *at(i) = r.whole(n) }}
	}
	bound := func(name, field string, at func(*Climate) **int) column {
		return column{name, field, nil, func(i Item) string {
			if v := *at(&i.Climate); v != nil {
				return strconv.Itoa(*v)
			}
			return ""
		}, func(r row, n string, i *Item) {
			*at(&i.Climate) = nil
			if strings.TrimSpace(r.text(n)) != "" {
				v := r.whole(n)
				*at(&i.Climate) = &v
			}
		}}
	}
	return []column{
		{"buy when below", "least", nil, func(i Item) string { return none(i.Least) }, func(r row, n string, i *Item) { i.Least = r.number(n) }},
		days("keeps sealed days", "sealed_days", func(i *Item) *int { return &i.SealedDays }),
		days("keeps opened days", "opened_days", func(i *Item) *int { return &i.OpenedDays }),
		bound("coldest °C", "coldest", func(c *Climate) **int { return &c.Coldest }),
		bound("warmest °C", "warmest", func(c *Climate) **int { return &c.Warmest }),
		bound("dampest %", "dampest", func(c *Climate) **int { return &c.Dampest }),
		{"no longer used", "retired", nil, func(i Item) string { return ticked(i.Retired) }, func(r row, n string, i *Item) { i.Retired = r.tick(n) }},
	}
}

// length reads mm, exact to the nanometre.
func (r row) length(name string) measure.Length {
	nm := r.number(name).Shift(6)
	if !nm.IsInteger() || nm.Abs().GreaterThan(decimal.New(1, 12)) {
		r.wrong(r.n, name, r.text(name), "Write a length in mm of at most a kilometre, with at most six places.")
		return 0
	}
	return measure.Length(nm.IntPart())
}

func named(columns []column) []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.name
	}
	return names
}

// record is an item as one row of a file.
func record(columns []column, i Item) []string {
	cells := make([]string, len(columns))
	for k, c := range columns {
		if c.has(i.Family()) {
			cells[k] = c.write(i)
		}
	}
	return cells
}

// WriteItems writes items as CSV, a row each.
func WriteItems(w io.Writer, items []Item) error {
	columns := itemColumns()
	rows := make([][]string, len(items))
	for k, i := range items {
		rows[k] = record(columns, i)
		for j, cell := range rows[k] {
			if _, figure := decimal.NewFromString(cell); figure != nil || columns[j].field == "name" || columns[j].field == "colour" {
				rows[k][j] = Guarded(cell)
			}
		}
	}
	return writeTable(w, named(columns), rows)
}

// ReadItems reads a file of items over those there are: of an item that is there, columns that the file does not
// have stay as they are. It gives the items of the file in its order, or a fault with everything that is wrong.
func ReadItems(data []byte, there []Item) ([]Item, error) {
	columns := itemColumns()
	t, err := readTable(data, named(columns), []string{colCode, "name", colKind, "unit"})
	if err != nil {
		return nil, err
	}
	have, seen := map[string]Item{}, map[string]int{}
	for _, i := range there {
		have[i.Code] = i
	}
	var items []Item
	for _, r := range t.rows {
		code := strings.TrimSpace(r.text(colCode))
		i, ok := r.begin(code, have[code])
		if first, twice := seen[code]; twice {
			r.wrong(r.n, colCode, code, fmt.Sprintf("Row %d has this code too.", first))
			continue
		}
		seen[code] = r.n
		if !ok {
			continue
		}
		if err := r.readInto(columns, &i, func(c column) string { return c.name }); err != nil {
			return nil, err
		}
		items = append(items, i.settled())
	}
	return items, t.Err()
}

// readInto reads the properties of an item, as they are called in the row, and checks it.
func (r row) readInto(columns []column, i *Item, called func(column) string) error {
	unread := map[string]bool{}
	for _, c := range columns {
		name, before := called(c), r.Len()
		switch {
		case !r.has(name):
		case c.has(i.Family()):
			c.read(r, name, i)
		case r.text(name) != "":
			r.wrong(r.n, name, r.text(name), fmt.Sprintf("A %s has none. Leave it empty.", i.Family()))
		}
		unread[name] = r.Len() > before
	}
	return r.check(i.tidy().Check(), func(field string) string {
		for _, c := range columns {
			if c.field == field && c.has(i.Family()) {
				if unread[called(c)] {
					return "" // said already
				}
				return called(c)
			}
		}
		return field
	})
}

// begin is the item a row is read into: the one of its code, copied, or a new one of its kind.
func (r row) begin(code string, there Item) (Item, bool) {
	kind := Family(strings.ToLower(strings.TrimSpace(r.text(colKind))))
	i := there.tidy()
	switch {
	case kind == there.Family() && kind != "":
		return i, true
	case there.Family() != "":
		r.wrong(r.n, colKind, string(kind), fmt.Sprintf("%s is a %s, and that stays. List what is something else under another code.", fault.Shorten(code), there.Family()))
		return i, false
	}
	switch kind {
	case Foam:
		return Item{Code: code, Foam: &materials.Foam{}}.tidy(), true
	case Liquid:
		return Item{Code: code, Liquid: &materials.Liquid{}}.tidy(), true
	case Good:
		return Item{Code: code, Good: &materials.Good{}}.tidy(), true
	}
	r.wrong(r.n, colKind, string(kind), "Write what it is: foam, liquid or good.")
	return i, false
}
