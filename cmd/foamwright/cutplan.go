package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"foamwright/cmd/foamwright/demo"
	"foamwright/materials/cutplan"
	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/materials/shield"
	"foamwright/materials/takeoff"
	"foamwright/pricing"
)

const cutPlanUsage = "[-check] [-effort live|issue|long] [-out FILE.pdf [-true]] [-svg FOLDER] FILE"

// long is how far a plan is searched for when nobody waits at a page, in evaluations.
const long pricing.Effort = 20 * pricing.Issue

// cutPlan plans what a spec is cut from, or any job of pieces and sheets, without any database.
func cutPlan(ctx context.Context, p *program, args []string) error {
	f := p.flags("cutplan", cutPlanUsage)
	check := f.Bool("check", false, "prove the plan with the independent verifier")
	effort := f.String("effort", "issue", "how long to search: live, issue or long")
	out := f.String("out", "", "write the plan to this PDF, a sheet a page on A4")
	trueSize := f.Bool("true", false, "with -out: pages as large as the sheets, for a plotter")
	folder := f.String("svg", "", "write an SVG of the plan and of each sheet into this folder")
	if err := p.given(f, args); err != nil {
		return err
	}
	if f.NArg() != 1 {
		return fault.New(fault.Invalid, "Name one file with a spec or a job, or - for standard input.")
	}
	spent, known := map[string]pricing.Effort{"live": pricing.Live, "issue": pricing.Issue, "long": long}[*effort]
	if !known {
		return fault.New(fault.Invalid, "The effort is live, issue or long, not %q.", fault.Shorten(*effort))
	}
	data, err := p.read(f.Arg(0))
	if err != nil {
		return err
	}
	var name string
	var cuts []drawing.Cut
	if isJob(data) {
		name, cuts, err = planJob(ctx, data, int(spent))
	} else {
		name, cuts, err = p.planSpec(ctx, data, f.Arg(0), int(spent))
	}
	if err != nil {
		return err
	}
	if err := tell(p.out, name, cuts); err != nil {
		return err
	}
	if *check {
		for _, c := range cuts {
			if err := cutplan.Verify(c.Job, c.Plan); err != nil {
				return fmt.Errorf("the plan of %s does not hold: %w", c.Foam, err)
			}
		}
		fmt.Fprintln(p.out, "\nChecked: every piece is there once, lies inside its sheet and keeps its distance; kept offcuts are free.")
	}
	if *out != "" {
		if err := p.printCuts(*out, name, *trueSize, cuts); err != nil {
			return err
		}
	}
	if *folder != "" {
		return p.drawCuts(*folder, name, cuts)
	}
	return nil
}

// planSpec plans the foams of the spec in a file of that name, as its price does.
func (p *program) planSpec(ctx context.Context, data []byte, file string, evaluations int) (string, []drawing.Cut, error) {
	spec, err := p.spec(data, file)
	if err != nil {
		return "", nil, err
	}
	snap, err := demo.Snapshot(p.now())
	if err != nil {
		return "", nil, err
	}
	s, err := shield.Make(spec, snap.Catalogue, snap.Bench)
	if err != nil {
		return "", nil, err
	}
	plans, err := takeoff.PlanFoam(ctx, s, snap.Catalogue, snap.Usage, snap.Rates.OffcutShare, cutplan.New(), cutplan.Budget{Evaluations: evaluations, Seed: snap.Seed})
	if err != nil {
		return "", nil, err
	}
	var cuts []drawing.Cut
	for _, f := range plans {
		cuts = append(cuts, drawing.Cut{Foam: f.Foam.Name, Job: f.Job, Plan: f.Plan})
	}
	return spec.Name, cuts, nil
}

// tell lists the plan: for each foam what it takes, for each layout of a sheet its pieces in the order of cutting,
// measured to the corner of the box each lies in.
func tell(w io.Writer, name string, cuts []drawing.Cut) error {
	var text bytes.Buffer
	fmt.Fprintf(&text, "%s: cut plan, mm from the upper left corner\n", name)
	if len(cuts) == 0 {
		fmt.Fprintln(&text, "\nNothing is cut from foam.")
	}
	for _, c := range cuts {
		pieces, _ := c.Use(-1)
		fmt.Fprintf(&text, "\n%s: %s; pieces %.2f m²\n", c.Foam, c.Headline(), pieces/1e6)
		for _, group := range c.Alike() {
			tellSheet(&text, c, group[0])
		}
	}
	_, err := w.Write(text.Bytes())
	return err
}

func tellSheet(w io.Writer, c drawing.Cut, sheet int) {
	used, whole := c.Use(sheet)
	title := c.SheetTitle(sheet)
	fmt.Fprintf(w, "\n  %s: %.0f %% used\n", strings.ToUpper(title[:1])+title[1:], math.Floor(100*used/whole))
	rows := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprint(rows, "\tcut\tright\tdown\t  piece\n")
	for i, at := range c.Order(sheet) {
		place := c.Plan.Placements[at]
		piece := c.Job.Pieces[place.Piece]
		box := place.Apply(piece.Shape).Outer.Bounds()
		how := ""
		if turn := math.Mod(place.Turn, 360); math.Abs(turn) > 0.05 {
			how = fmt.Sprintf("turned %.1f°", turn)
		}
		if place.Mirrored {
			how = strings.TrimPrefix(how+", face down", ", ")
		}
		if piece.On != nil {
			how = strings.TrimPrefix(how+", at the mat’s own edge", ", ")
		}
		fmt.Fprintf(rows, "\t%d\t%.1f\t%.1f\t  %s\n", i+1, box.Min.X, box.Min.Y, strings.TrimSuffix(piece.Label+"  "+how, "  "))
	}
	for _, o := range c.Plan.Offcuts {
		if o.Sheet == sheet {
			box := o.Shape.Outer.Bounds()
			fmt.Fprintf(rows, "\tkeep\t%.1f\t%.1f\t  %.0f × %.0f\n", box.Min.X, box.Min.Y, box.Width(), box.Height())
		}
	}
	_ = rows.Flush() // into memory
}

// printCuts writes the PDF: the overview where there is more than one layout and the page is not of true size, then a
// page for each.
func (p *program) printCuts(file, name string, trueSize bool, cuts []drawing.Cut) error {
	pages := drawing.Pages(name, cuts...)
	if trueSize && len(pages) > 1 {
		pages = pages[1:]
	}
	doc, err := drawing.PDF(drawing.Print{Title: "Cut plan of " + name, Author: "foamwright", Made: p.now(), True: trueSize}, pages...)
	if err != nil {
		return err
	}
	return p.write(file, doc)
}

// drawCuts writes an SVG of the overview and one for each layout of a sheet.
func (p *program) drawCuts(folder, name string, cuts []drawing.Cut) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return fault.New(fault.Invalid, "The folder %q cannot be made.", fault.Shorten(folder)).Because(err)
	}
	if err := p.write(filepath.Join(folder, "overview.svg"), []byte(drawing.SVG(drawing.Overview(name, cuts...)))); err != nil {
		return err
	}
	for i, c := range cuts {
		for _, group := range c.Alike() {
			d, err := c.Sheet(group[0])
			if err != nil {
				return err
			}
			file := fmt.Sprintf("%02d-%s-sheet-%02d.svg", i+1, fileName(c.Foam), group[0]+1)
			if err := p.write(filepath.Join(folder, file), []byte(drawing.SVG(d))); err != nil {
				return err
			}
		}
	}
	return nil
}
