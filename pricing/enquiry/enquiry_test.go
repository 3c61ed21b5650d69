package enquiry_test

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pgregory.net/rapid"

	"foamwright/materials/shield"
	"foamwright/pricing/enquiry"
	"foamwright/pricing/words"
)

// known is a workshop's own, on 27 November 2026.
func known() enquiry.Known {
	return enquiry.Known{
		Day: time.Date(2026, 11, 27, 9, 0, 0, 0, time.UTC),
		Rules: []shield.Rule{
			{Code: "marsh-medium", Name: "Marshlight medium", Edition: "3rd edition"},
			{Code: "marsh-large", Name: "Marshlight large", Edition: "3rd edition"},
			{Code: "fen-round", Name: "Fen League round", Edition: "2026"},
		},
		Colours: []string{"deep blue", "old gold", "leaf green", "white", "oak brown"},
	}
}

// short is a reading as the tables write it: what was found, then what is doubted, in the order of their names.
func short(r enquiry.Reading) string {
	var all []string
	for _, f := range r.Finds {
		if f.About != enquiry.LanguageOf {
			all = append(all, string(f.About)+"="+f.Value)
		}
	}
	for _, d := range r.Doubts {
		all = append(all, string(d.About)+"?"+string(d.Why))
	}
	slices.Sort(all)
	return strings.Join(all, "; ")
}

