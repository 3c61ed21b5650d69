package takeoff

import (
	"github.com/shopspring/decimal"

	"foamwright/materials"
	"foamwright/materials/measure"
)

// Driver names what a step's work is counted by: metres of edge, gems, square metres of a coat.
type Driver string

// The drivers a take-off measures. A step that is counted by none of them never gets any time.
const (
	Job             Driver = "job"
	ComplexityPoint Driver = "complexity point"
	TemplateM       Driver = "m template"
	Former          Driver = "former"
	FormerStands    Driver = "former that stands"
	FirstTime       Driver = "first time"
	CutPieces       Driver = "piece"
	TeethM          Driver = "m teeth"
	CutM            Driver = "m cut"
	MarkedM         Driver = "m marked"
	GluedSeamM      Driver = "m glued seam"
	LockedSeamM     Driver = "m locked seam"
	KeyedM2         Driver = "m² keyed"
	FaceCoatM2      Driver = "m² face-coat"
	BondM2          Driver = "m² bond"
	BracedItem      Driver = "braced item"
	PressedItem     Driver = "pressed item"
	RimM            Driver = "m rim"
	RimJoint        Driver = "rim joint"
	EdgeM           Driver = "m edge"
	CheckedEdgeM    Driver = "m edge checked"
	StripM          Driver = "m strip"
	StripCorner     Driver = "strip corner"
	StripEdgeM      Driver = "m strip edge"
	PieceOutlineM   Driver = "m piece outline"
	RaisedPiece     Driver = "raised piece"
	RotaryM         Driver = "m rotary groove"
	KnifeM          Driver = "m knife groove"
	HeatedGrooveM   Driver = "m heated groove"
	GemCount        Driver = "gem"
	StudCount       Driver = "stud"
	PlankM          Driver = "m plank line"
	GrainM          Driver = "m grain"
	GrainedM2       Driver = "m² grained"
	CoverM          Driver = "m cover strip"
	HandleBlock     Driver = "handle block"
	StackLayer      Driver = "stack layer"
	GripStack       Driver = "grip stack"
	TaperedLayer    Driver = "tapered layer"
	GripBar         Driver = "grip bar"
	RopeGrip        Driver = "rope grip"
	Channel         Driver = "channel"
	StrapCount      Driver = "strap"
	AdjustableStrap Driver = "adjustable strap"
	ThumbGuard      Driver = "thumb guard"
	JointM          Driver = "m joint"
	SandedM         Driver = "m joint sanded"
	FirstCoatM2     Driver = "m² first coat"
	FurtherCoatM2   Driver = "m² further coat"
	PrimerCoatM2    Driver = "m² primer coat"
	ColourCoatM2    Driver = "m² colour coat"
	ColourCount     Driver = "colour"
	MaskedM         Driver = "m masked line"
	DetailPoint     Driver = "detail point"
	WeatheredM2     Driver = "m² weathered"
	ClearCoatM2     Driver = "m² clear coat"
	FinishedM2      Driver = "m² finished"
	CheckedItem     Driver = "checked item"
	Photographed    Driver = "photographed item"
	Parcels         Driver = "parcel"
	WorkingDay      Driver = "working day" // filled by the schedule, not by the take-off
)

// Ratios that multiply a step's unit work, counts that repeat its wait, and hours that are its wait.
const (
	TemplateFactor  Driver = "template factor" // 1.5 where the two halves differ
	LayUpPeople     Driver = "lay-up people"
	EdgeHeight      Driver = "edge height"            // total thickness over 30 mm
	EdgeHeightLeast Driver = "edge height, least 0.7" // the same, but never below 0.7
	WeatheringLevel Driver = "weathering level"       // 0.5, 1 or 1.8
	Bonds           Driver = "bonds"                  // of layer on layer: each gets its adhesive and waits for it
	FurtherCoats    Driver = "further coats"
	PrimerCoats     Driver = "primer coats"
	ColourCoats     Driver = "colour coats"
	ClearCoats      Driver = "clear coats"
	FillerHours     Driver = "filler hours" // how long this filler takes, instead of the step's own wait
)

// By is the driver that tells, by being 1, that hours go by something else than the table of steps says.
func (d Driver) By(s materials.Setting) Driver { return d + " by " + Driver(s) }

// Drivers are the measures of one item, each with how it came about.
type Drivers map[Driver]measure.Formula

// Value is a driver's amount for one item; zero when the item has none of it.
func (d Drivers) Value(name Driver) decimal.Decimal { return d[name].Quantity().Value }

// Sets is what the hours of a driver go by; empty where the take-off does not say.
func (d Drivers) Sets(hours Driver) materials.Setting {
	for _, s := range materials.Settings() {
		if _, ok := d[hours.By(s)]; ok {
			return s
		}
	}
	return ""
}
