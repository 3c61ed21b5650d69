package main

import (
	"context"
	"fmt"
	"io"

	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// importing brings in a file of items or prices: all of it, or nothing and what is wrong by row and column.
func importing(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("import", "[settings] items|prices FILE [-check]")
	s.add(f, false)
	check := f.Bool("check", false, "only say what would change")
	given, err := p.among(f, args)
	if err != nil {
		return err
	}
	if len(given) != 2 || given[0] != "items" && given[0] != "prices" {
		return fault.New(fault.Invalid, "Say what to import, items or prices, and name the file; - reads standard input.")
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
