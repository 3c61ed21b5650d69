package shield

import (
	"foamwright/materials"
	"foamwright/materials/measure"
)

// Bench is how the workshop builds: figures the maker edits. All are common practice without a source.
type Bench struct {
	ReleaseCold    float64        // calibration of the release when glued cold, 1.3
	ReleaseHeat    float64        // and when set with heat, 1.0
	Trim           measure.Length // layers are cut larger by this at every side and levelled, 6 to 10 mm
	StripAllowance measure.Length // edge strips are wider than the edge by this, 6 mm
	LeastJoint     measure.Length // no joint piece of a strip is shorter, 100 mm
	Stagger        measure.Length // seams of neighbouring layers keep this apart, 100 mm
	CoatThickness  measure.Length // what a coat adds to every side
	Stud           measure.Length // diameter of a stud
	BlockLength    measure.Length // of a grip block where the spec names none
	BlockWidth     measure.Length
	Formers        []Former
}

// Former is one that the workshop has: it only has to be set out, not built.
type Former struct {
	Name   string
	Radius measure.Length
}

// UsualBench is what a new workshop starts with.
func UsualBench() Bench {
	return Bench{
		ReleaseCold: 1.3, ReleaseHeat: 1.0, Trim: 8 * measure.Millimetre, StripAllowance: 6 * measure.Millimetre,
		LeastJoint: 100 * measure.Millimetre, Stagger: 100 * measure.Millimetre, CoatThickness: measure.Millimetre / 10,
		Stud: 20 * measure.Millimetre, BlockLength: 120 * measure.Millimetre, BlockWidth: 60 * measure.Millimetre,
	}
}

// Figures are the measures that shields are cut and built by, to be read and written. No range has a published source:
// beyond it lies a slip of the hand.
func (b *Bench) Figures() []materials.Figure {
	l := func(name, what string, of *measure.Length, least, most float64) materials.Figure {
		return materials.Figure{Name: name, Group: "How it is built", What: what, Length: of, Least: least, Most: most}
	}
	return []materials.Figure{
		l("trim", "Layers are cut larger, at every side", &b.Trim, 0, 50),
		l("strip_allowance", "Edge strips are wider than the edge", &b.StripAllowance, 0, 50),
		l("least_joint", "No piece of a strip is shorter than", &b.LeastJoint, 20, 1000),
		l("stagger", "Seams of neighbouring layers keep apart", &b.Stagger, 0, 500),
		l("coat_thickness", "A coat adds to every side", &b.CoatThickness, 0, 5),
		l("stud", "A stud is across", &b.Stud, 2, 200),
		l("block_length", "A grip block is long, where not told", &b.BlockLength, 20, 500),
		l("block_width", "and wide", &b.BlockWidth, 10, 300),
	}
}

// calibration is the release factor for a way of setting.
func (b Bench) calibration(set string) float64 {
	if set == "heat" {
		return b.ReleaseHeat
	}
	return b.ReleaseCold
}
