package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/pattern"
	"foamwright/materials/shield"
)

const templatesUsage = "[-paper a4|a3|letter] [-whole] [-rim] [-overlap 10mm] [-out FILE.pdf] [-svg FOLDER] FILE"

// templates draws what a spec is cut from at its true size, without any database.
func templates(_ context.Context, p *program, args []string) error {
	f := p.flags("templates", templatesUsage)
	paper := f.String("paper", "a4", "paper to tile on: a4, a3 or letter")
	full := f.Bool("whole", false, "whole templates even where a half is enough")
	rim := f.Bool("rim", false, "the rim as a template of its own")
	overlap := f.String("overlap", "10mm", "how far pages overlap, 5mm to 50mm")
	out := f.String("out", "", "write the pages to this PDF")
	folder := f.String("svg", "", "write an SVG of each template into this folder")
	if err := p.given(f, args); err != nil {
		return err
	}
	layout := pattern.Layout{Paper: *paper}
	var err error
	if layout.Overlap, err = overlapMM(*overlap); err != nil {
		return err
	}
	spec, snap, err := p.written(f)
	if err != nil {
		return err
	}
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		return err
	}
	patterns, err := pattern.Of(s, pattern.Options{Whole: *full, Rim: *rim})
	if err != nil {
		return err
	}
	pages, err := pattern.Tile(patterns, layout)
	if err != nil {
		return err
	}
	listPages(p.out, patterns, pages, strings.Replace(strings.ToLower(*paper), "a", "A", 1))
	if *out != "" {
		doc, err := pattern.PDF(pattern.Head{Title: patterns[0].Set + ": templates", Author: "foamwright", Made: p.now()}, pages)
		if err != nil {
			return err
		}
		if err := p.write(*out, doc); err != nil {
			return err
		}
	}
	if *folder != "" {
		if err := p.writeSVGs(*folder, patterns); err != nil {
			return err
		}
	}
	if *out == "" && *folder == "" {
		fmt.Fprintln(p.out, "\nNothing is written yet: add -out FILE.pdf, -svg FOLDER or both.")
	}
	return nil
}

// overlapMM is how far pages overlap, in mm.
func overlapMM(typed string) (float64, error) {
	var wrong fault.List
	glued, err := measure.ParseLength(typed)
	if err := wrong.Take("overlap", err); err != nil {
		return 0, err
	}
	if err == nil && glued == 0 { // which a layout takes for the usual one
		wrong.Add("overlap", typed, "Pages have to overlap: there they are glued.")
	}
	return glued.MM(), wrong.Err()
}

// listPages tells how many pages there are and which template is on which.
func listPages(w io.Writer, patterns []pattern.Pattern, pages []pattern.Page, paper string) {
	where := make([][]string, len(patterns))
	for _, page := range pages {
		for _, l := range page.Laid {
			where[l.Pattern] = append(where[l.Pattern], page.Label)
		}
	}
	var text bytes.Buffer
	fmt.Fprintf(&text, "%s: %d pages of %s, the overview counted\n\n", patterns[0].Set, len(pages), paper)
	for i, t := range patterns {
		fmt.Fprintf(&text, "%s", t.Name)
		if how := t.Cutting(); how != "" {
			fmt.Fprintf(&text, ": %s", how)
		}
		if len(t.Lines) > 0 {
			fmt.Fprintf(&text, "; %s; on %s", t.Size(), strings.Join(where[i], " "))
		}
		fmt.Fprintln(&text)
		for _, note := range t.Notes {
			fmt.Fprintf(&text, "    %s\n", note)
		}
	}
	_, _ = w.Write(text.Bytes())
}

// write puts a finished file where it was asked for.
func (p *program) write(name string, data []byte) error {
	if err := write(name, data); err != nil {
		return err
	}
	fmt.Fprintln(p.out, "\nWritten:", name)
	return nil
}

// write puts a finished file in its place without a word.
func write(name string, data []byte) error {
	if err := os.WriteFile(name, data, 0o644); err != nil {
		return fault.New(fault.Invalid, "The file %q cannot be written. Name a folder that is there and that you may write to.", fault.Shorten(name)).Because(err)
	}
	return nil
}

// writeSVGs writes a file for each template that has lines; their names are safe whatever the templates' are.
func (p *program) writeSVGs(folder string, patterns []pattern.Pattern) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fault.New(fault.Invalid, "The folder %q cannot be made.", fault.Shorten(folder)).Because(err)
	}
	for i, t := range patterns {
		if len(t.Lines) == 0 {
			continue
		}
		drawn, err := pattern.SVG(t)
		if err != nil {
			return err
		}
		if err := p.write(filepath.Join(folder, fmt.Sprintf("%02d-%s.svg", i+1, fileName(t.Name))), []byte(drawn)); err != nil {
			return err
		}
	}
	return nil
}

// fileName is a name's letters and digits, words joined by hyphens.
func fileName(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	short := []rune(strings.Join(words, "-"))
	return string(short[:min(len(short), 40)])
}