// phrases are enquiries in the words people use, written for this test.
func phrases() []struct{ words, want string } {
	return []struct{ words, want string }{
		// Sizes with their unit, said before or after.
		{"It should be 56 cm wide and 88 cm high.", "height=88 cm; width=56 cm"},
		{"Width: 56cm, height: 88cm", "height=88 cm; width=56 cm"},
		{"22 1/2 in wide", "width=22 1/2 in"},
		{"22½ inches wide", "width=22½ in"},
		{"1 ft 10 in high", "height=1 ft 10 in"},
		{`1' 10" tall`, "height=1 ft 10 in"},
		{"two foot six across", "diameter=2 ft 6 in"},
		{"a 58 cm diameter", "diameter=58 cm"},
		{"560 mm wide, 3 cm thick", "thickness=3 cm; width=560 mm"},
		{"about 60 cm wide", "width=60 cm"},
		{"60,5 cm breit und 90 cm hoch", "height=90 cm; width=60,5 cm"},
		{"Durchmesser 58 cm", "diameter=58 cm"},
		{"24 Zoll breit", "width=24 in"},
		{"56 cm de large et 88 cm de haut", "height=88 cm; width=56 cm"},
		{"hauteur : 90 cm", "height=90 cm"},
		{"56 cm wide (22 in)", "width=56 cm"},
		{"56 cm (22 in) wide", "width=56 cm"},
		{"with a 45 mm rim", "rim width=45 mm"},
		{"my forearm is 28 cm around", "forearm=28 cm"},
		{"I'm 185 cm tall", "wearer=185 cm"},
		// Sizes that are not certain: asked, never guessed.
		{"3 foot or 80", "size?which one"},
		{"about 60 wide", "width?no unit"},
		{"56 cm wide and 88 high", "height?no unit; width=56 cm"},
		{"60 cm", "size?of what"},
		{"60 x 90 cm", "size?in order"},
		{"60x90", "size?no unit"},
		{"50 to 60 cm wide", "width?which one"},
		{"between 50 and 60 cm wide", "width?which one"},
		{"50-60cm high", "height?which one"},
		{"max 60 cm wide", "width?only most"},
		{"no more than 90 cm high", "height?only most"},
		{"56 cm wide? ", "width?unclear"},
		{"56 m wide", "width?unlikely"},
		{"1,500 mm high", "height?unlikely"},
		{"24 inches or 60 cm wide", "width?which one"},
		{"56 cm wide. No, make that 60 cm wide.", "width?which one"},
		{"90 cm long", "size?of what"},
		{"30 in tall or 70", "height?which one"},
		// What looks like a size and is none.
		{"I need 3 in June", "date?which day; month=2027-06"},
		{"10 mm foam please", ""},
		{`the "80" is my number`, ""},
		{"we are 80 people in our 80's club", ""},
		{"my sword is 90 cm long", ""},
		// Days.
		{"I need it by 28 May 2027.", "date=2027-05-28"},
		{"before the 28th of May", "date=2027-05-28"},
		{"by May 28, 2027", "date=2027-05-28"},
		{"bis 28. Mai 2027", "date=2027-05-28"},
		{"bis zum 28.5.2027", "date=2027-05-28"},
		{"avant le 28 mai 2027", "date=2027-05-28"},
		{"2027-05-28", "date=2027-05-28"},
		{"28/5/2027", "date=2027-05-28"},
		{"5/6/2027", "date?which one"},
		{"by June", "date?which day; month=2027-06"},
		{"bis Juni", "date?which day; month=2027-06"},
		{"d'ici juin", "date?which day; month=2027-06"},
		{"by 31 June 2027", "date?no day"},
		{"by 28 May 2020", "date?no day"},
		{"as soon as possible", "date?which day"},
		{"in three weeks", "date?which day"},
		{"by 1 May 2027, the game is on 8 May 2027", "date?which one"},
		// How many of what.
		{"twelve of the same", "quantity=12"},
		{"We want 12 round shields", "quantity=12; shape=round"},
		{"a dozen shields", "quantity=12"},
		{"zwölf Schilde", "quantity=12"},
		{"douze boucliers", "quantity=12"},
		{"10-12 shields", "quantity?how many"},
		{"ten or twelve shields", "quantity?how many"},
		{"about a dozen shields", "quantity?how many"},
		{"a few shields", "quantity?how many"},
		{"for our group", "quantity?how many"},
		{"three gems", "gems=3"},
		{"two straps and three small green gems", "colour?shade; gems=3; grip=straps"},
		{"no gems", "gems=0"},
		{"some gems on it", "gems?how many"},
		{"one big gem in the middle and four small ones", "gems?how many"},
		{"drei Edelsteine", "gems=3"},
		{"trois gemmes", "gems=3"},
		{"with two gemstones", "gems=2"},
		{"avec des gemmes", "gems?how many"},
		{"ein ovaler Schild", "quantity=1; shape=oval"},
		{"2 Metern hoch", "height=2 m"},
		{"keine Latexallergien", "latex=no"},
		{"by next weekend", "date?which day"},
		{"a planked back", "back=planks"},
		{"3 layers", "layers=3"},
		{"2 layers of latex", "coat=latex"},
		{"dreilagig", "layers=3"},
		{"12 studs", "studs=12"},
		// Shape and curve.
		{"a kite shield, curved", "curve=yes; quantity=1; shape=kite"},
		{"round-topped", "shape?outline"},
		{"round about 60 cm wide", "width=60 cm"},
		{"a shield that is not round, 60 cm wide", "quantity=1; width=60 cm"},
		{"not a kite", "shape?outline"},
		{"hexagonal", "shape=polygon; sides=6"},
		{"heater or kite", "shape?which one"},
		{"not curved", "curve=no"},
		{"56 cm wide along the curve", "measured=along the curve; width=56 cm"},
		{"60 cm breit, gerade hinüber", "measured=straight across; width=60 cm"},
		{"with a curved top edge", ""},
		{"flat or curved?", "curve?yes and no"},
		{"gewölbter Rundschild", "curve=yes; shape=round"},
		{"un bouclier rond et bombé", "curve=yes; quantity=1; shape=round"},
		{"wooden planks on the back", "back=planks"},
		// Latex: only what is plain counts.
		{"I am allergic to latex.", "latex=yes"},
		{"Ich habe eine Latexallergie", "latex=yes"},
		{"je suis allergique au latex", "latex=yes"},
		{"I'm not allergic to latex", "latex=no"},
		{"no latex allergy", "latex=no"},
		{"keine Latexallergie", "latex=no"},
		{"latex allergy: no", "latex=no"},
		{"I might be allergic to latex", "latex?allergic"},
		{"nobody is allergic to latex", "latex?allergic"},
		{"no allergies", "latex?allergic"},
		{"not allergic to latex, but my brother is allergic to latex", "latex?allergic"},
		{"is latex ok? I don't think I'm allergic to latex", "latex?allergic"},
		{"without latex please", "coat=none"},
		{"no latex allergy that I know of, I think", "latex?allergic"},
		// Hand.
		{"for my left arm", "hand=left"},
		{"auf dem linken Arm", "hand=left"},
		{"au bras gauche", "hand=left"},
		{"I'm left-handed", "hand?which arm"},
		{"I carry my sword in my left hand", "hand?which arm"},
		{"ich bin Linkshänder", "hand?which arm"},
		// Rules, editions, events.
		{"for Marshlight medium, 3rd edition", "edition=3rd edition; rule=marsh-medium"},
		{"a Marshlight shield", "quantity=1; rule?class"},
		{"it is for the Reed Gathering", "event=Reed Gathering"},
		// Colours.
		{"deep blue with an old gold rim", "colour=deep blue; rim colour=old gold"},
		{"the face in deep blue and the back oak brown", "back colour=oak brown; face colour=deep blue"},
		{"something blue", "colour?shade"},
		// Money.
		{"My budget is 300 euros", "budget=300 EUR"},
		{"budget 300", "budget=300"},
		{"up to £250", "budget=250 GBP"},
		{"250-300 € budget", "budget?which one"},
		{"I saw one for 120 €", ""},
		// Where it goes.
		{"please ship it to White Fen", "ship=yes"},
		{"I'll collect it", "ship=no"},
		{"and can collect them", "ship=no"},
		{"Thanks,\nBram Tollgate, quartermaster", "name=Bram Tollgate"},
		{"send me a price please", ""},
		{"Ich hole ihn selbst ab", "ship=no"},
		// Who.
		{"Thanks,\nIlse of the White Fen\nilse@white-fen.example", "mail=ilse@white-fen.example; name=Ilse of the White Fen"},
		{"my name is Jonas Adler, phone +00 555 0178", "name=Jonas Adler; phone=+00 555 0178"},
		{"a crest like the one on https://example.org/60-cm-wide/kite", "emblem?picture"},
		{"", ""},
	}
}

