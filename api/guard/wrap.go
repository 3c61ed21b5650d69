package guard

import (
	"context"
	"fmt"
	"log/slog"
	"runtime/debug"
	"strings"

	"foamwright/api/problem"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"
)

// RequestID gives the request an id of our own, whatever the client sent, and puts it into the answer.
func (g *Guard) RequestID(c *fiber.Ctx) error {
	id, err := uuid.NewRandomFromReader(g.o.Random)
	if err != nil {
		return fmt.Errorf("guard: random source: %w", err)
	}
	c.Set(problem.RequestIDHeader, id.String())
	return c.Next()
}

// panicked is a panic on its way to the log; its stack is never shown.
type panicked struct {
	value any
	stack []byte
}

// Error is the value of the panic.
func (p *panicked) Error() string { return fmt.Sprint("panic: ", p.value) }

// LogValue adds the stack.
func (p *panicked) LogValue() slog.Value {
	return slog.GroupValue(slog.String("panic", fmt.Sprint(p.value)), slog.String("stack", string(p.stack)))
}

// Recover turns a panic into an internal error for the error handler.
func (g *Guard) Recover(c *fiber.Ctx) (err error) {
	defer func() {
		if value := recover(); value != nil {
			err = &panicked{value, debug.Stack()}
		}
	}()
	return c.Next()
}

// Deadline ends the request's UserContext after Options.Deadline: the client's leaving ends nothing in
// fiber. A stream that outlives its handler needs a context of its own.
func (g *Guard) Deadline(c *fiber.Ctx) error {
	ctx, cancel := context.WithTimeout(c.UserContext(), g.o.Deadline)
	defer cancel()
	c.SetUserContext(ctx)
	return c.Next()
}

// policy is the Content Security Policy (W3C, level 3): everything comes from here, nothing is inline.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; " +
	"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// Headers sets what keeps a browser from being used against its owner.
func (g *Guard) Headers(c *fiber.Ctx) error {
	c.Set(fiber.HeaderContentSecurityPolicy, policy)
	c.Set(fiber.HeaderXContentTypeOptions, "nosniff")
	c.Set(fiber.HeaderReferrerPolicy, "same-origin")
	c.Set("Permissions-Policy", "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()")
	c.Set("Cross-Origin-Opener-Policy", "same-origin")
	c.Set("Cross-Origin-Resource-Policy", "same-origin")
	if g.o.Secure {
		c.Set(fiber.HeaderStrictTransportSecurity, "max-age=31536000")
	}
	if err := c.Next(); err != nil {
		return err
	}
	// A browser's own PDF viewer is built of scripts, styles and a plugin, which a page's policy would stop.
	if strings.HasPrefix(c.GetRespHeader(fiber.HeaderContentType), "application/pdf") {
		c.Set(fiber.HeaderContentSecurityPolicy, "frame-ancestors 'none'")
	}
	return nil
}
