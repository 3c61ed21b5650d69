package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"foamwright/api"
)

var update = flag.Bool("update", false, "write the printed estimates of testdata/shields anew")

// thursday is when every case is priced.
func thursday() time.Time { return time.Date(2026, time.March, 5, 10, 0, 0, 0, time.UTC) }

// shieldCase is one file of testdata/shields: a spec, what an independent hand or a published table makes of it,
// and the whole estimate as it was last looked at.
type shieldCase struct {
	file, Origin string
	Spec         json.RawMessage
	Expect       []expectation
	Estimate     any
}

// expectation is one figure of the printed estimate: text exactly, a number within a tolerance.
type expectation struct {
	What   string
	Is     any
	Within float64
}

// shieldCases reads testdata/shields; there are at least the six that the trade's shapes ask for.
func shieldCases(t testing.TB) []shieldCase {
	t.Helper()
	files, err := filepath.Glob("../../testdata/shields/*.json")
	if err != nil || len(files) < 6 {
		t.Fatalf("%d cases in testdata/shields, %v", len(files), err)
	}
	var cases []shieldCase
	for _, file := range files {
		data, err := os.ReadFile(file)
		c := shieldCase{file: file}
		dec := json.NewDecoder(bytes.NewReader(data))
		dec.DisallowUnknownFields()
		if err == nil {
			err = dec.Decode(&c)
		}
		if err != nil || c.Origin == "" || len(c.Expect) == 0 {
			t.Fatalf("%s: %v; it needs an origin and what is expected", file, err)
		}
		cases = append(cases, c)
	}
	return cases
}

// shell runs the program as a shell would and gives its exit code and what it printed.
func shell(t testing.TB, in string, args ...string) (code int, out, problems string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	p := &program{
		in: strings.NewReader(in), out: &stdout, err: &stderr, getenv: func(string) string { return "" },
		now: thursday, log: slog.New(slog.NewTextHandler(io.Discard, nil)),
	}
	code = p.main(t.Context(), args)
	return code, stdout.String(), stderr.String()
}

// estimated prices a spec through the command line.
func estimated(t *testing.T, spec string) (e api.Estimate, printed any) {
	t.Helper()
	code, out, problems := shell(t, spec, "estimate", "-json", "-")
	if code != 0 || problems != "" {
		t.Fatalf("exit code %d\n%s", code, problems)
	}
	for _, into := range []any{&e, &printed} {
		if err := json.Unmarshal([]byte(out), into); err != nil {
			t.Fatal(err)
		}
	}
	if len(e.Digest) != 64 {
		t.Errorf("digest %q", e.Digest)
	}
	// The fingerprint changes with every figure of the workshop, whether this price rests on it or not.
	delete(printed.(map[string]any), "digest")
	return e, printed
}

func TestShields(t *testing.T) {
	for _, c := range shieldCases(t) {
		t.Run(strings.TrimSuffix(filepath.Base(c.file), ".json"), func(t *testing.T) {
			e, printed := estimated(t, string(c.Spec))
			for _, x := range c.Expect {
				var got any
				if x.What == "adhesive faces" {
					got = adhesiveFaces(t, e)
				} else if got = at(printed, x.What); got == nil {
					t.Errorf("the estimate has no %s", x.What)
					continue
				}
				if want, ok := x.Is.(float64); ok {
					if is, _ := got.(float64); math.Abs(is-want) > x.Within {
						t.Errorf("%s is %v, worked out otherwise it is %v ± %v", x.What, got, want, x.Within)
					}
				} else if got != x.Is {
					t.Errorf("%s is %q, not %q", x.What, got, x.Is)
				}
			}
			if *update {
				rewrite(t, c.file, printed)
				return
			}
			for _, d := range differences("estimate", printed, c.Estimate) {
				t.Error(d)
			}
		})
	}
}

// at finds an entry by its path; in a list an element goes by its item, foam, step or key.
func at(v any, path string) any {
	for name := range strings.SplitSeq(path, ".") {
		switch in := v.(type) {
		case map[string]any:
			v = in[name]
		case []any:
			v = nil
			for _, element := range in {
				e, _ := element.(map[string]any)
				if e["item"] == name || e["foam"] == name || e["step"] == name || e["key"] == name {
					v = e
					break
				}
			}
		default:
			return nil
		}
	}
	return v
}

// differences compares two printed estimates; measures to a millionth, since processors differ in the last digits.
func differences(path string, got, want any) (all []string) {
	switch g := got.(type) {
	case map[string]any:
		w, _ := want.(map[string]any)
		for name := range g {
			all = append(all, differences(path+"."+name, g[name], w[name])...)
		}
		if len(g) != len(w) {
			all = append(all, fmt.Sprintf("%s has %d entries, had %d", path, len(g), len(w)))
		}
		return all
	case []any:
		w, _ := want.([]any)
		if len(g) != len(w) {
			return []string{fmt.Sprintf("%s has %d entries, had %d", path, len(g), len(w))}
		}
		for i := range g {
			all = append(all, differences(path+"."+strconv.Itoa(i), g[i], w[i])...)
		}
		return all
	case float64:
		if w, ok := want.(float64); ok && math.Abs(g-w) <= 1e-6*max(1, math.Abs(w)) {
			return nil
		}
	}
	if got != want {
		return []string{fmt.Sprintf("%s is %v, was %v", path, got, want)}
	}
	return nil
}

// rewrite puts the printed estimate at the end of a case's file and leaves the rest as it was written.
func rewrite(t *testing.T, file string, printed any) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	head, _, ok := bytes.Cut(data, []byte(`"estimate": `))
	if !ok {
		t.Fatalf(`%s has no "estimate": as its last entry`, file)
	}
	var body bytes.Buffer
	enc := json.NewEncoder(&body)
	enc.SetEscapeHTML(false)
	enc.SetIndent("  ", "  ")
	if err := enc.Encode(rounded(printed)); err != nil {
		t.Fatal(err)
	}
	whole := fmt.Appendf(head, "%s%s\n}\n", `"estimate": `, bytes.TrimSpace(body.Bytes()))
	if err := os.WriteFile(file, whole, 0o644); err != nil {
		t.Fatal(err)
	}
}

// rounded leaves measures six places.
func rounded(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for name := range v {
			v[name] = rounded(v[name])
		}
	case []any:
		for i := range v {
			v[i] = rounded(v[i])
		}
	case float64:
		return math.Round(v*1e6) / 1e6
	}
	return v
}
