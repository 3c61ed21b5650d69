package money_test

import (
	"bufio"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
)

// The General Decimal Arithmetic test cases (speleotrove.com/decimal) come inside the module
// github.com/cockroachdb/apd/v3; they are read where the module is kept and never copied here.

// decCase is one usable case: finite numbers of a bearable exponent, in the setting it stands under.
type decCase struct {
	id, op    string
	args      []decimal.Decimal
	want      decimal.Decimal
	flags     []string
	mode      string
	precision int32
}

// largest is the largest exponent tried: shopspring writes powers of ten out in full.
const largest = 2000

var (
	decToken  = regexp.MustCompile(`'[^']*'|"[^"]*"|\S+`)
	decSwitch = regexp.MustCompile(`(?i)^(precision|rounding)\s*:\s*(\w+)`)
	decNumber = regexp.MustCompile(`^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE]([+-]?\d+))?$`)
)

// decCases reads a file: how many cases are in it, and the usable ones. It fails when the module is missing.
func decCases(t *testing.T, name string) (all int, usable []decCase) {
	t.Helper()
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/cockroachdb/apd/v3").Output()
	if err != nil || strings.TrimSpace(string(dir)) == "" {
		t.Fatalf("the module with the test cases is not here (go mod download brings it): %v", err)
	}
	f, err := os.Open(filepath.Join(strings.TrimSpace(string(dir)), "testdata", name+".decTest"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var at decCase
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line, _, _ := strings.Cut(strings.TrimSpace(lines.Text()), " --")
		if m := decSwitch.FindStringSubmatch(line); m != nil {
			if n, err := strconv.Atoi(m[2]); err == nil {
				at.precision = int32(n)
			} else {
				at.mode = strings.ToLower(m[2])
			}
		}
		words := decToken.FindAllString(line, -1)
		arrow := slices.Index(words, "->")
		if arrow < 0 || strings.HasPrefix(line, "--") {
			continue
		}
		all++
		c := decCase{id: words[0], op: strings.ToLower(words[1]), mode: at.mode, precision: at.precision}
		for _, f := range words[arrow+2:] {
			c.flags = append(c.flags, strings.ToLower(f))
		}
		args, ok1 := decNumbers(words[2:arrow])
		want, ok2 := decNumbers(words[arrow+1 : arrow+2])
		if ok1 && ok2 {
			c.args, c.want = args, want[0]
			usable = append(usable, c)
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return all, usable
}

func decNumbers(words []string) (numbers []decimal.Decimal, ok bool) {
	for _, w := range words {
		w = strings.Trim(w, `'"`)
		m := decNumber.FindStringSubmatch(w)
		if m == nil {
			return nil, false
		}
		if e, err := strconv.Atoi(m[1]); m[1] != "" && (err != nil || e > largest || e < -largest) {
			return nil, false
		}
		numbers = append(numbers, decimal.RequireFromString(w))
	}
	return numbers, true
}

// limited tells whether the case shows a limit that plain decimals do not have.
func (c decCase) limited(but ...string) bool {
	return slices.ContainsFunc(c.flags, func(f string) bool { return !slices.Contains(but, f) })
}

// exact is the result without any rounding; divide to 400 places.
func (c decCase) exact() (decimal.Decimal, bool) {
	a := c.args
	switch c.op {
	case "add":
		return a[0].Add(a[1]), true
	case "subtract":
		return a[0].Sub(a[1]), true
	case "multiply":
		return a[0].Mul(a[1]), true
	case "divide":
		return a[0].DivRound(a[1], 400), true
	case "remainder":
		return a[0].Mod(a[1]), true
	case "divideint":
		q, _ := a[0].QuoRem(a[1], 0)
		return q, true
	case "compare":
		return decimal.NewFromInt(int64(a[0].Cmp(a[1]))), true
	case "abs":
		return a[0].Abs(), true
	case "minus":
		return a[0].Neg(), true
	}
	return decimal.Zero, false
}
