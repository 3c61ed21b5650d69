package sales

import "foamwright/pricing/words"

// others is the sheet in the languages that its document is not in, for who reads the customer's page in one of them.
func (s Sheet) others() (all []Said) {
	for _, t := range words.Tongues() {
		if t.Code() == s.Tongue().Code() {
			continue
		}
		o := s
		o.Customer.Language = t.Code()
		o.Made, o.Cautions = Describe(t, s.Estimate.Shield), Cautions(t, s.Estimate)
		all = append(all, o.Said())
	}
	return all
}

// In is what the customer reads in a language; in the document's own where there is no other.
func (p Printed) In(language string) Said {
	for _, o := range p.Others {
		if o.Language == language {
			return o
		}
	}
	return p.Said
}
