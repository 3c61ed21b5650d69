package localpg

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"foamwright/materials/fault"
)

// cannot is a fault about the private server, for the person who started the program.
func cannot(format string, args ...any) *fault.Fault {
	return fault.New(fault.State, format, args...)
}

// programs finds the folder with PostgreSQL's programs: FOAMWRIGHT_PGBIN, the PATH, then Debian's newest.
// A cluster is served only by the major version that made it; major is "" when there is no cluster yet.
func programs(major string) (string, error) {
	folders := installed()
	var seen []string
	for _, folder := range folders {
		version, err := versionOf(folder)
		switch {
		case err != nil:
			continue
		case major == "" || version == major:
			return folder, nil
		}
		seen = append(seen, version)
	}
	switch given := os.Getenv("FOAMWRIGHT_PGBIN"); {
	case len(seen) > 0:
		return "", cannot("The data was made by PostgreSQL %s, but only PostgreSQL %s is installed. Install the package postgresql-%s "+
			"beside it; to move to the newer one, make a backup with the old and restore it into a new folder.",
			major, strings.Join(seen, ", "), major)
	case given != "":
		return "", cannot("FOAMWRIGHT_PGBIN is %s, but PostgreSQL's programs postgres and initdb do not run from there.", given)
	}
	return "", cannot("PostgreSQL is not installed on this machine. Install the package postgresql (Debian: apt-get install postgresql), " +
		"or set DATABASE_URL to a server that is already there.")
}

// installed lists the folders that may hold the programs, best first.
func installed() []string {
	if given := os.Getenv("FOAMWRIGHT_PGBIN"); given != "" {
		return []string{given}
	}
	var folders []string
	if path, err := exec.LookPath("postgres"); err == nil {
		// A link in the PATH leads to the folder where the programs lie together.
		if real, err := filepath.EvalSymlinks(path); err == nil {
			folders = append(folders, filepath.Dir(real))
		}
	}
	debian, _ := filepath.Glob("/usr/lib/postgresql/*/bin") // fails only for a bad pattern
	slices.SortFunc(debian, func(a, b string) int { return release(b) - release(a) })
	return append(folders, debian...)
}

// release is the number in /usr/lib/postgresql/17/bin.
func release(folder string) int {
	n, err := strconv.Atoi(filepath.Base(filepath.Dir(folder)))
	if err != nil {
		return 0
	}
	return n
}

// versionOf asks the programs in folder for their major version: "15" of "postgres (PostgreSQL) 15.4".
func versionOf(folder string) (string, error) {
	if _, err := os.Stat(filepath.Join(folder, "initdb")); err != nil {
		return "", err
	}
	out, err := exec.Command(filepath.Join(folder, "postgres"), "-V").Output()
	if err != nil {
		return "", err
	}
	_, version, _ := strings.Cut(string(out), ") ")
	return version[:len(version)-len(strings.TrimLeft(version, "0123456789"))], nil
}
