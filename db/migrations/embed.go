// Package migrations holds the numbered steps that build the tables, in goose's form: NNNNN_noun.sql,
// each with a comment that says why. A step that has been released is never edited; a new one follows it.
// Limits: steps go up only, since a workshop's books are not taken apart again; go back with a backup.
package migrations

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
)

//go:embed *.sql
var files embed.FS

// FS is the steps, at its root.
func FS() fs.FS { return files }

// Digest is the SHA-256 of all names and contents in hex: two programs with one digest build the same tables.
func Digest() (string, error) {
	sum := sha256.New()
	err := fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := files.ReadFile(name)
		if err != nil {
			return err
		}
		// The zero bytes keep "a"+"bc" and "ab"+"c" apart.
		sum.Write([]byte(name + "\x00"))
		sum.Write(append(text, 0))
		return nil
	})
	return hex.EncodeToString(sum.Sum(nil)), err
}
