package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode"

	"foamwright/materials/cutplan"
	"foamwright/materials/drawing"
	"foamwright/materials/fault"
	"foamwright/materials/geom"
	"foamwright/materials/orderform"
)

// cutJob is a job as written in a file: pieces of any kind on sheets of one size. Lengths in mm, turns in degrees;
// no rotations are any. The last two fields come with collections of such jobs and are not used.
type cutJob struct {
	Name            string    `json:"name"`
	Sheet           []float64 `json:"sheet"` // width, height
	Spacing, Margin float64
	Rotations       []float64 `json:"rotations"`
	Mirror          bool      `json:"mirror"` // pieces may be turned over
	Items           []struct {
		ID     json.RawMessage `json:"id"`
		Label  string          `json:"label"`
		Demand int             `json:"demand"`
		Outer  [][]float64     `json:"outer"`
		Holes  [][][]float64   `json:"holes"`
	} `json:"items"`
	AreaLowerBound json.RawMessage `json:"area_lower_bound"`
	TotalArea      json.RawMessage `json:"total_area"`
}

// isJob tells a cut job from a spec: it has a sheet and items.
func isJob(data []byte) bool {
	var seen struct{ Sheet, Items json.RawMessage }
	return json.Unmarshal(data, &seen) == nil && (seen.Sheet != nil || seen.Items != nil)
}

// planJob plans a job file.
func planJob(ctx context.Context, data []byte, evaluations int) (string, []drawing.Cut, error) {
	name, job, err := readJob(data)
	if err != nil {
		return "", nil, err
	}
	plan, err := cutplan.New().Plan(ctx, job, cutplan.Budget{Evaluations: evaluations, Seed: 1})
	if err != nil {
		return "", nil, asWritten(err)
	}
	return name, []drawing.Cut{{Foam: name, Job: job, Plan: plan}}, nil
}

func readJob(data []byte) (string, cutplan.Job, error) {
	if len(data) > orderform.MaxBytes {
		return "", cutplan.Job{}, fault.New(fault.TooLarge, "A job has at most %d bytes. Split it.", orderform.MaxBytes)
	}
	var in cutJob
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&in); err != nil {
		return "", cutplan.Job{}, unread(err)
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return "", cutplan.Job{}, fault.New(fault.Invalid, "Something follows the job. A file holds one.")
	}
	var l fault.List
	if len(in.Sheet) != 2 {
		l.Add("sheet", "", "A sheet is its width and height in mm, such as [1000, 2000].")
		return "", cutplan.Job{}, l.Err()
	}
	if in.Name = oneLine(in.Name); in.Name == "" {
		in.Name = "Job"
	}
	// A kept offcut counts for half of new foam, as in a workshop's usual settings.
	job := cutplan.Job{
		Sheets:  []cutplan.Sheet{{Label: "sheet", Width: in.Sheet[0], Height: in.Sheet[1], Weight: 1000}},
		Spacing: in.Spacing, Margin: in.Margin, Keep: cutplan.UsualKeep(), CreditShare: 500,
	}
	for i, it := range in.Items {
		field := fmt.Sprintf("items[%d]", i)
		p := cutplan.Piece{Label: oneLine(it.Label), Count: it.Demand, Turns: in.Rotations, Mirror: in.Mirror}
		if p.Label == "" {
			p.Label = "item " + oneLine(strings.Trim(string(it.ID), `"`))
			if len(it.ID) == 0 {
				p.Label = fmt.Sprintf("item %d", i+1)
			}
		}
		p.Shape.Outer = ring(&l, field+".outer", it.Outer)
		for k, h := range it.Holes {
			p.Shape.Holes = append(p.Shape.Holes, ring(&l, fmt.Sprintf("%s.holes[%d]", field, k), h))
		}
		job.Pieces = append(job.Pieces, p)
	}
	return in.Name, job, l.Err()
}

// oneLine is a name without what moves the cursor of a terminal.
func oneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return unicode.IsControl(r) || r == ' ' }), " ")
}

// ring is a list of corners, each its x and y.
func ring(l *fault.List, field string, corners [][]float64) geom.Ring {
	var r geom.Ring
	for _, c := range corners {
		if len(c) != 2 {
			l.Add(field, "", "A corner is its x and y in mm, such as [120, 80].")
			return nil
		}
		r = append(r, geom.Point{X: c[0], Y: c[1]})
	}
	return r
}

// unread says what of a job file is no job.
func unread(err error) error {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		remedy := map[reflect.Kind]string{
			reflect.Float64: "Write a number here.", reflect.Int: "Write a whole number here.", reflect.String: "Write words in quotes here.",
			reflect.Bool: "Write true or false here.", reflect.Slice: "Write a list in square brackets here.",
		}[kind.Type.Kind()]
		remedy = cmp.Or(remedy, "Write a group of entries in curly brackets here.")
		var l fault.List
		l.Add(kind.Field, "", remedy)
		return l.Err()
	}
	if field, unknown := strings.CutPrefix(err.Error(), "json: unknown field "); unknown {
		var l fault.List
		l.Add(strings.Trim(field, `"`), "", "A job has no such entry. It has name, sheet, spacing, margin, rotations, mirror and items; an item has id, label, demand, outer and holes.")
		return l.Err()
	}
	return fault.New(fault.Invalid, "The file is no JSON that can be read.")
}

// asWritten names the entries of a job that cannot be planned as its file does.
func asWritten(err error) error {
	if fault.KindOf(err) != fault.Invalid {
		return err
	}
	var l fault.List
	names := strings.NewReplacer("pieces", "items", ".count", ".demand", ".shape", ".outer", "sheets[0]", "sheet", ".turns", ".rotations")
	for _, p := range fault.ProblemsOf(err) {
		l.Add(names.Replace(p.Field), p.Value, p.Remedy)
	}
	if l.Empty() {
		return err
	}
	return l.Err()
}
