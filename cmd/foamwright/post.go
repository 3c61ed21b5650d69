package main

import (
	"context"
	"errors"
	"sync"
	"time"

	"foamwright/cmd/foamwright/mail"
	"foamwright/pricing/sales"
)

// remindEvery is how often it is looked whose quotes soon end.
const remindEvery = 10 * time.Minute

// post sends mail while the workshop is open.
type post struct {
	sender *mail.Sender // nil where no mail server is set
	sales  *sales.Service
	site   string
	p      *program
}

// openPost reads which server mail goes by; without one nothing is sent, and pages say so.
func (p *program) openPost(s settings, shop *shop) (post, error) {
	o := post{sales: shop.sales, site: s.reached, p: p}
	if s.mail == "" {
		return o, nil
	}
	server, err := mail.ReadServer(s.mail)
	if err != nil {
		return o, err
	}
	shop.sales.SetMailServer(server.String())
	o.sender = &mail.Sender{Server: server, Outbox: shop.sales, Log: p.log}
	return o, nil
}

// open sends until the returned function is called, which waits for what is under way.
func (o post) open(ctx context.Context) (closed func()) {
	if o.sender == nil {
		return func() {}
	}
	ctx, stop := context.WithCancel(ctx)
	var all sync.WaitGroup
	all.Go(func() { o.sender.Run(ctx) })
	all.Go(func() { o.remind(ctx) })
	return func() {
		stop()
		all.Wait()
	}
}

func (o post) remind(ctx context.Context) {
	look := time.NewTicker(remindEvery)
	defer look.Stop()
	for {
		if many, err := o.sales.Remind(ctx, o.site); err != nil && !errors.Is(err, context.Canceled) {
			o.p.log.Error("not everybody was reminded", "cause", err)
		} else if many > 0 {
			o.p.log.Info("customers were reminded of quotes that soon end", "many", many)
		}
		select {
		case <-ctx.Done():
			return
		case <-look.C:
		}
	}
}
