// Package orderform is a spec as it is written down: a JSON file, the body of a request or the fields of a page.
//
// Every entry is kept as it was typed, so a form that fails can be shown again unchanged. A length is text with
// its unit or a bare JSON number of millimetres. Reading reports all problems at once, each with its path
// ("outline.width"). Limits: 1 MB of JSON, 60 entries a list.
package orderform

// Form is a written spec. Empty entries are left out or get the usual default.
type Form struct {
	Kind       Text     `json:"kind,omitzero"`
	Name       Text     `json:"name,omitzero"`
	Quantity   Text     `json:"quantity,omitzero"`
	Rule       Text     `json:"rule,omitzero"`
	FirstTime  Text     `json:"first_time,omitzero"`
	Complexity Text     `json:"complexity,omitzero"`
	Outline    Outline  `json:"outline,omitzero"`
	Core       Core     `json:"core,omitzero"`
	Rim        *Rim     `json:"rim,omitempty"`
	Edge       *Edge    `json:"edge,omitempty"`
	Pieces     []Piece  `json:"pieces,omitempty"`
	Gems       []Gem    `json:"gems,omitempty"`
	Studs      Text     `json:"studs,omitzero"`
	Grooves    []Groove `json:"grooves,omitempty"`
	Back       Back     `json:"back,omitzero"`
	Grip       Grip     `json:"grip,omitzero"`
	Coat       Coat     `json:"coat,omitzero"`
	Paint      []Paint  `json:"paint,omitempty"`
	ClearCoats Text     `json:"clear_coats,omitzero"`
	Weathering Text     `json:"weathering,omitzero"`
	Parts      []Part   `json:"parts,omitempty"`
	Steps      []Step   `json:"steps,omitempty"`
	Filler     Text     `json:"filler,omitzero"`
	Caveat     Text     `json:"caveat,omitzero"`
	Delivery   Delivery `json:"delivery,omitzero"`
}

// Outline is the shape and its measures.
type Outline struct {
	Shape    Text `json:"shape,omitzero"`
	Diameter Size `json:"diameter,omitzero"`
	Width    Size `json:"width,omitzero"`
	Height   Size `json:"height,omitzero"`
	Shoulder Size `json:"shoulder,omitzero"`
	Corner   Size `json:"corner,omitzero"`
	Sides    Text `json:"sides,omitzero"`
	D        Text `json:"d,omitzero"`
	SVG      Text `json:"svg,omitzero"`
	File     Text `json:"file,omitzero"`
	Unit     Size `json:"unit,omitzero"`
	Is       Text `json:"is,omitzero"`
	WidthIs  Text `json:"width_is,omitzero"`
	Template Text `json:"template,omitzero"`
}

// Core is the stack of layers.
type Core struct {
	Foam         Text `json:"foam,omitzero"`
	Layers       Text `json:"layers,omitzero"`
	FormerRadius Size `json:"former_radius,omitzero"`
	Former       Text `json:"former,omitzero"`
	Depth        Size `json:"depth,omitzero"`
	Templates    Text `json:"templates,omitzero"`
	Set          Text `json:"set,omitzero"`
	Joint        Text `json:"joint,omitzero"`
	JointGlue    Text `json:"joint_glue,omitzero"`
	Prep         Text `json:"prep,omitzero"`
}

// Rim is the band round the face.
type Rim struct {
	Foam   Text `json:"foam,omitzero"`
	Width  Size `json:"width,omitzero"`
	Colour Text `json:"colour,omitzero"`
	Prep   Text `json:"prep,omitzero"`
}

// Edge is the strip round the edge.
type Edge struct {
	Foam    Text `json:"foam,omitzero"`
	Corners Text `json:"corners,omitzero"`
	Prep    Text `json:"prep,omitzero"`
}

// Place is a point on the face in mm from the outline's top centre.
type Place struct {
	X Size `json:"x,omitzero"`
	Y Size `json:"y,omitzero"`
}

