package guard

import (
	"container/list"
	"math"
	"sync"
	"time"

	"foamwright/materials/fault"
	"foamwright/pricing/people"

	"github.com/gofiber/fiber/v2"
)

// remembered is how many addresses, and how many sessions, are counted; about 2 MB when full. Who was not
// heard of longest is forgotten first, and then begins with a full bucket.
const remembered = 10_000

// Limit refuses who asks too often: each session or token for itself, and all who are nobody by address.
func (g *Guard) Limit(c *fiber.Ctx) error {
	b, key := g.anonymous, g.address(c)
	if id := identityOf(c); id.known() {
		b, key = g.signedIn, string(id.session.Digest[:])
	}
	if wait := b.take(key, g.o.Clock()); wait > 0 {
		return fault.New(fault.TooMany, "Too many requests just now; try again in a moment.").Because(people.Wait(wait))
	}
	return c.Next()
}

// Brake counts how often one address asks for one thing, on top of Limit: a page that keeps what strangers write.
type Brake struct {
	g *Guard
	b *buckets
}

// NewBrake makes a brake of its own.
func (g *Guard) NewBrake(r Rate) *Brake { return &Brake{g, newBuckets(r)} }

// Wait takes one of an address's goes, or says how long until there is one.
func (b *Brake) Wait(c *fiber.Ctx) time.Duration { return b.b.take(b.g.address(c), b.g.o.Clock()) }

// buckets is a token bucket for each of the latest keys.
type buckets struct {
	rate  Rate
	mu    sync.Mutex
	byKey map[string]*list.Element
	order *list.List // the latest in front
}

type bucket struct {
	key    string
	tokens float64
	at     time.Time
}

func newBuckets(r Rate) *buckets {
	return &buckets{rate: r, byKey: map[string]*list.Element{}, order: list.New()}
}

// take takes one token of a key, or says how long until there is one.
func (b *buckets) take(key string, now time.Time) time.Duration { return b.wait(key, now, 1) }

// wait is how long until there is a token of a key; where there is one, spent of it are taken.
func (b *buckets) wait(key string, now time.Time, spent float64) time.Duration {
	b.mu.Lock()
	defer b.mu.Unlock()
	e, ok := b.byKey[key]
	if !ok {
		if b.order.Len() >= remembered {
			oldest := b.order.Back()
			delete(b.byKey, b.order.Remove(oldest).(*bucket).key)
		}
		e = b.order.PushFront(&bucket{key, float64(b.rate.Burst), now})
		b.byKey[key] = e
	}
	b.order.MoveToFront(e)
	k := e.Value.(*bucket)
	if passed := now.Sub(k.at).Seconds(); passed > 0 {
		k.tokens = min(float64(b.rate.Burst), k.tokens+passed*b.rate.PerSecond)
		k.at = now
	}
	if k.tokens >= 1 {
		k.tokens -= spent
		return 0
	}
	// Rounded up: a wait of nothing would let the request through.
	return time.Duration(math.Ceil((1 - k.tokens) / b.rate.PerSecond * float64(time.Second)))
}
