package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"net"
	"net/url"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"foamwright/api"
	"foamwright/api/guard"
	"foamwright/api/problem"
	"foamwright/materials/fault"
	"foamwright/web"
)

// patience is how long requests under way may take to end when the program stops.
const patience = 5 * time.Second

// serve keeps the workshop open until it is told to stop.
func serve(ctx context.Context, p *program, args []string) error {
	var s settings
	f := p.flags("serve", "[settings]")
	s.add(f, true)
	if err := p.parse(f, args); err != nil {
		return err
	}
	shop, err := p.open(ctx, s, itsOwn())
	if err != nil {
		return err
	}
	defer shop.close()
	key := ""
	empty, err := shop.people.Empty(ctx)
	if err != nil {
		return err
	}
	if empty {
		key = rand.Text()
	}
	return p.listen(ctx, s, shop, key, func(address string) {
		fmt.Fprintf(p.out, "foamwright is open at %s\n", address)
		if key != "" {
			fmt.Fprintf(p.out, "It has no owner yet. Become it here: %s/set-up?key=%s\n", address, key)
		}
	})
}

// listen serves pages and API, says so once it does, and ends with the context or with the private PostgreSQL.
func (p *program) listen(ctx context.Context, s settings, shop *shop, key string, opened func(address string)) error {
	post, err := p.openPost(s, shop)
	if err != nil {
		return err
	}
	app, err := p.app(ctx, s, shop, key)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", s.address)
	if err != nil {
		return fault.New(fault.Invalid, "Nothing can be served at %s: %s. Choose another with -address.", s.address, reason(err))
	}
	ended := make(chan error, 1)
	go func() { ended <- app.Listener(listener) }()
	scheme := "http://"
	opened(scheme + listener.Addr().String())
	defer post.open(ctx)() // closed before the books are, whatever ends this
	sweep := time.NewTicker(time.Hour)
	defer sweep.Stop()
	for {
		select {
		case <-sweep.C:
			if err := shop.people.Sweep(ctx); err != nil {
				p.log.Error("old sessions were not cleared away", "cause", err)
			}
		case <-ctx.Done():
			fmt.Fprintln(p.err, "Closing.")
			return app.ShutdownWithTimeout(patience)
		case <-shop.died():
			_ = app.ShutdownWithTimeout(patience) // it ends anyway, with the reason below
			return fault.New(fault.State, "The private PostgreSQL ended by itself. What was kept is safe: start foamwright again. Its log lies in %s.", s.data)
		case err := <-ended:
			return err
		}
	}
}

// reason is what the system says about an address, without the call that failed.
func reason(err error) string {
	var op *net.OpError
	if errors.As(err, &op) {
		err = op.Err
	}
	return strings.TrimPrefix(err.Error(), "bind: ")
}

// app joins the faces.
func (p *program) app(ctx context.Context, s settings, shop *shop, key string) (*fiber.App, error) {
	if u, err := url.Parse(s.reached); err != nil || s.reached != "" && (u.Scheme != "http" && u.Scheme != "https" || u.Host == "") {
		return nil, fault.New(fault.Invalid, "%s is no address that people could reach this at. Write it whole with -reached-at, for example https://bench.example.", fault.Shorten(s.reached))
	}
	options := guard.Defaults()
	options.People, options.Secure = shop.people, s.secure
	g := guard.New(options)
	pages, err := web.New(ctx, web.Options{Sales: shop.sales, List: shop.list, Shelf: shop.shelf, Figures: shop.figures, People: shop.people, Guard: g, Log: p.log, SetUpKey: key, ReachedAt: s.reached})
	if err != nil {
		return nil, err
	}
	problems := problem.Writer{Log: p.log}
	app := fiber.New(fiber.Config{
		AppName: "foamwright", DisableStartupMessage: true, Immutable: true, UnescapePath: true, EnableTrustedProxyCheck: true,
		BodyLimit: api.MaxUpload, ReadBufferSize: 16 << 10, ReadTimeout: 30 * time.Second, WriteTimeout: 60 * time.Second, IdleTimeout: 2 * time.Minute,
		ErrorHandler: func(c *fiber.Ctx, err error) error {
			if strings.HasPrefix(c.Path(), guard.APIPath) {
				return problems.Write(c, err)
			}
			return pages.Error(c, err)
		},
	})
	app.Server().HeaderReceived = web.Admits
	g.Wrap(app)
	pages.Open(app)
	g.Close(app, append(web.Doors(), api.Doors()...)...)
	if err := api.Register(app, api.Services{Sales: shop.sales, List: shop.list, Shelf: shop.shelf, Figures: shop.figures, ReachedAt: strings.TrimRight(s.reached, "/")}, g); err != nil {
		return nil, err
	}
	pages.Register(app)
	return app, nil
}
