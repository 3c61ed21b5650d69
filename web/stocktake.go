package web

import (
	"fmt"
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/shopspring/decimal"

	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/materials/stock"
)

// countPage is a count sheet. What the books say stays hidden until something else was found: whoever reads the
// figure first finds just that figure on the shelf.
type countPage struct {
	Sections []countSection
	Words    string
	Next     string
	At       string     // where it is posted
	Look     []countRow // that need another look
	Whole    string     // what is wrong with the sheet as a whole
	Posted   string     // how many differences were, after they were
}

type countSection struct {
	Name stock.Section
	Rows []countRow
}

// countRow is one item to count: as it was typed, and the books' figure from when the sheet was made.
type countRow struct {
	stock.Row
	ID              string
	Was, Found, Why string
	Shown           bool // the books' figure
	Moved           bool // since the sheet was made
	Wrong, WhyWrong string
}

func (p *Pages) countSheet(c *fiber.Ctx) error {
	return p.showCount(c, fiber.StatusOK, url.Values{}, nil)
}

func (p *Pages) showCount(c *fiber.Ctx, status int, v url.Values, problems map[string]string) error {
	f := stock.Found{Words: c.Query("words"), Most: mostShelf, Skip: max(0, c.QueryInt("from"))}
	rows, err := p.shelf.List(c.UserContext(), f)
	if err != nil {
		return err
	}
	data := countPage{Words: f.Words, Next: next("/stock/count", f, len(rows)), At: c.OriginalURL(), Whole: problems[""], Posted: c.Query("posted")}
	for i, s := range inSections(rows) {
		section := countSection{Name: s.Name}
		for j, r := range s.Rows {
			row := counted(r, fmt.Sprintf("count-%d-%d", i, j), v, problems)
			section.Rows = append(section.Rows, row)
			if row.Wrong != "" || row.WhyWrong != "" {
				data.Look = append(data.Look, row)
			}
		}
		data.Sections = append(data.Sections, section)
	}
	return p.render(c, status, "stock-count", "Count", "stock", data)
}

// counted is a row as it was typed. A figure that the books no longer say is put right, and the row is marked.
func counted(r stock.Row, id string, v url.Values, problems map[string]string) countRow {
	code, books := r.Item.Code, r.Balance.OnHand.String()
	row := countRow{Row: r, ID: id, Was: books, Found: v.Get("found." + code), Why: v.Get("why." + code), Wrong: problems["found."+code], WhyWrong: problems["why."+code]}
	was, typed := v["was."+code]
	row.Moved = typed && row.Found != "" && was[0] != books
	row.Shown = row.Found != "" && (row.Moved || row.Why != "" || row.Wrong != "" || row.WhyWrong != "")
	return row
}

// postCount posts what was found, all of it or nothing. Items whose entry was left empty were not counted.
func (p *Pages) postCount(c *fiber.Ctx) error {
	t := &typing{v: values(c)}
	var found []stock.Finding
	for name := range t.v {
		code, ok := strings.CutPrefix(name, "found.")
		if !ok || strings.TrimSpace(t.v.Get(name)) == "" {
			continue
		}
		was, err := decimal.NewFromString(t.v.Get("was." + code))
		if err != nil || len(t.v.Get("was."+code)) > 30 {
			was = decimal.NewFromInt(-1) // a sheet of somebody else's making: counted again
		}
		found = append(found, stock.Finding{Item: code, Expected: was, Found: t.number(name), Why: t.v.Get("why." + code)})
	}
	if len(found) == 0 {
		t.problems.Add("", "", "Nothing was counted yet: write what you found beside at least one item.")
	}
	status := fiber.StatusUnprocessableEntity
	if t.problems.Empty() {
		posted, err := p.shelf.Stocktake(c.UserContext(), found, by(c))
		if err == nil {
			return c.Redirect(fmt.Sprintf("/stock/count?posted=%d", posted), fiber.StatusSeeOther)
		}
		if fault.KindOf(err) != fault.Shortage && fault.KindOf(err) != fault.Invalid {
			return err
		}
		status = problem.Status(err)
		if err := t.under("", err); err != nil {
			return err
		}
	}
	return p.showCount(c, status, t.v, t.byField())
}
