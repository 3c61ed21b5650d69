package api

import (
	"context"
	"encoding/json"
	"mime"
	"net/http"
	"strings"
	"time"

	"foamwright/materials/stock"
	"foamwright/pricing/people"

	"github.com/danielgtaylor/huma/v2"
)

// ItemEntry is what an item is, as it is written. Figures are decimal text; what an item of its kind does not have
// is left out.
type ItemEntry struct {
	Name        string `json:"name" maxLength:"120"`
	Kind        string `json:"kind" enum:"foam,liquid,good" doc:"never changes"`
	Unit        string `json:"unit" doc:"as the trade writes it, or its code of UN/ECE Recommendation 20; never changes"`
	Place       string `json:"place,omitempty" doc:"in the catalogue; the take-off reaches for the first of a use"`
	Use         string `json:"use,omitempty"`
	Form        string `json:"form,omitempty" doc:"of foam: sheet, mat or roll"`
	Thickness   string `json:"thickness,omitempty" doc:"mm"`
	Width       string `json:"width,omitempty" doc:"mm that can be cut from one"`
	Height      string `json:"height,omitempty" doc:"mm that can be cut from one"`
	Pitch       string `json:"pitch,omitempty" doc:"mm from seam to seam of locked mats"`
	Density     string `json:"density_kg_m3,omitempty"`
	Textured    string `json:"textured,omitempty" doc:"yes, or nothing"`
	Colour      string `json:"colour,omitempty"`
	Swatch      string `json:"swatch,omitempty" doc:"#rrggbb"`
	LiquidMass  string `json:"density_kg_l,omitempty"`
	Solids      string `json:"solids,omitempty" doc:"% of the volume"`
	Spread      string `json:"spread,omitempty" doc:"l/m² of a coat on one face"`
	FirstSpread string `json:"first_spread,omitempty" doc:"l/m²"`
	Loss        string `json:"loss,omitempty" doc:"% left in brush and tin"`
	DryHours    string `json:"dry_hours,omitempty" doc:"of a filler: hours before it is worked on"`
	Sets        string `json:"sets,omitempty" doc:"of a filler: what those hours go by: air, warmth or itself"`
	Unsanded    string `json:"unsanded,omitempty" doc:"of a filler: yes when it is not sanded, or nothing"`
	Flags       string `json:"flags,omitempty" doc:"of solvent, latex, copper, oil; a space between"`
	Mass        string `json:"mass,omitempty" doc:"kg a unit"`
	HoldsLength string `json:"holds_length,omitempty" doc:"mm inside a box"`
	HoldsWidth  string `json:"holds_width,omitempty" doc:"mm"`
	HoldsDepth  string `json:"holds_depth,omitempty" doc:"mm"`
	Least       string `json:"least,omitempty" doc:"buy when below"`
	SealedDays  string `json:"sealed_days,omitempty"`
	OpenedDays  string `json:"opened_days,omitempty"`
	Coldest     string `json:"coldest,omitempty" doc:"°C"`
	Warmest     string `json:"warmest,omitempty" doc:"°C"`
	Dampest     string `json:"dampest,omitempty" doc:"% relative humidity"`
	Retired     string `json:"retired,omitempty" doc:"yes when it is no longer used, or nothing"`
}

// Item is a line of the catalogue.
type Item struct {
	Code     string `json:"code"`
	Section  string `json:"section"`
	UnitCode string `json:"unit_code" doc:"UN/ECE Recommendation 20"`
	Edit     int    `json:"edit" doc:"counts changes"`
	ItemEntry
}

type itemList struct {
	Items []Item `json:"items"`
}

type itemChange struct {
	ItemEntry
	Edit *int `json:"edit,omitempty" doc:"as it was read; left out for a new item"`
}

type byCode struct {
	Code string `path:"code"`
}

func itemOf(i stock.Item) Item {
	written := map[string]string{}
	for _, e := range i.Entries() {
		written[e.Field] = e.Value
	}
	out := Item{Section: string(i.Section()), UnitCode: i.Unit.Code(), Edit: i.Edit}
	text, _ := json.Marshal(written)         // text by text cannot fail
	_ = json.Unmarshal(text, &out.ItemEntry) // likewise: the fields are called the same
	out.Code = i.Code
	return out
}

