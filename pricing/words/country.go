package words

import (
	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
)

// Country is a country's name in the tongue by its code of ISO 3166-1, as the Unicode CLDR has it; the code itself
// where there is none such.
func (t Tongue) Country(code string) string {
	region, err := language.ParseRegion(code)
	if err != nil {
		return code
	}
	if name := display.Regions(language.Make(t.Code())).Name(region); name != "" {
		return name
	}
	return code
}
