package db

// Tries is how often an act runs at most.
const Tries = tries

// Translate and TranslateDelete let the tests, which stand outside the package to use dbtest, hold real errors
// of the driver against the table.
var (
	Translate       = translate
	TranslateDelete = translateDelete
)
