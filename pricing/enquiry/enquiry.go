// Package enquiry reads a customer's words for what they say for certain, and asks for the rest.
//
// What is found names the words it came from; what could mean two things is a doubt and becomes a question, never a
// guess. English, German and French words are known. Lengths keep the unit they were written in; days are calendar
// days. Limits: MaxWords characters; it knows the trade's words, not grammar, and stores nothing.
package enquiry

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"foamwright/materials/shield"
)

// MaxWords is how many characters of a customer are kept and read.
const MaxWords = 8000

// Topic is what of an order something tells.
type Topic string

// The topics. Lengths are written with their unit, "56 cm"; dates as 2027-05-28; counts as digits.
const (
	Width       Topic = "width"
	Height      Topic = "height"
	Diameter    Topic = "diameter"
	Size        Topic = "size" // a measure, nobody knows of what
	Thickness   Topic = "thickness"
	Depth       Topic = "depth"
	Measured    Topic = "measured" // along the curve, straight across, flat
	RimWidth    Topic = "rim width"
	Forearm     Topic = "forearm"
	Wearer      Topic = "wearer" // how tall they are
	Shape       Topic = "shape"
	Sides       Topic = "sides"
	Curve       Topic = "curve" // yes or no
	Layers      Topic = "layers"
	Gems        Topic = "gems"
	Studs       Topic = "studs"
	Back        Topic = "back"
	Grip        Topic = "grip"
	Hand        Topic = "hand" // that holds the shield: left or right
	FaceColour  Topic = "face colour"
	BackColour  Topic = "back colour"
	RimColour   Topic = "rim colour"
	Colour      Topic = "colour" // of something
	Emblem      Topic = "emblem"
	Rule        Topic = "rule" // code of a size rule
	Edition     Topic = "edition"
	Event       Topic = "event"
	Date        Topic = "date"  // when it must be there
	Month       Topic = "month" // 2027-06, where the day was not said
	Quantity    Topic = "quantity"
	Latex       Topic = "latex" // allergy: yes or no
	Coat        Topic = "coat"  // latex or none
	Ship        Topic = "ship"  // yes, or no for collecting it
	Budget      Topic = "budget"
	Name        Topic = "name"
	Mail        Topic = "mail"
	Phone       Topic = "phone"
	LanguageOf  Topic = "language"
	severalEach       = "colour" // the one topic that may have several values
)

// Find is one thing that was read for certain.
type Find struct {
	About    Topic
	Value    string
	Words    string // the customer's own, as they stand; empty where it was told otherwise than in the words
	From, To int    // of Words, in bytes
}

// Doubt is something that could mean several things, or too little.
type Doubt struct {
	About    Topic
	Why      Why
	Words    string
	From, To int
	Choices  []string // what it could mean, where that can be listed
}

// Why is what is the matter with words that were not understood for certain.
type Why string

// What can be the matter.
const (
	NoUnit   Why = "no unit"
	OfWhat   Why = "of what"    // a measure, but of what
	WhichOne Why = "which one"  // two or more that differ
	InOrder  Why = "in order"   // two measures, which is which
	OnlyMost Why = "only most"  // a limit and no size
	Unlikely Why = "unlikely"   // too large or too small for a shield
	WhichDay Why = "which day"  // a month, a season, soon
	NoDay    Why = "no day"     // over, or not in the calendar
	HowMany  Why = "how many"   // some, a few, about ten
	WhichArm Why = "which arm"  // left-handed: the sword's hand or the shield's
	Class    Why = "class"      // a game with several sizes
	Outline  Why = "outline"    // a form nobody can cut from the word
	Shade    Why = "shade"      // blue, but which
	Allergic Why = "allergic"   // said something of allergies, not whether of latex
	Unclear  Why = "unclear"    // anything else
	Picture  Why = "picture"    // an emblem that has to be seen
	Either   Why = "yes and no" // contradicts itself
)

// Reading is what was read, in the order of the words.
type Reading struct {
	Finds  []Find
	Doubts []Doubt
}

// Known is what a workshop knows of its own: what words are held against.
type Known struct {
	Day     time.Time // today: "28 May" is the next one
	Rules   []shield.Rule
	Colours []string
}

