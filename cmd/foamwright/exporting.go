package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"slices"

	"foamwright/materials/fault"
)

// exporting writes the catalogue, its prices, the shelf or its ledger as CSV.
func exporting(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("export", "[settings] items|prices|shelf|movements [-o FILE]")
	s.add(f, false)
	name := f.String("o", "", "write to this file; without it to standard output")
	given, err := p.among(f, args)
	if err != nil {
		return err
	}
	if len(given) != 1 || !slices.Contains([]string{"items", "prices", "shelf", "movements"}, given[0]) {
		return fault.New(fault.Invalid, "Say what to export: items, prices, shelf or movements.")
	}
	shop, err := p.open(ctx, s, itsOwn())
	if err != nil {
		return err
	}
	defer shop.close()
	data, err := map[string]func(context.Context) ([]byte, error){
		"items": shop.list.ItemsCSV, "prices": shop.list.PricesCSV, "shelf": shop.shelf.ShelfCSV, "movements": shop.ledgerCSV,
	}[given[0]](ctx)
	if err != nil {
		return err
	}
	if *name == "" {
		_, err = p.out.Write(data)
		return err
	}
	if err := os.WriteFile(*name, data, 0o644); err != nil {
		return fault.New(fault.Invalid, "The file %q cannot be written.", *name).Because(err)
	}
	fmt.Fprintf(p.out, "%s is written.\n", *name)
	return nil
}

// ledgerCSV is the ledger of all items.
func (o *shop) ledgerCSV(ctx context.Context) ([]byte, error) {
	list, err := o.list.List(ctx)
	if err != nil {
		return nil, err
	}
	codes := make([]string, len(list.Items))
	for i, item := range list.Items {
		codes[i] = item.Code
	}
	return o.shelf.MovementsCSV(ctx, codes...)
}

// among reads settings that stand before, between and after what a command is about, and gives the latter.
func (p *program) among(f *flag.FlagSet, args []string) ([]string, error) {
	var given []string
	for {
		if err := p.given(f, args); err != nil {
			return nil, err
		}
		if f.NArg() == 0 {
			return given, p.parse(f, nil) // the settings that the environment has
		}
		given, args = append(given, f.Arg(0)), f.Args()[1:]
	}
}
