package api

import (
	"encoding/json"
	"fmt"

	"foamwright/api/guard"
	"foamwright/materials/stock"
	"foamwright/pricing/figures"
	"foamwright/pricing/sales"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humafiber"
	"github.com/gofiber/fiber/v2"
)

// Where the API lies.
const (
	Path         = guard.APIPath + "/v1"
	DocumentPath = Path + "/openapi.json"
)

// MaxBody is the largest body in bytes but for files, which are up to stock.MaxCSV. An application with MaxUpload as
// its fiber BodyLimit refuses what is larger still before it is read; a form of a browser adds some to a file.
const (
	MaxBody   = 1 << 20
	MaxUpload = stock.MaxCSV + 64<<10
)

// Doors are the API's ways through the guard: its document is anybody's, and every operation asks for its own
// roles.
func Doors() []guard.Door { return []guard.Door{guard.Open(DocumentPath), guard.For(Path)} }

// face is the API while it is put together.
type face struct {
	huma.API
	Services
	group fiber.Router
	guard *guard.Guard
}

// Services are what the API is a face of.
type Services struct {
	Sales   *sales.Service
	List    *stock.Catalogue
	Shelf   *stock.Service
	Figures *figures.Service
	// ReachedAt is the address people reach the pages at, for links in mail; empty for the one that was asked.
	ReachedAt string
}

// Register mounts the API on an application whose guard is already closed with Doors and whose error handler
// writes problems for it. It panics on a wire type that huma cannot describe, which no input can cause.
func Register(app *fiber.App, services Services, g *guard.Guard) error {
	group := app.Group(Path, enter)
	f := &face{humafiber.NewWithGroup(app, group, config()), services, group, g}
	f.estimates()
	f.labour()
	f.customers()
	f.designs()
	f.quotes()
	f.options()
	f.enquiries()
	f.waiting()
	f.events()
	f.around()
	f.repairs()
	f.standard()
	f.issuing()
	f.orders()
	f.money()
	f.life()
	f.timeLogs()
	f.days()
	f.actual()
	f.figureDesigns()
	f.whatIf()
	f.shelf()
	f.buying()
	f.cutting()
	f.items()
	f.suppliers()
	f.mails()
	f.answers()
	f.figuresAnswers()
	f.figuresMonths()
	tidy(f.OpenAPI().Components.Schemas)
	document, err := json.Marshal(f.OpenAPI())
	if err != nil {
		return fmt.Errorf("api: OpenAPI document: %w", err)
	}
	group.Get("/openapi.json", func(c *fiber.Ctx) error {
		c.Set(fiber.HeaderContentType, "application/openapi+json")
		return c.Send(document)
	})
	return nil
}

// config describes the API. huma's own paths are left out: its document is made at the first request without a
// lock, and its pages load scripts from elsewhere.
func config() huma.Config {
	return huma.Config{
		OpenAPI: &huma.OpenAPI{
			OpenAPI: "3.1.0",
			Info: &huma.Info{
				Title: "foamwright", Version: "1",
				Description: "Estimates and quotes of made-to-order foam shields. Lengths are in mm and money is decimal text. " +
					"The owner may do everything; a bookkeeper reads quotes, orders, stock and buying, and keeps invoices and payments; a helper reads designs and the bench, logs time, takes material, measures, counts and throws away.",
			},
			Servers: []*huma.Server{{URL: Path}},
			Components: &huma.Components{
				Schemas:   registry(),
				Responses: map[string]*huma.Response{"Problem": problemResponse()},
				SecuritySchemes: map[string]*huma.SecurityScheme{
					"token":   {Type: "http", Scheme: "bearer", Description: "An API token that a person made for themselves."},
					"session": {Type: "apiKey", In: "cookie", Name: "foamwright", Description: "A signed-in browser; over TLS the name begins with __Host-."},
					"form":    {Type: "apiKey", In: "header", Name: "X-CSRF", Description: "The page's form token; goes with a session whenever something changes."},
				},
			},
			Security: []map[string][]string{{"token": {}}, {"session": {}, "form": {}}},
		},
		Formats:       map[string]huma.Format{"application/json": huma.DefaultJSONFormat},
		DefaultFormat: "application/json",
	}
}