func TestRead(t *testing.T) {
	for _, p := range phrases() {
		if got := short(enquiry.Read(p.words, known())); got != p.want {
			t.Errorf("%q\n got %s\nwant %s", p.words, got, p.want)
		}
	}
}

// whole is an enquiry as it comes by mail.
const whole = `Hello, I'd like a kite shield, curved, 56 cm wide and 88 cm high, with a heron on it and three gems.
Face in deep blue, rim in old gold. It is for Marshlight medium and I need it by 28 May 2027. I'm left-handed.
My budget is 450 euros.
Thanks,
Ilse of the White Fen
ilse@white-fen.example`

func TestReadAWholeEnquiry(t *testing.T) {
	r := enquiry.Read(whole, known())
	want := "budget=450 EUR; curve=yes; date=2027-05-28; face colour=deep blue; gems=3; hand?which arm; height=88 cm; mail=ilse@white-fen.example; name=Ilse of the White Fen; quantity=1; rim colour=old gold; rule=marsh-medium; shape=kite; width=56 cm"
	if got := short(r); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
	if r.Value(enquiry.LanguageOf) != "en" {
		t.Error("the language was not read")
	}
	var about []string
	for _, q := range enquiry.Ask(r, known().Rules, words.Speak(r.Value(enquiry.LanguageOf))) {
		about = append(about, string(q.About))
	}
	if got := strings.Join(about, ", "); got != "edition, measured, hand, latex, ship" {
		t.Errorf("asked: %s", got)
	}
}

