package web

import (
	"slices"

	"foamwright/pricing/enquiry"
	"foamwright/pricing/sales"
	"foamwright/pricing/words"
)

// enquiryPage is an enquiry while it is written or looked at.
type enquiryPage struct {
	sales.Enquired
	Edited   int    // count the form was shown with; 0 for a new one
	Customer string // chosen
	Text     string // the letter
	Token    string
	Photos   photoBox
	CanMail  bool
	Mail     mailBox
	Problems map[string]string
	Message  string
	Unsaved  bool
	rules    []option
}

// answer is an entry for what was told otherwise than in the words.
type answer struct {
	entry
	Kind string // "choice", "date" or "text"
}

// Answers are those a price usually needs, in the order in which they are asked.
func (d enquiryPage) Answers() []answer {
	var all []answer
	for _, a := range []struct {
		about       enquiry.Topic
		label, hint string
	}{
		{enquiry.Shape, "Outline", ""}, {enquiry.Width, "Width", "56 cm"}, {enquiry.Height, "Height", "88 cm"}, {enquiry.Diameter, "Diameter", "58 cm"},
		{enquiry.Curve, "Curved", ""}, {enquiry.Measured, "Width is measured", ""}, {enquiry.Quantity, "How many", "1"},
		{enquiry.Rule, "Size rule", ""}, {enquiry.Edition, "Its edition", ""}, {enquiry.Event, "Event", ""},
		{enquiry.Date, "Wanted by", ""}, {enquiry.Latex, "Allergic to latex", ""}, {enquiry.Hand, "Shield arm", ""},
		{enquiry.Ship, "To be sent", ""}, {enquiry.Budget, "Budget", "300"},
	} {
		name := "answers." + string(a.about)
		e := answer{entry{Name: name, Label: a.label, Hint: a.hint, Value: d.Enquiry.Answers[a.about], Problem: d.Problems[name], ID: id(name)}, "text"}
		choices := d.rules
		if a.about != enquiry.Rule {
			choices = nil
			for _, c := range a.about.Choices() {
				choices = append(choices, option{c, c})
			}
		}
		switch {
		case a.about == enquiry.Date:
			e.Kind = "date"
		case choices != nil:
			e.Kind, e.Options = "choice", append([]option{{"", "by the words"}}, choices...)
			e.entry = e.keep()
		}
		all = append(all, e)
	}
	return all
}

// Told tells that something was told otherwise than in the words, or was not taken.
func (d enquiryPage) Told() bool {
	return slices.ContainsFunc(d.Answers(), func(a answer) bool { return a.Value != "" || a.Problem != "" })
}

// Languages are those a customer can be written to in.
func (d enquiryPage) Languages() []option {
	all := []option{{"", "by the words"}}
	for _, t := range words.Tongues() {
		all = append(all, option{t.Code(), t.Name()})
	}
	return all
}

// finding is one thing that was found, as it is told on the page.
type finding struct{ What, Value, Words string }

// Found are the finds in words; a rule is told by its name.
func (d enquiryPage) Found() []finding {
	var all []finding
	order := enquiry.Topics()
	finds := slices.Clone(d.Reading.Finds)
	slices.SortStableFunc(finds, func(a, b enquiry.Find) int { return slices.Index(order, a.About) - slices.Index(order, b.About) })
	for _, f := range finds {
		value := f.Value
		switch f.About {
		case enquiry.Name, enquiry.Mail, enquiry.Phone:
			continue // beside the words already
		case enquiry.Rule:
			for _, r := range d.rules {
				if r.Value == value {
					value = r.Label
				}
			}
		case enquiry.LanguageOf:
			value = words.Speak(value).Name()
		case enquiry.Month:
			if day, ok := isoDay(value + "-01"); ok {
				value = day.Format("January 2006")
			}
		case enquiry.Date:
			if day, ok := isoDay(value); ok {
				value = words.Date(day)
			}
		}
		said := f.Words
		if said == "" && f.About != enquiry.LanguageOf {
			said = "told"
		}
		all = append(all, finding{topic(f.About), value, said})
	}
	return all
}

// topic is a topic as the maker reads it.
func topic(about enquiry.Topic) string {
	switch about {
	case enquiry.Latex:
		return "Allergic to latex"
	case enquiry.Ship:
		return "To be sent"
	case enquiry.Curve:
		return "Curved"
	case enquiry.Date:
		return "Wanted by"
	case enquiry.Hand:
		return "Shield arm"
	case enquiry.Rule:
		return "Size rule"
	case enquiry.Coat:
		return "Coating"
	case enquiry.Measured:
		return "Width is measured"
	}
	return sales.Sentence(string(about))
}
