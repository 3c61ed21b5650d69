package words

// Glossary are the words of the trade. Sentences of the catalogue use them, which a test holds them to.
func Glossary() []Word { return terms().list }
