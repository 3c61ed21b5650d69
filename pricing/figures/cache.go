package figures

import (
	"container/list"
	"context"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"sync"
	"time"

	"foamwright/materials/fault"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// The bounds of what is kept: estimates, and roughly their bytes together. 500 open quotes fit, for
// of more than fit, looked at one after the other, none would be found again. The program's heap has room for it.
const (
	mostKept  = 640
	mostBytes = 72 << 20
)

// fingerprint is of what something was made from.
type fingerprint [sha256.Size]byte

// cache keeps estimates by what they were made from. Whoever asks for one that is being made waits for it; what was
// asked for longest ago goes first. An estimate in it is shared: nobody writes into one.
type cache struct {
	mu    sync.Mutex
	kept  map[fingerprint]*kept
	asked *list.List // of *kept that are made, the latest in front
	bytes int        // of them, roughly
	bases []basis    // that were used last: estimates hold on to theirs, so that all of a day should have the same
}

// mostBases is how many different figures there are at once: a few ways of tax, before and after a price was noted.
const mostBases = 8

// same is a basis as it was used before, where it was.
func (c *cache) same(b basis) basis {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, known := range c.bases {
		if known.print == b.print {
			return known
		}
	}
	c.bases = append(c.bases[max(0, len(c.bases)+1-mostBases):], b)
	return b
}

type kept struct {
	key      fingerprint
	ready    chan struct{} // closed when made or given up
	estimate pricing.Estimate
	err      error
	again    bool // who made it went away: the next one makes it
	bytes    int
	at       *list.Element
}

func newCache() *cache {
	return &cache{kept: map[fingerprint]*kept{}, asked: list.New()}
}

// get is what is kept under a key, or made now. What fails is not kept, but those who waited for it are told the same,
// unless it only failed because the one who made it went away.
func (c *cache) get(ctx context.Context, key fingerprint, produce func() (pricing.Estimate, error)) (pricing.Estimate, error) {
	for {
		c.mu.Lock()
		k := c.kept[key]
		if k == nil {
			k = &kept{key: key, ready: make(chan struct{}), again: true}
			c.kept[key] = k
			c.mu.Unlock()
			c.make(ctx, k, produce)
			return k.estimate, k.err
		}
		if k.at != nil {
			c.asked.MoveToFront(k.at)
		}
		c.mu.Unlock()
		select {
		case <-k.ready:
			if !k.again {
				return k.estimate, k.err
			}
		case <-ctx.Done():
			return pricing.Estimate{}, fault.New(fault.Unavailable, "This was given up before it was worked out. Ask again.").Because(ctx.Err())
		}
	}
}

// make fills a place and lets those go on who wait, even when produce panics.
func (c *cache) make(ctx context.Context, k *kept, produce func() (pricing.Estimate, error)) {
	defer func() {
		c.mu.Lock()
		defer c.mu.Unlock()
		defer close(k.ready)
		if k.again || k.err != nil {
			delete(c.kept, k.key)
			return
		}
		k.bytes = roughly(k.estimate)
		k.at = c.asked.PushFront(k)
		c.bytes += k.bytes
		for c.asked.Len() > 1 && (c.asked.Len() > mostKept || c.bytes > mostBytes) {
			last := c.asked.Remove(c.asked.Back()).(*kept)
			c.bytes -= last.bytes
			delete(c.kept, last.key)
		}
	}()
	k.estimate, k.err = produce()
	k.again = k.err != nil && ctx.Err() != nil
}

// roughly is how many bytes an estimate takes: lines and formulas of an order, and its outlines, which are there as
// parts, on the plan and as panels. Measured over the cases of testdata.
func roughly(e pricing.Estimate) int {
	corners := 0
	for _, f := range e.Foam {
		for _, p := range f.Job.Pieces {
			corners += len(p.Shape.Outer)
			for _, hole := range p.Shape.Holes {
				corners += len(hole)
			}
		}
		corners += len(f.Plan.Placements)
	}
	return 64<<10 + 112*corners
}

// basis is a snapshot with its fingerprint, which many estimates share.
type basis struct {
	pricing.Snapshot
	print fingerprint
}

// based is a snapshot at the beginning of its day, so that all estimates of a day share it. A price knows no hour.
func based(snap pricing.Snapshot) (basis, error) {
	y, m, d := snap.Now.Date()
	snap.Now = time.Date(y, m, d, 0, 0, 0, 0, snap.Now.Location())
	data, err := json.Marshal(snap)
	if err != nil {
		return basis{}, fmt.Errorf("fingerprint of a snapshot: %w", err)
	}
	return basis{snap, sha256.Sum256(data)}, nil
}

// estimateAt is what a written spec comes to at a snapshot that many share, in the effort of a page: figures are looked
// at, not issued. A date that is over does not matter. It may be one that was made before; nobody writes into it.
func (s *Service) estimateAt(ctx context.Context, form orderform.Form, b basis) (pricing.Estimate, error) {
	form.Delivery.By = orderform.Text{}
	data, err := json.Marshal(form)
	if err != nil {
		return pricing.Estimate{}, fmt.Errorf("fingerprint of a form: %w", err)
	}
	return s.cache.get(ctx, sha256.Sum256(append(b.print[:], data...)), func() (pricing.Estimate, error) {
		spec, err := form.Spec()
		if err != nil {
			return pricing.Estimate{}, err
		}
		return pricing.Make(ctx, spec, b.Snapshot, pricing.Live)
	})
}
