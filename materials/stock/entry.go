package stock

// Entry is one property of an item as a form shows it.
type Entry struct{ Field, Label, Value string }

// Entries are the properties that items of a family have, as they are written in forms; in files they are called
// by the labels.
func (i Item) Entries() []Entry {
	var list []Entry
	for _, c := range itemColumns() {
		if c.has(i.Family()) {
			list = append(list, Entry{c.field, c.name, c.write(i)})
		}
	}
	return list
}

// ItemOf reads an item from written properties by field, over the one that is there or over none. What is not
// written stays as it is. Problems name the fields.
func ItemOf(written map[string]string, there Item) (Item, error) {
	r := row{table: &table{columns: map[string]int{}}}
	columns := itemColumns()
	for _, c := range columns {
		if value, ok := written[c.field]; ok {
			r.columns[c.field] = len(r.cells)
			r.cells = append(r.cells, Guarded(value))
		}
	}
	i, ok := r.begin(written["code"], there)
	if !ok {
		return i, r.Err()
	}
	if err := r.readInto(columns, &i, func(c column) string { return c.field }); err != nil {
		return i, err
	}
	return i.settled(), r.Err()
}
