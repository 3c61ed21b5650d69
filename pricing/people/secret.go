package people

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"io"
)

// Digest is the SHA-256 of a secret, the only form in which it is stored. A fast hash is enough because
// the secret has 256 random bits: there is nothing to guess.
type Digest [sha256.Size]byte

// secretBytes is twice the 128 bits that OWASP's session management sheet asks for (from memory).
const secretBytes = 32

// tokenPrefix lets a secret scanner recognise an API token that was committed by mistake.
const tokenPrefix = "fw_"

// DigestOf is the stored form of a secret.
func DigestOf(secret string) Digest { return sha256.Sum256([]byte(secret)) }

// newSecret draws a secret that is safe in a URL, a cookie and a header.
func newSecret(random io.Reader) (string, error) {
	var b [secretBytes]byte
	if _, err := io.ReadFull(random, b[:]); err != nil {
		return "", fmt.Errorf("people: random source: %w", err)
	}
	return base64.RawURLEncoding.EncodeToString(b[:]), nil
}
