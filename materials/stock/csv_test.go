package stock_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"foamwright/materials"
	"foamwright/materials/fault"
	"foamwright/materials/measure"
	"foamwright/materials/stock"
)

// awkward are texts that spreadsheets and CSV trip over. Ends of lines of two characters are left out: they come
// back as one, as every form of a browser that is kept does.
func awkward(most int) *rapid.Generator[string] {
	start := rapid.SampledFrom([]string{"", "=", "+", "-", "@", "\t", "\r", "'", "''", "＝", " ", "=HYPERLINK(\"x\")", "\n", ";", ","})
	rest := rapid.StringOfN(rapid.SampledFrom([]rune("ab9 ,;\"'=+-@\t\r\n|é²°木\u2028")), 0, most, -1)
	return rapid.Map(rapid.Custom(func(t *rapid.T) string { return start.Draw(t, "start") + rest.Draw(t, "rest") }),
		func(s string) string { return regexp.MustCompile("\r+\n").ReplaceAllString(s, "\n") })
}

// named is an awkward text that is more than space.
func named(most int) *rapid.Generator[string] {
	return awkward(most).Filter(func(s string) bool { return strings.TrimSpace(s) != "" })
}

func figure(most int64, places int32) *rapid.Generator[decimal.Decimal] {
	return rapid.Map(rapid.Int64Range(0, most), func(n int64) decimal.Decimal { return decimal.New(n, -places) })
}

func lengths(least, most measure.Length) *rapid.Generator[measure.Length] {
	return rapid.Map(rapid.Int64Range(int64(least), int64(most)), func(n int64) measure.Length { return measure.Length(n) })
}

func anItem(t *rapid.T, n int) stock.Item {
	mm := measure.Millimetre
	code, name := fmt.Sprintf("item %d", n), named(30).Draw(t, "name")
	var i stock.Item
	switch rapid.IntRange(0, 2).Draw(t, "family") {
	case 0:
		i = stock.Of(materials.Foam{
			Code: code, Name: name, Form: rapid.SampledFrom([]materials.Form{materials.Sheet, materials.Mat, materials.Roll}).Draw(t, "form"),
			Thickness: lengths(mm/2, 200*mm).Draw(t, "thickness"), Width: lengths(50*mm, 5000*mm).Draw(t, "width"), Height: lengths(50*mm, 50_000*mm).Draw(t, "height"),
			Pitch: lengths(0, 5000*mm).Draw(t, "pitch"), Density: figure(10_000_000, 4).Draw(t, "density"), Textured: rapid.Bool().Draw(t, "textured"),
		})
	case 1:
		flags := rapid.SliceOfNDistinct(rapid.SampledFrom(stock.Flags()), 0, 4, rapid.ID[materials.Flag]).Draw(t, "flags")
		if len(flags) == 0 {
			flags = nil
		}
		i = stock.Of(materials.Liquid{
			Code: code, Name: name, Use: rapid.SampledFrom(append(stock.LiquidUses(), "")).Draw(t, "use"), Colour: awkward(20).Draw(t, "colour"),
			Swatch: rapid.StringMatching(`(#[0-9a-f]{6})?`).Draw(t, "swatch"), Density: figure(100_000, 4).Draw(t, "density"), Solids: figure(10_000, 4).Draw(t, "solids"),
			Spread: figure(100_000, 4).Draw(t, "spread"), FirstSpread: figure(100_000, 4).Draw(t, "first"), Loss: figure(10_000, 4).Draw(t, "loss"), Flags: flags,
			DryHours: figure(10_000_000, 4).Draw(t, "dry"), Unsanded: rapid.Bool().Draw(t, "unsanded"),
			Sets: rapid.SampledFrom(append(materials.Settings(), "")).Draw(t, "sets"),
		})
	default:
		i = stock.Of(materials.Good{
			Code: code, Name: name, Use: rapid.SampledFrom(append(stock.GoodUses(), "")).Draw(t, "use"), Unit: rapid.SampledFrom(stock.Good.Units()).Draw(t, "unit"),
			Mass: figure(10_000_000, 4).Draw(t, "mass"), Holds: [3]measure.Length{lengths(0, 5000*mm).Draw(t, "long"), lengths(0, 5000*mm).Draw(t, "wide"), lengths(0, 5000*mm).Draw(t, "deep")},
		})
	}
	i.Place, i.Least = n+1, figure(10_000_000_000, 4).Draw(t, "least")
	i.SealedDays, i.OpenedDays = rapid.IntRange(0, 36500).Draw(t, "sealed"), rapid.IntRange(0, 36500).Draw(t, "opened")
	i.Climate = stock.Climate{
		Coldest: rapid.Ptr(rapid.IntRange(-60, 0), true).Draw(t, "coldest"), Warmest: rapid.Ptr(rapid.IntRange(0, 100), true).Draw(t, "warmest"),
		Dampest: rapid.Ptr(rapid.IntRange(0, 100), true).Draw(t, "dampest"),
	}
	i.Retired = rapid.Bool().Draw(t, "retired")
	return i
}

