package web

// Moved is what a later version changed, as its customer reads it; nothing for a first version.
func (d answerView) Moved() []string {
	if m := d.Quote.Printed.Moved; m != nil {
		return m.Told(d.Tongue, d.Quote.Gross.Currency())
	}
	return nil
}