// Read reads words; what is over MaxWords is not read.
func Read(words string, k Known) Reading {
	if len(words) > 4*MaxWords {
		words = words[:4*MaxWords]
	}
	r := &reader{words: words, known: k}
	r.who()
	r.rules()
	r.dates()
	r.budget()
	r.counts()
	r.sizes()
	r.latex()
	r.form()
	r.hold()
	r.colours()
	r.sending()
	r.settle()
	return r.Reading
}

// settle makes one find of those that agree, and a doubt of those that do not.
func (r *reader) settle() {
	slices.SortStableFunc(r.Finds, func(a, b Find) int { return cmp.Compare(a.From, b.From) })
	byTopic := map[Topic][]Find{}
	for _, f := range r.Finds {
		if f.About != severalEach && !slices.ContainsFunc(byTopic[f.About], func(g Find) bool { return g.Value == f.Value }) {
			byTopic[f.About] = append(byTopic[f.About], f)
		}
	}
	var kept []Find
	for _, f := range r.Finds {
		same := byTopic[f.About]
		switch {
		case f.About == severalEach && slices.ContainsFunc(kept, func(g Find) bool { return g.About == f.About && g.Value == f.Value }):
		case f.About == severalEach:
			kept = append(kept, f)
		case len(same) == 1 && same[0].From == f.From:
			kept = append(kept, f)
		case len(same) > 1 && same[0].From == f.From && same[0].Value == f.Value:
			d := Doubt{About: f.About, Why: WhichOne, Words: f.Words, From: f.From, To: f.To}
			for _, g := range same {
				d.Choices = append(d.Choices, g.Value)
			}
			d.Words = same[0].Words
			if f.About == Latex || f.About == Curve || f.About == Ship {
				d.Why = Either
			}
			r.Doubts = append(r.Doubts, d)
		}
	}
	r.Finds = kept
	slices.SortStableFunc(r.Doubts, func(a, b Doubt) int { return cmp.Compare(a.From, b.From) })
	seen := map[string]bool{}
	r.Doubts = slices.DeleteFunc(r.Doubts, func(d Doubt) bool {
		key := string(d.About) + "\x00" + string(d.Why) + "\x00" + strings.ToLower(d.Words)
		was := seen[key]
		seen[key] = true
		return was
	})
}

// Value is what was found about a topic, "" for nothing.
func (r Reading) Value(about Topic) string {
	for _, f := range r.Finds {
		if f.About == about {
			return f.Value
		}
	}
	return ""
}

// Doubted tells whether something about a topic was said that is not clear.
func (r Reading) Doubted(about Topic) bool {
	return slices.ContainsFunc(r.Doubts, func(d Doubt) bool { return d.About == about })
}

// Told is the reading with what was told otherwise than in the words, by a form or by the maker: that stands, and what
// the words say about it is not asked any more.
func (r Reading) Told(answers map[Topic]string) Reading {
	told := Reading{}
	answered := func(t Topic) bool { return strings.TrimSpace(answers[t]) != "" }
	for _, f := range r.Finds {
		if !answered(f.About) {
			told.Finds = append(told.Finds, f)
		}
	}
	sized := answered(Width) && answered(Height) || answered(Diameter)
	for _, d := range r.Doubts {
		if answered(d.About) || d.About == Size && sized || d.About == Month && answered(Date) {
			continue
		}
		told.Doubts = append(told.Doubts, d)
	}
	for _, t := range Topics() {
		if answered(t) {
			told.Finds = append(told.Finds, Find{About: t, Value: strings.TrimSpace(answers[t])})
		}
	}
	return told
}

// Topics are all of them, in the order in which they are told.
func Topics() []Topic {
	return []Topic{Name, Mail, Phone, LanguageOf, Quantity, Shape, Sides, Width, Height, Diameter, Size, Measured, Thickness, Curve, Depth, Layers, RimWidth, Gems, Studs, Emblem,
		FaceColour, RimColour, BackColour, Colour, Back, Grip, Hand, Forearm, Wearer, Rule, Edition, Event, Date, Month, Latex, Coat, Ship, Budget}
}