func aCatalogue(t *rapid.T) stock.List {
	var list stock.List
	for n := range rapid.IntRange(0, 6).Draw(t, "items") {
		list.Items = append(list.Items, anItem(t, n))
	}
	for n, name := range rapid.SliceOfNDistinct(named(20), 0, 3, rapid.ID[string]).Draw(t, "suppliers") {
		list.Suppliers = append(list.Suppliers, stock.Supplier{
			ID: uuid.NewString(), Name: name, Email: rapid.StringMatching(`([a-z=+-]{1,5}@[a-z]{3}\.example)?`).Draw(t, "mail"), Note: awkward(40).Draw(t, "note"),
			LeadDays: rapid.IntRange(0, 365).Draw(t, "lead"), Edit: n,
		})
	}
	for _, i := range list.Items {
		usual := rapid.Bool().Draw(t, "usual")
		for _, s := range list.Suppliers {
			for _, pack := range rapid.SliceOfNDistinct(figure(1_000_000, i.Unit.Places()), 0, 2, func(d decimal.Decimal) string { return d.String() }).Draw(t, "packs") {
				if pack.IsZero() {
					continue
				}
				o := stock.Offer{ID: uuid.NewString(), Item: i.Code, Supplier: s.ID, Pack: pack, Article: awkward(10).Draw(t, "article"), Usual: usual}
				o.Retired, usual = !o.Usual && rapid.Bool().Draw(t, "unsold"), false
				for _, day := range rapid.SliceOfNDistinct(rapid.IntRange(0, 20_000), 0, 3, rapid.ID[int]).Draw(t, "days") {
					o.Prices = append(o.Prices, stock.Price{From: time.Date(2001, 1, 1+day, 0, 0, 0, 0, time.UTC), Amount: figure(10_000_000_000, 4).Draw(t, "amount")})
				}
				slices.SortFunc(o.Prices, func(a, b stock.Price) int { return b.From.Compare(a.From) })
				list.Offers = append(list.Offers, o)
			}
		}
	}
	return list
}

// plainly is a list with suppliers by name instead of by ID, offers sorted, as JSON.
func plainly(t interface{ Fatal(...any) }, suppliers []stock.Supplier, offers []stock.Offer) string {
	names := map[string]string{}
	suppliers, offers = slices.Clone(suppliers), slices.Clone(offers)
	for i, s := range suppliers {
		names[s.ID] = s.Name
		suppliers[i].ID, suppliers[i].Edit = "", 0
	}
	for i := range offers {
		offers[i].Supplier, offers[i].ID = names[offers[i].Supplier], ""
	}
	slices.SortFunc(offers, func(a, b stock.Offer) int {
		return strings.Compare(a.Supplier+"\x00"+a.Item+a.Pack.String(), b.Supplier+"\x00"+b.Item+b.Pack.String())
	})
	text, err := json.MarshalIndent([]any{suppliers, offers}, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// Any catalogue goes through its files and comes back the same, however the cells are parted and the lines end.
func TestEveryCatalogueComesBackFromItsFiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := aCatalogue(t)
		var items, prices bytes.Buffer
		if err := stock.WriteItems(&items, list.Items); err != nil {
			t.Fatal(err)
		}
		if err := stock.WritePrices(&prices, list); err != nil {
			t.Fatal(err)
		}
		parted := rapid.SampledFrom([]rune{',', ';', '\t'}).Draw(t, "parted")
		got, err := stock.ReadItems(resaved(t, items.Bytes(), parted), nil)
		if err != nil {
			t.Fatal(err)
		}
		want, _ := json.Marshal(list.Items)
		if back, _ := json.Marshal(got); string(back) != string(want) {
			t.Fatal(cmp.Diff(string(want), string(back)))
		}
		suppliers, offers, err := stock.ReadPrices(resaved(t, prices.Bytes(), parted), stock.List{Items: list.Items})
		if err != nil {
			t.Fatal(err)
		}
		if want, back := plainly(t, list.Suppliers, list.Offers), plainly(t, suppliers, offers); want != back {
			t.Fatal(cmp.Diff(want, back))
		}
		// Read over itself it keeps whose edit counts and IDs were there.
		suppliers, offers, err = stock.ReadPrices(prices.Bytes(), list)
		if err != nil || !slices.Equal(suppliers, list.Suppliers) || len(offers) != len(list.Offers) {
			t.Fatal(err, suppliers)
		}
	})
}

