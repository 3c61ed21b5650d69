package main

import (
	"context"
	"flag"
	"fmt"
	"os"

	"foamwright/materials/fault"
)

// exporting writes the catalogue or its prices as CSV.
func exporting(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("export", "[settings] items|prices [-o FILE]")
	s.add(f, false)
	name := f.String("o", "", "write to this file; without it to standard output")
	given, err := p.among(f, args)
	if err != nil {
		return err
	}
	if len(given) != 1 || given[0] != "items" && given[0] != "prices" {
		return fault.New(fault.Invalid, "Say what to export: items or prices.")
	}
	shop, err := p.open(ctx, s, itsOwn())
	if err != nil {
		return err
	}
	defer shop.close()
	write := shop.list.ItemsCSV
	if given[0] == "prices" {
		write = shop.list.PricesCSV
	}
	data, err := write(ctx)
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
