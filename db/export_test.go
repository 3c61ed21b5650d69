package db

// Tries is how often an act runs at most.
const Tries = tries

// Translate and TranslateDelete let the tests, which stand outside the package to use dbtest, hold real errors
// of the driver against the table.
func Translate(err error, noun func(constraint string) (field, remedy string)) error {
	return translate(err, seen(noun))
}

func TranslateDelete(err error, noun func(constraint string) (field, remedy string)) error {
	return translateDelete(err, seen(noun))
}

func seen(noun func(string) (string, string)) refusals {
	return func(constraint string) refusal {
		field, remedy := noun(constraint)
		return refusal{field, remedy}
	}
}
