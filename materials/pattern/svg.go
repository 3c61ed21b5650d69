package pattern

import (
	"encoding/xml"
	"fmt"
	"math"
	"strconv"
	"strings"

	"foamwright/materials/geom"
)

// SVG writes one template at its true size, width and height in mm and a view box of the same: one group for each
// class of line, so that a cutter takes what it needs, then a check bar and the words in groups of their own. Places
// are rounded to 0.001 mm.
func SVG(p Pattern) (string, error) {
	l, err := newLetters()
	if err != nil {
		return "", err
	}
	const margin, below = 10.0, 24.0
	box := p.Bounds()
	width := math.Max(box.Width(), checkBar)
	sheet := geom.Rect{Min: geom.Point{X: box.Min.X - margin, Y: box.Min.Y - margin}, Max: geom.Point{X: box.Min.X + width + margin, Y: box.Max.Y + below + margin}}
	page := Page{Width: sheet.Width(), Height: sheet.Height()}
	page.lay(p, sheet, geom.Point{}, l)
	foot := box.Max.Y + 8
	page.text(box.Min.X, foot+3, nameSize, Start, 0, p.Name)
	page.text(box.Min.X, foot+7.5, fineSize, Start, 0, p.Cutting())
	page.bar(box.Min.X, foot+10)
	page.text(box.Min.X, foot+17, fineSize, Start, 0, "This bar is 100 mm.")

	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="%s %s %s %s" fill="none" stroke-linejoin="round">`,
		num(sheet.Width()), num(sheet.Height()), num(sheet.Min.X), num(sheet.Min.Y), num(sheet.Width()), num(sheet.Height()))
	fmt.Fprintf(&b, "\n<title>%s</title>\n<desc>%s</desc>\n", escaped(strings.TrimPrefix(p.Set+": "+p.Name, ": ")), escaped(strings.Join(append([]string{strings.TrimPrefix(p.Cutting()+".", ".")}, p.Notes...), " ")))
	for _, c := range []Class{Cut, Trim, Fold, Mark} {
		pen, dash, grey := c.pen()
		var paths strings.Builder
		for _, line := range p.Lines {
			if line.Class == c {
				paths.WriteString(path(line.Chain))
			}
		}
		if paths.Len() == 0 {
			continue
		}
		fmt.Fprintf(&b, `<g class="%s" stroke="%s" stroke-width="%s"%s>`+"\n%s</g>\n", c, shade(grey), num(pen), dashes(dash), paths.String())
	}
	b.WriteString(`<g class="check-bar" fill="#000000">` + "\n")
	for _, a := range page.Areas {
		box := a.Ring.Bounds()
		fmt.Fprintf(&b, `<rect x="%s" y="%s" width="%s" height="%s"/>`+"\n", num(box.Min.X), num(box.Min.Y), num(box.Width()), num(box.Height()))
	}
	b.WriteString("</g>\n" + `<g class="words" font-family="Liberation Sans, Arial, Helvetica, sans-serif">` + "\n")
	for _, t := range page.Texts {
		fmt.Fprintf(&b, `<text x="%s" y="%s" font-size="%s" fill="%s"`, num(t.At.X), num(t.At.Y), num(t.Size), shade(t.Grey))
		if t.Anchor == Middle {
			b.WriteString(` text-anchor="middle"`)
		}
		if t.Turn != 0 {
			fmt.Fprintf(&b, ` transform="rotate(%s %s %s)"`, num(t.Turn), num(t.At.X), num(t.At.Y))
		}
		fmt.Fprintf(&b, ">%s</text>\n", escaped(t.Words))
	}
	b.WriteString("</g>\n</svg>\n")
	return b.String(), nil
}

// path is one chain as a path element.
func path(chain []geom.Point) string {
	var b strings.Builder
	b.WriteString(`<path d="M`)
	for i, p := range chain {
		if i > 0 {
			if i == len(chain)-1 && p == chain[0] {
				b.WriteString("Z")
				break
			}
			b.WriteString("L")
		}
		b.WriteString(num(p.X) + " " + num(p.Y))
	}
	b.WriteString(`"/>` + "\n")
	return b.String()
}

// num is a measure to 0.001 mm without trailing noughts.
func num(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64) }

func shade(grey int) string { return fmt.Sprintf("#%02x%02x%02x", grey, grey, grey) }

func dashes(lengths []float64) string {
	if len(lengths) == 0 {
		return ""
	}
	parts := make([]string, len(lengths))
	for i, v := range lengths {
		parts[i] = num(v)
	}
	return ` stroke-dasharray="` + strings.Join(parts, " ") + `"`
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a Builder does not fail
	return b.String()
}
