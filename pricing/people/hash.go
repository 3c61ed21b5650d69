package people

import (
	"context"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"io"
	"strings"

	"foamwright/materials/fault"

	"golang.org/x/crypto/argon2"
)

// Params is the work of one Argon2id hash (RFC 9106).
type Params struct {
	Memory  uint32 // KiB
	Passes  uint32
	Threads uint8
}

// DefaultParams is the smallest memory choice that OWASP's password storage cheat sheet recommends:
// Argon2id with 19 MiB, 2 passes, 1 thread (looked up in a quotation of the sheet).
func DefaultParams() Params { return Params{Memory: 19 * 1024, Passes: 2, Threads: 1} }

// maxParams bounds what a stored hash may ask for, so that a row written by somebody else cannot take
// the machine's memory.
func maxParams() Params { return Params{Memory: 64 * 1024, Passes: 10, Threads: 4} }

const saltBytes, keyBytes = 16, 32

// Hasher makes and checks password hashes, a few at once: each takes Params.Memory while it runs.
type Hasher struct {
	params Params
	random io.Reader
	slots  chan struct{}
	derive func(password, salt []byte, p Params, n uint32) []byte
}

// NewHasher makes a hasher that runs at most atOnce hashes at the same time; others wait their turn. Each
// leaves Params.Memory to the garbage collector: give the program a memory limit beside a small atOnce.
func NewHasher(p Params, atOnce int, random io.Reader) *Hasher {
	return &Hasher{params: p, random: random, slots: make(chan struct{}, atOnce),
		derive: func(password, salt []byte, p Params, n uint32) []byte {
			return argon2.IDKey(password, salt, p.Passes, p.Memory, p.Threads, n)
		}}
}

// Hash is the PHC string of a password with a fresh salt.
func (h *Hasher) Hash(ctx context.Context, password string) (string, error) {
	salt := make([]byte, saltBytes)
	if _, err := io.ReadFull(h.random, salt); err != nil {
		return "", fmt.Errorf("people: random source: %w", err)
	}
	p := phc{h.params, salt, make([]byte, keyBytes)}
	var err error
	if p.key, err = h.run(ctx, password, p); err != nil {
		return "", err
	}
	return p.String(), nil
}

// Check tells whether a password fits a stored hash, and whether the hash was made with other
// parameters than today's and should be made anew. An empty or unreadable hash fits nothing but costs
// the same work, so that the time does not tell whether there was one.
func (h *Hasher) Check(ctx context.Context, stored, password string) (fits, stale bool, err error) {
	want, readable := parsePHC(stored)
	if !readable {
		want = phc{h.params, make([]byte, saltBytes), make([]byte, keyBytes)}
	}
	key, err := h.run(ctx, password, want)
	if err != nil {
		return false, false, err
	}
	fits = subtle.ConstantTimeCompare(key, want.key) == 1 && readable
	return fits, want.Params != h.params || len(want.key) != keyBytes, nil
}

// run waits for a slot; when the caller's time runs out first it is the workshop that is busy.
func (h *Hasher) run(ctx context.Context, password string, p phc) ([]byte, error) {
	select {
	case h.slots <- struct{}{}:
		defer func() { <-h.slots }()
		return h.derive([]byte(password), p.salt, p.Params, uint32(len(p.key))), nil
	case <-ctx.Done():
		return nil, fault.New(fault.TooMany, "Too many people are signing in just now; try again in a moment.").Because(ctx.Err())
	}
}

// phc is a hash in the PHC string format: $argon2id$v=19$m=19456,t=2,p=1$salt$key.
type phc struct {
	Params
	salt, key []byte
}

func (p phc) String() string {
	b64 := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version,
		p.Memory, p.Passes, p.Threads, b64.EncodeToString(p.salt), b64.EncodeToString(p.key))
}

// parsePHC reads only what String writes, within maxParams.
func parsePHC(s string) (phc, bool) {
	part := strings.Split(s, "$")
	if len(part) != 6 {
		return phc{}, false
	}
	var p phc
	if n, err := fmt.Sscanf(part[3], "m=%d,t=%d,p=%d", &p.Memory, &p.Passes, &p.Threads); n != 3 || err != nil {
		return phc{}, false
	}
	var errSalt, errKey error
	p.salt, errSalt = base64.RawStdEncoding.Strict().DecodeString(part[4])
	p.key, errKey = base64.RawStdEncoding.Strict().DecodeString(part[5])
	top := maxParams()
	bounded := p.Passes >= 1 && p.Passes <= top.Passes && p.Threads >= 1 && p.Threads <= top.Threads &&
		p.Memory >= 8*uint32(p.Threads) && p.Memory <= top.Memory &&
		len(p.salt) >= 8 && len(p.salt) <= 64 && len(p.key) >= 16 && len(p.key) <= 64
	return p, errSalt == nil && errKey == nil && bounded && p.String() == s
}
