package pdf

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/boombuler/barcode/qr"
)

// QR is a text as a QR code (ISO/IEC 18004, error level M) for a page: an SVG of dark squares on white with the quiet
// zone of four squares around it. label is what it is called to who cannot see it; it is no markup.
func QR(text, label string) (string, error) {
	code, err := qr.Encode(text, qr.M, qr.Unicode)
	if err != nil {
		return "", fmt.Errorf("a code of %d bytes: %w", len(text), err)
	}
	const quiet = 4
	n := code.Bounds().Dx()
	var dark strings.Builder
	for y := range n {
		for x := range n {
			if color.GrayModel.Convert(code.At(x, y)).(color.Gray).Y < 128 {
				fmt.Fprintf(&dark, "M%d %dh1v1h-1z", x+quiet, y+quiet)
			}
		}
	}
	side := n + 2*quiet
	label = strings.NewReplacer("&", "&amp;", "<", "&lt;", `"`, "&quot;").Replace(label)
	return fmt.Sprintf(`<svg class="code" viewBox="0 0 %d %d" role="img" aria-label="%s" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h%dv%dH0z"/><path fill="#000" d="%s"/></svg>`, side, side, label, side, side, dark.String()), nil
}
