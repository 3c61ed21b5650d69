package main

import (
	"context"
	"fmt"
	"io"
	"slices"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// importing brings in a file of items or prices, or posts a count sheet: all of it, or nothing and what is wrong by row and column.
func importing(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("import", "[settings] items|prices|count FILE [-check]")
	s.add(f, false)
	check := f.Bool("check", false, "only say what would change")
	given, err := p.among(f, args)
	if err != nil {
		return err
	}
	if len(given) != 2 || !slices.Contains([]string{"items", "prices", "count"}, given[0]) {
		return fault.New(fault.Invalid, "Say what to import, items, prices or count, and name the file; - reads standard input.")
	}
	data, err := p.read(given[1])
	if err != nil {
		return err
	}
	shop, err := p.open(ctx, s, itsOwn())
	if err != nil {
		return err
	}
	defer shop.close()
	if given[0] == "count" {
		return p.postCount(ctx, shop, data, *check)
	}
	var out stock.Outcome
	if given[0] == "items" {
		out, err = shop.list.ImportItems(ctx, data, *check)
	} else {
		out, err = shop.list.ImportPrices(ctx, data, "foamwright import", *check)
	}
	if err != nil {
		return err
	}
	tellOutcome(p.out, out)
	if *check {
		fmt.Fprintln(p.out, "Nothing was written: this was a check.")
	}
	return nil
}

// postCount posts a count sheet as export shelf wrote it and somebody filled it in.
func (p *program) postCount(ctx context.Context, shop *shop, data []byte, check bool) error {
	found, err := stock.ReadCount(data)
	if err != nil {
		return err
	}
	if check {
		fmt.Fprintf(p.out, "Counted: %d. Nothing was written: this was a check.\n", len(found))
		return nil
	}
	differed, err := shop.shelf.Stocktake(ctx, found, "foamwright import")
	if err != nil {
		return err
	}
	fmt.Fprintf(p.out, "Counted: %d. Different, and posted: %d.\n", len(found), differed)
	return nil
}

// tellOutcome says what a file changes, a line each.
func tellOutcome(w io.Writer, out stock.Outcome) {
	for _, what := range out.Added {
		fmt.Fprintln(w, "new:    ", what)
	}
	for _, what := range out.Changed {
		fmt.Fprintln(w, "changed:", what)
	}
	fmt.Fprintf(w, "%d new, %d changed, %d the same.\n", len(out.Added), len(out.Changed), out.Same)
}