// occurs holds a reading to its words: whatever is found or doubted stands in them, where it says, and no stretch is
// understood as two things but a month and its day, a shape and its sides.
func occurs(t interface{ Fatalf(string, ...any) }, words string, r enquiry.Reading) {
	for _, f := range r.Finds {
		if f.From < 0 || f.To > len(words) || f.Words != words[f.From:f.To] || f.Value == "" {
			t.Fatalf("%q: found %+v", words, f)
		}
	}
	for _, d := range r.Doubts {
		if d.From < 0 || d.To > len(words) || d.From == d.To || d.Words != words[d.From:d.To] {
			t.Fatalf("%q: doubted %+v", words, d)
		}
	}
}

// Whatever is found occurs in the words, however phrases are put together.
func TestWhatIsFoundIsSaid(t *testing.T) {
	all := phrases()
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		for range rapid.IntRange(1, 6).Draw(t, "phrases") {
			b.WriteString(rapid.SampledFrom(all).Draw(t, "phrase").words)
			b.WriteString(rapid.OneOf(rapid.SampledFrom([]string{" ", "\n", ". ", ", ", "or", " x ", "\"", "(", " - "}), rapid.StringN(0, 4, 16)).Draw(t, "between"))
		}
		words := strings.ToValidUTF8(b.String(), "")
		r := enquiry.Read(words, known())
		occurs(t, words, r)
		for _, f := range r.Finds {
			if f.About != enquiry.Colour && r.Value(f.About) != f.Value {
				t.Fatalf("%q: %s is two things", words, f.About)
			}
		}
	})
}

// A size without a unit is never found, whatever stands around it.
func TestNoUnitIsEverGuessed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 400).Draw(t, "figure")
		words := strings.ReplaceAll(rapid.SampledFrom([]string{"# wide", "about # high", "width #", "# x #", "# breit", "hauteur #", "3 foot or #", "# tall please", "roughly # across", "a # wide kite"}).Draw(t, "words"), "#", string(appendInt(nil, n)))
		for _, f := range enquiry.Read(words, known()).Finds {
			if slices.Contains([]enquiry.Topic{enquiry.Width, enquiry.Height, enquiry.Diameter, enquiry.Thickness}, f.About) {
				t.Fatalf("%q: %+v", words, f)
			}
		}
	})
}

func appendInt(b []byte, n int) []byte {
	if n >= 10 {
		b = appendInt(b, n/10)
	}
	return append(b, byte('0'+n%10))
}

func FuzzRead(f *testing.F) {
	for _, p := range phrases() {
		f.Add(p.words)
	}
	f.Add(whole)
	f.Fuzz(func(t *testing.T, said string) {
		if !utf8.ValidString(said) || len(said) > 4*enquiry.MaxWords {
			t.Skip()
		}
		r := enquiry.Read(said, known())
		occurs(t, said, r)
		for _, q := range enquiry.Ask(r, known().Rules, words.Speak(r.Value(enquiry.LanguageOf))) {
			if strings.Contains(q.Text, "%!") || q.Text == "" {
				t.Fatalf("%q: asks %q", said, q.Text)
			}
		}
	})
}

func BenchmarkRead(b *testing.B) {
	k := known()
	for name, words := range map[string]string{
		"usual":    whole,
		"longest":  strings.Repeat(whole+"\n", 1+enquiry.MaxWords/len(whole))[:enquiry.MaxWords],
		"figures":  strings.Repeat("3 foot or 80 x 56 cm ", enquiry.MaxWords/21),
		"articles": strings.Repeat("a ", enquiry.MaxWords/2),
		"digits":   strings.Repeat("1", enquiry.MaxWords),
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				enquiry.Read(words, k)
			}
		})
	}
}
