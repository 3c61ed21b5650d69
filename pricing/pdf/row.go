package pdf

import (
	"github.com/johnfercher/go-tree/node"
	"github.com/johnfercher/maroto/v2/pkg/components/col"
	"github.com/johnfercher/maroto/v2/pkg/components/row"
	"github.com/johnfercher/maroto/v2/pkg/core"
	"github.com/johnfercher/maroto/v2/pkg/core/entity"
)

// Render, GetHeight, GetStructure and SetConfig make the block a component of maroto's.
func (b *block) Render(p core.Provider, cell *entity.Cell) {
	for _, m := range b.marks {
		m(p, cell.X, cell.Y)
	}
}

// GetHeight is the block's own height, mm.
func (b *block) GetHeight(core.Provider, *entity.Cell) float64 { return b.height }

// GetStructure names the block in maroto's tree.
func (b *block) GetStructure() *node.Node[core.Structure] {
	return node.New(core.Structure{Type: "block", Value: b.height})
}

// SetConfig is not needed: a block brings its own faces and sizes.
func (b *block) SetConfig(*entity.Config) {}

// row is the block as a row of its own.
func (b *block) row() core.Row { return lane{row.New(b.height).Add(col.New().Add(b))} }

// lane is a row that moves the library's pen down a trifle less than its height. Maroto fills a page to the last
// bit and turns it when the pen would go past its end, so that a rounding error in the sum of heights would turn it
// before the foot is printed. Where things are printed does not depend on the pen.
type lane struct{ core.Row }

// Render prints the row.
func (l lane) Render(p core.Provider, cell entity.Cell) { l.Row.Render(short{p}, cell) }

type short struct{ core.Provider }

// CreateRow moves the pen.
func (s short) CreateRow(height float64) { s.Provider.CreateRow(height - 1e-6) }
