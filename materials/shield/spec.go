// Package shield turns a spec into a shield: its outline, layers, curve, parts and how it stands to a size rule.
//
// Units: spec lengths are exact, geometry is float64 mm with the origin at the outline's top centre, x right,
// y down. Limits: outlines from 50 mm to 3 m, 1 to 12 layers, curves about the upright axis only (flat sheets
// bend one way), at most half a turn.
package shield

import (
	"time"

	"foamwright/materials/geom"
	"foamwright/materials/measure"
)

// Spec is what the customer wants made, in the order it is made.
type Spec struct {
	Kind       string // Made, Prop or Repair
	Name       string
	Quantity   int
	Rule       string // code of the size rule; empty when none was stated
	FirstTime  bool   // a shape or technique not made before: a trial on scrap, more contingency
	Complexity int    // of drawing and detail painting, 0 plain to 5
	Outline    Outline
	Core       Core
	Rim        *Rim
	Edge       *Edge
	Pieces     []Piece
	Gems       []Gem
	Studs      int
	Grooves    []Groove
	Back       Back
	Grip       Grip
	Coat       Coat
	Paint      []Paint
	ClearCoats int
	Weathering int // 0 none to 3 heavy
	Parts      []FreePart
	Steps      []FreeStep
	Filler     string   // code of the filler; the catalogue's usual one when empty
	Notes      []string // what reading the spec left to say, shown with the estimate
	Caveat     string   // what the price leaves open, such as what an inspection may show
	Delivery   Delivery
}

// What a spec is for.
const (
	Made   = "shield"
	Prop   = "prop"   // anything else of foam: free parts, no outline of its own
	Repair = "repair" // priced after inspection
)

// FreePart is a shape of foam that is no part of the shield's own build-up: by its path, or a rectangle.
type FreePart struct {
	Name, Foam, D string
	Width, Height measure.Length
	Count, Layers int
	Colour        string
	Loose         bool // glued to nothing; only its own layers are glued together
}

// FreeStep is work that the table of steps does not have, for each item.
type FreeStep struct {
	Name    string
	Minutes int
}

// The outline's shapes.
const (
	Round     = "round"
	Oval      = "oval"
	Rectangle = "rectangle"
	Heater    = "heater"
	Kite      = "kite"
	Polygon   = "polygon"
	Half      = "half"
	Path      = "path"
)

// How the width of an outline is meant.
const (
	AlongCurve     = "along the curve"
	StraightAcross = "straight across"
	Flat           = "flat"
)

// Outline is the shape of the core, or of the finished shield when Is says so.
type Outline struct {
	Shape         string
	Diameter      measure.Length // round
	Width, Height measure.Length // oval, rectangle, heater, kite; polygon takes the width alone
	Shoulder      measure.Length // heater: straight sides down to here; kite: the widest line
	Corner        measure.Length // rectangle: corner radius
	Sides         int            // polygon
	D             string         // half, path: SVG path data in mm
	Is            string         // "core" or "finished": whether edge strip and coats come on top
	WidthIs       string         // AlongCurve, StraightAcross or Flat
	Template      string         // "new" or "have"
}

// Core is the stack of layers that carries the shield.
type Core struct {
	Foam      string
	Layers    int
	Former    measure.Length // radius to the back face; 0 is flat unless named or by depth
	FormerIs  string         // name of a former of the workshop's list
	Depth     measure.Length // bent by hand to stand so deep when released
	Templates string         // "same" or "per layer"
	Set       string         // "cold" or "heat"
	Joint     string         // "interlock" or "butt"
	JointGlue string         // code of the adhesive for seams; that of the layers when empty
	Prep      string         // of the faces that are glued: "keyed", "flat" or "smooth"
}

// Rim is a band of foam round the face.
type Rim struct {
	Foam   string
	Width  measure.Length
	Colour string
	Prep   string // of what is glued: "keyed", "flat" or "smooth"; so below
}

// Edge is a thin strip glued round the edge.
type Edge struct {
	Foam    string
	Corners string // "met" or "wrapped"
	Prep    string
}

// Piece is a raised shape glued to the face.
type Piece struct {
	Name, Foam, D string
	Mirror        bool // cut a second one the other way round
	Count, Layers int
	Colour        string
	At            *geom.Point // where its own origin goes on the face; the outline's origin when nil
	Turn          float64     // degrees, clockwise
	Prep          string      // "keyed", "flat" or "smooth"
}

// Gem is a shaped dome, oval in plan.
type Gem struct {
	Width, Height measure.Length
	Layers, Count int
	Foam          string // the core's foam when empty
	Colour        string
	Faceted       bool
	At            []geom.Point // centres; spread along the upright axis when empty
	Turn          float64      // degrees, clockwise
	Prep          string
}

// Groove is carved into the face, by a length that is stated or by its path.
type Groove struct {
	Tool   string // "rotary" or "knife"
	Length measure.Length
	D      string
	At     *geom.Point // where its own origin goes on the face; the outline's origin when nil
	Passes int
	Knots  bool // knotwork: over and under, which is slower
}

// Back is how the back looks.
type Back struct {
	Finish     string // "plain" or "planks"
	Tool       string // "knife" or "rotary"
	PlankWidth measure.Length
	GrainPitch measure.Length // between grain lines; 0 for none
	GrainDepth measure.Length
	Cover      *Strip // thin strip over the joint of edge strip and back
}

// Strip is a thin strip by foam and width.
type Strip struct {
	Foam  string
	Width measure.Length
}

// Grip is how it is held.
type Grip struct {
	Kind        string // "none", "bar", "straps", "strap and bar" or "rope"
	BlockLayers int
	Straps      int
	ThumbGuard  bool
	Hand        string         // "right", "left" or "either"
	BlockLength measure.Length // of the lowest layer of a stack or block
	BlockWidth  measure.Length
	Taper       measure.Length // each layer of a stack is so much shorter at either end than the one below
	Bar         string         // code of the bar; the catalogue's usual one when empty
	CoverLayers int            // layers of foam over the bar's channel
	Adjustable  bool           // for a wearer who could not be measured: one strap more
}

// Coat is the skin over the foam.
type Coat struct {
	System string // "latex", "primer" or "none"
	Coats  int
}

// Paint is one colour on one region.
type Paint struct {
	Colour, Where string // Where: "face", "rim", "back" or "edge"
	Coats         int
}

// Delivery is when and how it goes out.
type Delivery struct {
	By   time.Time // zero when no date was asked
	Ship bool
}
