package web

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"mime"
	"path"

	"github.com/gofiber/fiber/v2"

	"foamwright/materials/fault"
)

// asset is one embedded file with the version that its address carries.
type asset struct {
	body    []byte
	version string
	kind    string
}

// worker is the script that opens the time log without a net.
const worker = "worker.js"

func loadStatic() (map[string]asset, error) {
	entries, err := files.ReadDir("static")
	if err != nil {
		return nil, err
	}
	assets := map[string]asset{}
	for _, e := range entries {
		body, err := files.ReadFile("static/" + e.Name())
		if err != nil {
			return nil, err
		}
		kind := mime.TypeByExtension(path.Ext(e.Name()))
		if kind == "" {
			return nil, fmt.Errorf("static/%s: no media type for its ending", e.Name())
		}
		sum := sha256.Sum256(body)
		assets[e.Name()] = asset{body, hex.EncodeToString(sum[:6]), kind}
	}
	return assets, nil
}

// asset serves a file; an address with the right version never changes, so browsers may keep it.
func (p *Pages) asset(c *fiber.Ctx) error {
	a, ok := p.static[c.Params("name")]
	if !ok {
		return fault.New(fault.NotFound, "There is no such file.")
	}
	c.Set(fiber.HeaderContentType, a.kind)
	if c.Params("name") == worker {
		c.Set("Service-Worker-Allowed", "/log") // it lies in /static and looks after no page but the time log
	}
	if c.Query("v") == a.version {
		c.Set(fiber.HeaderCacheControl, "public, max-age=31536000, immutable")
	}
	return c.Send(a.body)
}
