package enquiry

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"foamwright/materials/shield"
	"foamwright/pricing/words"
)

// Question is one thing to ask, in the customer's language.
type Question struct {
	About Topic
	Text  string
}

// Ask are the questions of a reading: what is not clear, and what was not said and a price needs.
func Ask(r Reading, rules []shield.Rule, t words.Tongue) []Question {
	var all []Question
	asked := map[Topic]bool{}
	add := func(about Topic, text string) {
		if text != "" && !slices.ContainsFunc(all, func(q Question) bool { return q.Text == text }) {
			all = append(all, Question{about, text})
		}
		asked[about] = true
	}
	for _, d := range r.Doubts {
		add(d.About, d.ask(t))
	}
	for _, m := range missing(r, asked, rules, t) {
		add(m.About, m.Text)
	}
	order := append([]Topic{Rule, Edition, Event}, Topics()...)
	slices.SortStableFunc(all, func(a, b Question) int { return slices.Index(order, a.About) - slices.Index(order, b.About) })
	return all
}

// missing are the questions of what was not said at all.
func missing(r Reading, asked map[Topic]bool, rules []shield.Rule, t words.Tongue) (all []Question) {
	unsaid := func(about Topic) bool { return r.Value(about) == "" && !asked[about] }
	add := func(about Topic, text string) { all = append(all, Question{about, text}) }
	switch rule := r.Value(Rule); {
	case rule == "" && !asked[Rule] && r.Value(Event) != "":
		add(Rule, t.Say("By which size rule, and which edition of it, does %s check shields?", r.Value(Event)))
	case rule == "" && !asked[Rule]:
		add(Rule, t.Say("For which game or event is it, and which edition of its size rule applies?"))
	case rule != "" && unsaid(Edition):
		for _, known := range rules {
			if known.Code == rule && known.Edition != "" {
				add(Edition, t.Say("Which edition of %s does your event go by? We know this one: %s.", known.Name, known.Edition))
			}
		}
	}
	if unsaid(Shape) {
		add(Shape, t.Say("What outline shall it have: round, oval, rectangular, a heater, a kite, or another? A sketch or a picture helps."))
	}
	size := func() {
		round := r.Value(Shape) == "round"
		width, height := unsaid(Width) && unsaid(Diameter), unsaid(Height) && unsaid(Diameter)
		switch {
		case asked[Size]:
		case round && unsaid(Diameter) && unsaid(Width):
			add(Diameter, t.Say("How large shall it be across, and in which unit?"))
		case round:
		case width && height:
			add(Size, t.Say("How wide and how high shall it be, and in which unit?"))
		case width:
			add(Width, t.Say("How wide shall it be, and in which unit?"))
		case height && r.Value(Shape) != "polygon":
			add(Height, t.Say("How high shall it be, and in which unit?"))
		}
	}
	size()
	if r.Value(Curve) == "yes" && unsaid(Measured) && r.Value(Width) != "" {
		add(Measured, t.Say("It is curved: is its width measured along the curve or straight across?"))
	}
	if unsaid(Date) {
		add(Date, t.Say("By which day must it be with you?"))
	}
	for _, about := range []Topic{Latex, Hand, Ship, Quantity, Budget} {
		if unsaid(about) {
			add(about, plainly(about, t))
		}
	}
	return all
}

// plainly asks for a topic as if nothing had been said of it; "" where there is no such question.
func plainly(about Topic, t words.Tongue) string {
	switch about {
	case Latex:
		return t.Say("Is anybody who will carry it, or come close to it, allergic to natural rubber latex? The usual coat is latex; there is one without.")
	case Hand:
		return t.Say("On which arm will the shield be carried, the left or the right?")
	case Ship:
		return t.Say("Shall we send it, and to which place, or will you collect it?")
	case Quantity:
		return t.Say("How many shall it be?")
	case Budget:
		return t.Say("Is there a sum that it should stay below?")
	case Curve:
		return t.Say("Shall it be flat or curved?")
	}
	return ""
}

// ask is the question that settles a doubt.
func (d Doubt) ask(t words.Tongue) string {
	written := func(rest string) string {
		return t.Say("You wrote “%s”.", strings.TrimSpace(d.Words)) + " " + rest
	}
	switch d.Why {
	case Allergic, Either:
		return plainly(d.About, t)
	case WhichArm:
		return written(t.Say("On which arm will the shield be carried, the left or the right?"))
	case NoUnit:
		return written(t.Say("In which unit is that: mm, cm or inches?"))
	case OfWhat:
		return written(t.Say("Is that the width, the height or the diameter?"))
	case InOrder:
		return written(t.Say("Which of the two is the width and which the height?"))
	case OnlyMost:
		return written(t.Say("How large shall it be exactly?"))
	case Unlikely:
		return written(t.Say("Is the unit right?"))
	case WhichDay:
		return written(t.Say("What is the last day on which it must be with you?"))
	case NoDay:
		return written(t.Say("That day is over or is not in the calendar. Which day is meant?"))
	case HowMany:
		return written(t.Say("How many exactly?"))
	case Class:
		return written(t.Say("Which size class: %s?", strings.Join(d.Choices, ", ")))
	case Outline:
		return written(t.Say("Which outline is that exactly? A sketch or a picture helps."))
	case Shade:
		return written(t.Say("Of our colours, is this meant: %s?", strings.Join(d.Choices, ", ")))
	case Picture:
		return written(t.Say("Please send a picture of it, and tell us whose drawing it is."))
	}
	if len(d.Choices) > 1 {
		return written(t.Say("Which of these is right: %s?", strings.Join(said(d.Choices, t), ", ")))
	}
	if slices.Contains([]Topic{Size, Width, Height, Diameter, Thickness, Depth, RimWidth}, d.About) {
		return written(t.Say("Which is right, and in which unit?"))
	}
	return written(t.Say("Which is right?"))
}

// said are choices as they are read: days in full.
func said(choices []string, t words.Tongue) []string {
	all := slices.Clone(choices)
	for i, c := range all {
		if day, err := time.Parse(time.DateOnly, c); err == nil {
			all[i] = t.Date(day)
		}
	}
	return all
}

// Letter is the questions as they are sent: a greeting, the list, and the workshop's name.
func Letter(questions []Question, name, shop string, t words.Tongue) string {
	if len(questions) == 0 {
		return ""
	}
	var b strings.Builder
	if name == "" {
		b.WriteString(t.Say("Hello,"))
	} else {
		b.WriteString(t.Say("Hello %s,", name))
	}
	b.WriteString("\n\n" + t.Say("thank you for your enquiry. So that we can tell you a price that holds, please answer this:") + "\n\n")
	for i, q := range questions {
		fmt.Fprintf(&b, "%d. %s\n", i+1, q.Text)
	}
	b.WriteString("\n" + t.Say("Kind regards") + "\n" + shop + "\n")
	return b.String()
}