// resaved is a file as a program that parts cells by another character saves it, with lines ending in CR LF where
// no cell has an end of line.
func resaved(t *rapid.T, data []byte, parted rune) []byte {
	records, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = parted
	w.UseCRLF = !bytes.ContainsAny(data, "\r") && rapid.Bool().Draw(t, "crlf")
	if err := w.WriteAll(records); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// No cell of a file begins like a formula but for figures, and what a person typed comes back as typed.
func TestNoCellIsAFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := aCatalogue(t)
		var items, prices bytes.Buffer
		if stock.WriteItems(&items, list.Items) != nil || stock.WritePrices(&prices, list) != nil {
			t.Fatal("not written")
		}
		for _, file := range []*bytes.Buffer{&items, &prices} {
			records, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(file.Bytes(), []byte("\ufeff")))).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range records {
				for _, cell := range r {
					if _, err := decimal.NewFromString(cell); err != nil && strings.IndexAny(cell, "=+-@\t\r\n＝") == 0 {
						t.Fatalf("%q", cell)
					}
				}
			}
		}
	})
}

const someItems = "code,name,kind,unit,thickness mm,width mm,height mm,form\n"

func TestWhatIsWrongIsNamedByRowAndColumn(t *testing.T) {
	many := someItems + strings.Repeat("x y,,foam,pcs,1,1,1,sheet\n", 200)
	for name, c := range map[string]struct {
		file string
		says []string
	}{
		"empty":             {"", []string{"nothing in the file"}},
		"only a mark":       {"\ufeff", []string{"nothing in the file"}},
		"unknown column":    {"code,name,kind,unit,prize\n", []string{`row 1, column 5 "prize": There is no such column. Known are: code, name`}},
		"missing column":    {"code,name,kind\n", []string{"row 1, unit: This column is missing."}},
		"column twice":      {"code,name,kind,unit,Code\n", []string{`row 1, column 5 "Code": This column is there twice.`}},
		"quotation marks":   {someItems + "a,\"b,foam,pcs,2,500,500,sheet\n", []string{"line 2: The quotation marks do not pair up"}},
		"short row":         {someItems + "a,b,foam\n", []string{"row 2, all: This row has 3 cells where there are 8 columns."}},
		"not a kind":        {someItems + "a,b,wood,pcs,,,,\n", []string{`row 2, kind "wood": Write what it is: foam, liquid or good.`}},
		"not a unit":        {someItems + "a,,good,gallon,,,,\n", []string{`row 2, unit "gallon": This is no unit.`, "row 2, name: Write a name."}},
		"foam in litres":    {someItems + "a,b,foam,l,2,500,500,sheet\n", []string{`row 2, unit "l": A foam is counted in pcs.`}},
		"not a number":      {someItems + "a,b,foam,pcs,\"2,5\",500,500,sheet\n", []string{`row 2, thickness mm "2,5": This is no number. Write one with a point`}},
		"NaN and 1e9":       {someItems + "a,b,foam,pcs,NaN,1e9,500,sheet\n", []string{`row 2, thickness mm "NaN"`, `row 2, width mm "1e9"`}},
		"too thick":         {someItems + "a,b,foam,pcs,900,500,500,sheet\n", []string{`row 2, thickness mm "900 mm": This is from 0.5 mm to 200 mm.`}},
		"a code twice":      {someItems + "a,b,good,pcs,,,,\na,b,good,pcs,,,,\n", []string{`row 3, code "a": Row 2 has this code too.`}},
		"a bad code":        {someItems + "Ä,b,good,pcs,,,,\n", []string{`row 2, code "Ä": Write a code of small letters`}},
		"a good is thick":   {someItems + "a,b,good,pcs,3,,,\n", []string{`row 2, thickness mm "3": A good has none. Leave it empty.`}},
		"another family":    {someItems + "mat-10,b,good,pcs,,,,\n", []string{`row 2, kind "good": mat-10 is a foam, and that stays.`}},
		"all rows":          {someItems + ",b,good,pcs,,,,\nc,,good,pcs,,,,\n", []string{"row 2, code", "row 3, name: Write a name."}},
		"not UTF-8":         {someItems + "a,b\xff,good,pcs,,,,\n", []string{"not written in UTF-8"}},
		"fifty at the most": {many, append(slices.Repeat([]string{"row"}, 50), "There is more to put right after these 50.")},
	} {
		there := []stock.Item{stock.Of(materials.Foam{Code: "mat-10", Name: "Mat"})}
		items, err := stock.ReadItems([]byte(c.file), there)
		problems := fault.ProblemsOf(err)
		if items != nil && err != nil && fault.KindOf(err) != fault.Invalid || len(problems) != len(c.says) {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, p := range problems {
			if !strings.Contains(p.String(), c.says[i]) {
				t.Errorf("%s: %s, not %s", name, p, c.says[i])
			}
		}
	}
	for name, file := range map[string]string{"2 MB": someItems + strings.Repeat("x", stock.MaxCSV), "10 000 rows": someItems + strings.Repeat("a,b,good,pcs,,,,\n", 10_001)} {
		if _, err := stock.ReadItems([]byte(file), nil); fault.KindOf(err) != fault.TooLarge {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestPricesThatContradict(t *testing.T) {
	const head = "supplier,lead days,item,pack,unit,usual,valid from,price\n"
	there := stock.List{Items: []stock.Item{stock.Of(materials.Liquid{Code: "latex", Name: "Latex"})}}
	for name, c := range map[string]struct{ rows, says string }{
		"lead times":           {"A,3,latex,5,l,yes,2026-01-01,58\nA,4,latex,1,l,,2026-01-01,15\n", `row 3, lead days "4": Row 2 says "3" of the same.`},
		"two usual packs":      {"A,3,latex,5,l,yes,2026-01-01,58\nA,3,latex,1,l,yes,2026-01-01,15\n", "row 3, usual \"yes\": Row 2 has the usual pack of this item."},
		"two prices of a day":  {"A,3,latex,5,l,yes,2026-01-01,58\nA,3,latex,5,l,yes,2026-01-01,59\n", `row 3, price "59": Row 2 says "58" of the same.`},
		"no such item":         {"A,3,clay,5,l,,2026-01-01,58\n", `row 2, item "clay": The catalogue has no such item.`},
		"another unit":         {"A,3,latex,5,kg,,2026-01-01,58\n", `row 2, unit "kg": The shelf counts this in l.`},
		"nothing in it":        {"A,3,latex,0,l,,2026-01-01,58\n", "row 2, pack \"0\": A pack holds more than nothing."},
		"a day that is none":   {"A,3,latex,5,l,,1.3.2026,58\n", `row 2, valid from "1.3.2026": Write a day as year, month and day`},
		"a day without price":  {"A,3,latex,5,l,,2026-01-01,\n", "row 2, price: Write what the pack costs from that day on"},
		"a price without day":  {"A,3,latex,5,l,,,58\n", "row 2, valid from: Write a day"},
		"a pack of nothing":    {"A,3,,5,l,,2026-01-01,58\n", "row 2, item: Write the code of the item"},
		"nobody":               {",3,latex,5,l,,2026-01-01,58\n", "row 2, supplier: Write a name."},
		"below zero":           {"A,3,latex,5,l,,2026-01-01,-1\n", `row 2, price "-1": Write a figure from 0`},
		"a lead time in words": {"A,soon,latex,5,l,,2026-01-01,1\n", `row 2, lead days "soon": This is no number.`},
	} {
		_, _, err := stock.ReadPrices([]byte(head+c.rows), there)
		if problems := fault.ProblemsOf(err); len(problems) != 1 || !strings.Contains(problems[0].String(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	_, offers, err := stock.ReadPrices([]byte(head+"A,3,latex,500,ml,yes,2026-01-01,7.90\n"), there)
	if err != nil || !offers[0].Pack.Equal(decimal.RequireFromString("0.5")) {
		t.Error(err, offers)
	}
}

// What is no sensible file is refused in words; what is read can be written and read again.
func FuzzItemsFile(f *testing.F) {
	var b bytes.Buffer
	if err := stock.WriteItems(&b, []stock.Item{
		stock.Of(materials.Foam{Code: "mat-10", Name: "=Mat, \"10\" mm", Form: materials.Mat, Thickness: 10 * measure.Millimetre, Width: 550 * measure.Millimetre, Height: 550 * measure.Millimetre}),
		stock.Of(materials.Liquid{Code: "latex", Name: "'Latex", Use: materials.UseLatex, Flags: []materials.Flag{materials.Rubber}}),
	}); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Add([]byte(someItems + "a,b,good,pcs,,,,\n"))
	f.Add([]byte("\ufeffcode;name;kind;unit\r\na;\"b\nc\";good;MTR\r\n"))
	f.Add([]byte("code,name,kind,unit\na,\"b"))
	f.Fuzz(func(t *testing.T, data []byte) {
		items, err := stock.ReadItems(data, nil)
		if err != nil {
			if fault.KindOf(err) == fault.Internal {
				t.Fatal(err)
			}
			return
		}
		var b bytes.Buffer
		if err := stock.WriteItems(&b, items); err != nil {
			t.Fatal(err)
		}
		again, err := stock.ReadItems(b.Bytes(), nil)
		want, _ := json.Marshal(items)
		if got, _ := json.Marshal(again); err != nil || string(got) != string(want) {
			t.Fatalf("%v: %s", err, cmp.Diff(string(want), string(got)))
		}
	})
}
