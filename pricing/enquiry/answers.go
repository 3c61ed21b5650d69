package enquiry

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/shield"
	"foamwright/pricing/words"
)

// mostAnswer is how long one answer may be, in characters.
const mostAnswer = 120

// Check is nil for answers that say what they are about, else a fault with each problem at "answers." and the topic,
// in the tongue of who answers.
func Check(answers map[Topic]string, day time.Time, t words.Tongue) error {
	var l fault.List
	for _, about := range Topics() {
		typed := answers[about]
		if value := strings.TrimSpace(typed); value != "" {
			if remedy := about.refuse(value, day, t); remedy != "" {
				l.Add("answers."+string(about), typed, remedy)
			}
		}
	}
	for about := range answers {
		if !slices.Contains(Topics(), about) {
			l.Add("answers."+fault.Shorten(string(about)), "", "There is no such entry.")
		}
	}
	return l.Err()
}

// Choices are the values a topic may have; nil where it is written freely.
func (about Topic) Choices() []string {
	switch about {
	case Latex, Ship, Curve:
		return []string{"yes", "no"}
	case Hand:
		return []string{"left", "right"}
	case Shape:
		return []string{shield.Round, shield.Oval, shield.Rectangle, shield.Heater, shield.Kite, shield.Polygon}
	case Measured:
		return []string{shield.AlongCurve, shield.StraightAcross, shield.Flat}
	}
	return nil
}

// refuse says what to write instead of a value; "" where it will do.
func (about Topic) refuse(value string, day time.Time, t words.Tongue) string {
	if choices := about.Choices(); choices != nil {
		if !slices.Contains(choices, value) {
			return t.Say("Please choose one of these.")
		}
		return ""
	}
	switch about {
	case Width, Height, Diameter, Thickness, Depth, RimWidth, Forearm:
		if l, err := measure.ParseLength(value); err != nil || l <= 0 || l > 5*measure.Metre {
			return t.Say("Please write the length with its unit, for example 56 cm or 22 1/2 in.")
		}
	case Quantity, Layers, Gems, Studs, Sides:
		if n, err := strconv.Atoi(value); err != nil || n < 1 && about != Gems || n < 0 || n > 500 {
			return t.Say("Please write a whole number from 1 to 500.")
		}
	case Date:
		wanted, err := time.Parse(time.DateOnly, value)
		if y, m, d := day.Date(); err != nil || wanted.Year() > 2200 || wanted.Before(time.Date(y, m, d, 0, 0, 0, 0, time.UTC)) {
			return t.Say("Please choose a day that is still to come.")
		}
	}
	if utf8.RuneCountInString(value) > mostAnswer {
		return t.Say("This is too long. Please shorten it.")
	}
	return ""
}
