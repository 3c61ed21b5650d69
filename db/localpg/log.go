package localpg

import (
	"bytes"
	"os"
	"strings"
	"syscall"
)

// openLog keeps the log of the start before and begins a new one. No link is followed.
func (c cluster) openLog() (*os.File, error) {
	_ = os.Rename(c.log, c.log+".1") // there is none before the first start
	log, err := os.OpenFile(c.log, os.O_WRONLY|os.O_CREATE|os.O_APPEND|os.O_TRUNC|syscall.O_NOFOLLOW, 0o600)
	if err != nil {
		return nil, cannot("The log %s cannot be written.", c.log).Because(err)
	}
	return log, nil
}

// summary picks from PostgreSQL's output what made it give up: the last fatal line and its explanation.
func summary(out []byte) string {
	lines := strings.Split(string(bytes.TrimSpace(out)), "\n")
	picked := lines[len(lines)-1:]
	for i, line := range lines {
		if severe(line) {
			picked = lines[i : i+1]
			for _, next := range lines[i+1:] {
				if !strings.Contains(next, "DETAIL:  ") && !strings.Contains(next, "HINT:  ") {
					break
				}
				picked = append(picked[:len(picked):len(picked)], next)
			}
		}
	}
	for i, line := range picked {
		if _, text, found := strings.Cut(line, ":  "); found {
			picked[i] = text
		}
	}
	if said := strings.TrimSpace(strings.Join(picked, " ")); said != "" {
		return said
	}
	return "it said nothing"
}

func severe(line string) bool {
	return strings.Contains(line, "FATAL:  ") || strings.Contains(line, "PANIC:  ") || strings.Contains(line, ": error: ")
}
