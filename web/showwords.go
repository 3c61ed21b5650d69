package web

import (
	"html/template"

	"foamwright/pricing/sales"
)

// eventForm is an event's entries with the page they stand on.
type eventForm struct {
	Page  any
	Event sales.Event
	Label string // of the last day to order
}

// photoForm is what is said of a photo, of the next one or of one there is.
type photoForm struct {
	Box     photoBox
	Photo   sales.Photo
	Key     string // of its entries
	Consent string
}

// showWords are the templates' words for events and what goes with them.
func showWords() template.FuncMap {
	return template.FuncMap{
		"eventform": func(page any, label string) eventForm {
			f := eventForm{Page: page, Label: label}
			if d, ok := page.(eventPage); ok {
				f.Event = d.Event
			}
			return f
		},
		"photoform": func(box photoBox, photo any) photoForm {
			f := photoForm{Box: box, Key: "new", Consent: string(sales.NotAsked)}
			f.Photo.Taken = today()
			if box.Form == "photo" && photo == nil {
				t := &typing{v: box.v}
				f.Photo, f.Consent = photoTyped(t), box.v.Get("consent")
			}
			if p, ok := photo.(sales.Photo); ok {
				f.Photo, f.Key, f.Consent = p, p.ID, string(p.Consent)
			}
			return f
		},
	}
}
