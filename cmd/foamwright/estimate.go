package main

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"

	"foamwright/api"
	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// estimate prices a spec file without any database.
func estimate(ctx context.Context, p *program, args []string) error {
	f := p.flags("estimate", "[-json] [-steps] FILE")
	asJSON := f.Bool("json", false, "print the estimate as JSON")
	steps := f.Bool("steps", false, "print every step and material with its formula")
	if err := p.given(f, args); err != nil {
		return err
	}
	if f.NArg() != 1 {
		return fault.New(fault.Invalid, "Name one file with a spec, or - for standard input.")
	}
	data, err := p.read(f.Arg(0))
	if err != nil {
		return err
	}
	spec, err := orderform.Read(data)
	if err != nil {
		return err
	}
	snap, err := demo.Snapshot(p.now())
	if err != nil {
		return err
	}
	e, err := pricing.Make(ctx, spec, snap, pricing.Issue)
	if err != nil {
		return err
	}
	if !*asJSON {
		return slip(p.out, e, *steps)
	}
	enc := json.NewEncoder(p.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(api.EstimateOf(e))
}

// read takes a file whole, up to the size of a spec.
func (p *program) read(name string) ([]byte, error) {
	in := p.in
	if name != "-" {
		file, err := os.Open(name)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return nil, fault.New(fault.Invalid, "There is no file %q.", name)
		case err != nil:
			return nil, fault.New(fault.Invalid, "The file %q cannot be opened.", name)
		}
		defer file.Close()
		in = file
	}
	data, err := io.ReadAll(io.LimitReader(in, orderform.MaxBytes+1))
	if err != nil {
		return nil, fault.New(fault.Invalid, "The file %q cannot be read.", name)
	}
	return data, nil
}
