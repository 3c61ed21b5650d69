package main

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"foamwright/api"
	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/artwork"
	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/materials/shield"
	"foamwright/pricing"
)

// estimate prices a spec file without any database.
func estimate(ctx context.Context, p *program, args []string) error {
	f := p.flags("estimate", "[-json] [-steps] [-drawings FOLDER] FILE")
	asJSON := f.Bool("json", false, "print the estimate as JSON")
	steps := f.Bool("steps", false, "print every step and material with its formula")
	drawings := f.String("drawings", "", "write its drawings into this folder: SVG, PNG, and one PDF at true size")
	if err := p.given(f, args); err != nil {
		return err
	}
	spec, snap, err := p.written(f)
	if err != nil {
		return err
	}
	e, err := pricing.Make(ctx, spec, snap, pricing.Issue)
	if err != nil {
		return err
	}
	if *drawings != "" {
		if err := p.draw(*drawings, e.Shield, snap.Catalogue.Swatches()); err != nil {
			return err
		}
	}
	if !*asJSON {
		return slip(p.out, e, *steps)
	}
	enc := json.NewEncoder(p.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(api.EstimateOf(e))
}

// written is the spec in the file that a command names, with the figures of the invented workshop.
func (p *program) written(f *flag.FlagSet) (spec shield.Spec, snap pricing.Snapshot, err error) {
	if f.NArg() != 1 {
		return spec, snap, fault.New(fault.Invalid, "Name one file with a spec, or - for standard input.")
	}
	data, err := p.read(f.Arg(0))
	if err != nil {
		return spec, snap, err
	}
	if spec, err = p.spec(data, f.Arg(0)); err != nil {
		return spec, snap, err
	}
	snap, err = demo.Snapshot(p.now())
	return spec, snap, err
}

// spec reads the spec in a file of that name; a drawing that it names lies beside it.
func (p *program) spec(data []byte, name string) (shield.Spec, error) {
	form, err := orderform.Parse(data)
	if err != nil {
		return shield.Spec{}, err
	}
	if drawing := form.Outline.File.Typed; drawing != "" {
		if !filepath.IsAbs(drawing) && name != "-" {
			drawing = filepath.Join(filepath.Dir(name), drawing)
		}
		svg, err := p.read(drawing)
		if err != nil {
			var l fault.List
			l.Add("outline.file", drawing, err.Error())
			return shield.Spec{}, l.Err()
		}
		form.Outline.SVG, form.Outline.File = orderform.T(string(svg)), orderform.Text{}
	}
	return form.Spec()
}

// read takes a file whole, up to just over the largest that any reader accepts.
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
	data, err := io.ReadAll(io.LimitReader(in, artwork.MaxBytes+1))
	if err != nil {
		return nil, fault.New(fault.Invalid, "The file %q cannot be read.", name)
	}
	return data, nil
}
