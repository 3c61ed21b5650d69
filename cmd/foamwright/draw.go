package main

import (
	"os"
	"path/filepath"

	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/materials/shield"
)

// pixels is the longer side of a picture: a page of A4 at 200 dots an inch.
const pixels = 2400

// draw writes every view of a shield into a folder, as SVG and as PNG, and all of them at true size in one PDF. Of a
// prop, which has no outline, there is the face alone: its parts.
func (p *program) draw(folder string, s shield.Shield, palette map[string]string) error {
	views := []drawing.Drawing{drawing.Face(s, palette)}
	if s.Made() {
		views = append(views, drawing.Back(s, palette), drawing.Section(s), drawing.Exploded(s, palette))
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fault.New(fault.Invalid, "The folder %q cannot be made.", fault.Shorten(folder)).Because(err)
	}
	for _, v := range views {
		png, err := drawing.PNG(v, pixels)
		if err != nil {
			return err
		}
		for name, data := range map[string][]byte{v.View + ".svg": []byte(drawing.SVG(v)), v.View + ".png": png} {
			if err := write(filepath.Join(folder, name), data); err != nil {
				return err
			}
		}
	}
	doc, err := drawing.PDF(drawing.Print{Title: s.Spec.Name + ": drawings", Author: "foamwright", Made: p.now(), True: true}, views...)
	if err != nil {
		return err
	}
	return write(filepath.Join(folder, "drawings.pdf"), doc)
}