func (f *face) items() {
	operation(f, op("GET /items", "list-items", "The catalogue in its order, retired items too").also(people.Bookkeeper),
		func(ctx context.Context, in *struct {
			Words string `query:"words" doc:"found anywhere in code or name"`
		}) (*answer[itemList], error) {
			list, err := f.List.InForce(ctx, time.Now())
			found := make([]stock.Item, 0, len(list.Items))
			for _, i := range list.Items {
				if i.Matches(in.Words) {
					found = append(found, i)
				}
			}
			return &answer[itemList]{itemList{each(found, itemOf)}}, err
		})
	operation(f, op("GET /items/{code}", "item", "One item", notFound).also(people.Bookkeeper), func(ctx context.Context, in *byCode) (*answer[Item], error) {
		line, err := f.List.Line(ctx, in.Code)
		if err != nil {
			return nil, err
		}
		return &answer[Item]{itemOf(line.Item)}, nil
	})
	taking(f, op("PUT /items/{code}", "keep-item", "Add an item, or change one as a whole", notFound, conflict), f.keepItem)
	f.table("items", "The catalogue as CSV", "Bring in a file of items", f.List.ItemsCSV, func(ctx context.Context, data []byte, check bool) (stock.Outcome, error) {
		return f.List.ImportItems(ctx, data, check)
	})
	f.table("prices", "Suppliers, packs and prices as CSV", "Bring in a file of suppliers, packs and prices", f.List.PricesCSV, func(ctx context.Context, data []byte, check bool) (stock.Outcome, error) {
		return f.List.ImportPrices(ctx, data, callOf(ctx).by, check)
	})
}

func (f *face) keepItem(ctx context.Context, in *byCode, e itemChange) (*answer[Item], error) {
	written := map[string]string{}
	text, err := json.Marshal(e.ItemEntry)
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(text, &written); err != nil {
		return nil, err
	}
	written["code"] = in.Code
	var there stock.Item
	if e.Edit != nil {
		line, err := f.List.Line(ctx, in.Code)
		if err != nil {
			return nil, err
		}
		there = line.Item
		there.Edit = *e.Edit
		for _, known := range there.Entries() { // as a whole: what is left out is none
			if _, sent := written[known.Field]; !sent {
				written[known.Field] = ""
			}
		}
	}
	i, err := stock.ItemOf(written, there)
	if err != nil {
		return nil, err
	}
	kept, err := f.List.KeepItem(ctx, i)
	return &answer[Item]{itemOf(kept)}, err
}

// Imported is what a file changed, or would change.
type Imported struct {
	Added   []string `json:"added"`
	Changed []string `json:"changed"`
	Same    int      `json:"same"`
	Checked bool     `json:"checked" doc:"nothing was written"`
}

type importing struct {
	Check bool `query:"check" doc:"only say what would change"`
}

// table mounts a CSV file that is read and written as a whole.
func (f *face) table(name, read, write string, get func(context.Context) ([]byte, error), put func(context.Context, []byte, bool) (stock.Outcome, error)) {
	path := "/" + name + csvEnd
	operation(f, op("GET "+path, "read-"+name+"-file", read).also(people.Bookkeeper).giving("CSV in UTF-8", csvUTF8),
		func(ctx context.Context, _ *none) (*documentAnswer, error) {
			data, err := get(ctx)
			return csvFile(name, data), err
		})
	operation(f, op("PUT "+path, "import-"+name, write, conflict, http.StatusRequestEntityTooLarge, http.StatusUnsupportedMediaType, invalid).
		saying("All of it or nothing; what the file does not name stays. Problems name row and column."),
		func(ctx context.Context, in *importing) (*answer[Imported], error) {
			out, err := put(ctx, callOf(ctx).body, in.Check)
			return &answer[Imported]{Imported{texts(out.Added), texts(out.Changed), out.Same, in.Check}}, err
		})
	f.OpenAPI().Paths[path].Put.RequestBody = &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{csvType: {}}}
}

func csvFile(name string, data []byte) *documentAnswer {
	return &documentAnswer{Status: http.StatusOK, ContentType: csvUTF8, Body: data, Disposition: mime.FormatMediaType("attachment", map[string]string{"filename": name + csvEnd})}
}

const (
	csvType = "text/csv"
	csvUTF8 = csvType + "; charset=utf-8"
	csvEnd  = ".csv"
	pdfType = "application/pdf"
	xmlType = "application/xml"
)

// isFile tells a path whose body is a file.
func isFile(path string) bool { return strings.HasSuffix(path, csvEnd) }