// Piece is a raised shape.
type Piece struct {
	Name   Text   `json:"name,omitzero"`
	Foam   Text   `json:"foam,omitzero"`
	D      Text   `json:"d,omitzero"`
	Mirror Text   `json:"mirror,omitzero"`
	Count  Text   `json:"count,omitzero"`
	Layers Text   `json:"layers,omitzero"`
	Colour Text   `json:"colour,omitzero"`
	At     *Place `json:"at,omitempty"`
	Turn   Text   `json:"turn,omitzero"`
	Prep   Text   `json:"prep,omitzero"`
}

// Gem is an oval dome.
type Gem struct {
	Width  Size    `json:"width,omitzero"`
	Height Size    `json:"height,omitzero"`
	Layers Text    `json:"layers,omitzero"`
	Count  Text    `json:"count,omitzero"`
	Foam   Text    `json:"foam,omitzero"`
	Colour Text    `json:"colour,omitzero"`
	Facets Text    `json:"faceted,omitzero"`
	At     []Place `json:"at,omitempty"`
	Turn   Text    `json:"turn,omitzero"`
	Prep   Text    `json:"prep,omitzero"`
}

// Groove is carved into the face.
type Groove struct {
	Tool   Text   `json:"tool,omitzero"`
	Length Size   `json:"length,omitzero"`
	D      Text   `json:"d,omitzero"`
	At     *Place `json:"at,omitempty"`
	Passes Text   `json:"passes,omitzero"`
	Knots  Text   `json:"knotwork,omitzero"`
}

// Back is how the back is finished.
type Back struct {
	Finish     Text   `json:"finish,omitzero"`
	Tool       Text   `json:"tool,omitzero"`
	PlankWidth Size   `json:"plank_width,omitzero"`
	GrainPitch Size   `json:"grain_pitch,omitzero"`
	GrainDepth Size   `json:"grain_depth,omitzero"`
	SeamStrip  *Strip `json:"seam_strip,omitempty"`
}

// Strip is the thin strip over the joint of edge strip and back.
type Strip struct {
	Foam  Text `json:"foam,omitzero"`
	Width Size `json:"width,omitzero"`
}

// Grip is how it is held.
type Grip struct {
	Kind        Text `json:"kind,omitzero"`
	BlockLayers Text `json:"block_layers,omitzero"`
	Strap       Text `json:"strap,omitzero"`
	ThumbGuard  Text `json:"thumb_guard,omitzero"`
	Hand        Text `json:"hand,omitzero"`
	BlockLength Size `json:"block_length,omitzero"`
	BlockWidth  Size `json:"block_width,omitzero"`
	Taper       Size `json:"taper,omitzero"`
	Bar         Text `json:"bar,omitzero"`
	CoverLayers Text `json:"cover_layers,omitzero"`
	Adjustable  Text `json:"adjustable,omitzero"`
}

// Part is a free part of a prop or a repair, or something more on a shield.
type Part struct {
	Name   Text `json:"name,omitzero"`
	Foam   Text `json:"foam,omitzero"`
	D      Text `json:"d,omitzero"`
	Width  Size `json:"width,omitzero"`
	Height Size `json:"height,omitzero"`
	Count  Text `json:"count,omitzero"`
	Layers Text `json:"layers,omitzero"`
	Colour Text `json:"colour,omitzero"`
	Loose  Text `json:"loose,omitzero"`
}

// Step is a step of work that the workshop's table does not have.
type Step struct {
	Name    Text `json:"name,omitzero"`
	Minutes Text `json:"minutes,omitzero"`
}

// Coat is the skin.
type Coat struct {
	System Text `json:"system,omitzero"`
	Coats  Text `json:"coats,omitzero"`
}

// Paint is one colour on one region.
type Paint struct {
	Colour Text `json:"colour,omitzero"`
	Where  Text `json:"where,omitzero"`
	Coats  Text `json:"coats,omitzero"`
}

// Delivery is when and how.
type Delivery struct {
	By   Text `json:"by,omitzero"`
	Ship Text `json:"ship,omitzero"`
}
