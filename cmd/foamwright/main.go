// Command foamwright quotes made-to-order foam props: it estimates a spec, keeps customers, designs and quotes,
// and serves them as pages and as a JSON API.
//
// It is the one place where stores, services and faces are joined. Exit codes: 0 done, 1 something failed,
// 2 what was given cannot be used (each problem on a line of standard error).
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"foamwright/materials/fault"
)

// command is one verb of the program.
type command struct {
	name, usage, help string
	run               func(ctx context.Context, p *program, args []string) error
}

// program is what a command may use of the outside.
type program struct {
	in       io.Reader
	out, err io.Writer
	getenv   func(string) string
	now      func() time.Time
	log      *slog.Logger
}

func commands() []command {
	return []command{
		{"demo", "[-once]", "open the demo workshop: everything set up, one quote issued, served until Ctrl-C", runDemo},
		{"serve", "", "open your workshop: pages and API", serve},
		{"estimate", "[-json] [-steps] [-drawings FOLDER] FILE", "price a spec with the demo workshop's catalogue, and draw it; - reads standard input", estimate},
		{"templates", "[-paper a4] [-out FILE.pdf] FILE", "draw what a spec is cut from at its true size, tiled on paper", templates},
		{"cutplan", "[-check] [-out FILE.pdf] [-svg FOLDER] FILE", "plan the sheets a spec or any job of pieces is cut from", cutPlan},
		{"user", "-login LOGIN", "add people, let them in by a link, make API tokens; alone it lists them", user},
		{"export", "items|prices|shelf|movements [-o FILE]", "write catalogue, prices, shelf or ledger as CSV", exporting},
		{"import", "items|prices|count FILE [-check]", "bring in such a file, or post a filled-in shelf as a count: all of it or nothing", importing},
		{"migrate", "", "bring the database's tables up to date", migrate},
	}
}

// memory is what the program keeps its heap under, so that it fits a small machine beside its PostgreSQL. At rest it is
// some 15 MB; the estimates of five hundred open quotes are 70 MB, and with 160 in all a third of the time went to the
// collector.
const memory = 224 << 20

// pace is how much the heap may grow before it is collected, %: more than usual, for little of it is kept.
const pace = 300

func main() {
	debug.SetMemoryLimit(memory)
	debug.SetGCPercent(pace)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	p := &program{in: os.Stdin, out: os.Stdout, err: os.Stderr, getenv: os.Getenv, now: time.Now, log: slog.New(slog.NewTextHandler(os.Stderr, nil))}
	code := p.main(ctx, os.Args[1:])
	stop()
	os.Exit(code)
}

// main runs the command that the arguments name and gives the exit code.
func (p *program) main(ctx context.Context, args []string) int {
	if len(args) == 0 {
		p.help(p.err)
		return 2
	}
	if args[0] == "help" || args[0] == "-h" || args[0] == "--help" {
		p.help(p.out)
		return 0
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return p.report(c.run(ctx, p, args[1:]))
		}
	}
	fmt.Fprintf(p.err, "There is no command %q. Type foamwright help to see them.\n", fault.Shorten(args[0]))
	return 2
}

// report prints an error a line a problem and gives the exit code.
func (p *program) report(err error) int {
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case fault.KindOf(err) == fault.Internal:
		fmt.Fprintln(p.err, "foamwright:", err)
		return 1
	}
	for _, problem := range fault.ProblemsOf(err) {
		fmt.Fprintln(p.err, problem)
	}
	if k := fault.KindOf(err); k == fault.Invalid || k == fault.TooLarge {
		return 2
	}
	return 1
}

func (p *program) help(w io.Writer) {
	fmt.Fprintln(w, "foamwright quotes made-to-order foam props.\n\nCommands:")
	for _, c := range commands() {
		fmt.Fprintf(w, "  %-28s %s\n", c.name+" "+c.usage, c.help)
	}
	fmt.Fprintln(w, "\nfoamwright COMMAND -h shows the settings of a command.")
}

// flags is a flag set that says nothing by itself: given tells its errors like every other problem.
func (p *program) flags(name, usage string) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	f.Usage = func() {
		fmt.Fprintf(f.Output(), "foamwright %s %s\n", name, usage)
		f.PrintDefaults()
	}
	return f
}

// given reads the flags of a command; whoever asks for help gets it and ErrHelp, which is no failure.
func (p *program) given(f *flag.FlagSet, args []string) error {
	err := f.Parse(args)
	switch {
	case errors.Is(err, flag.ErrHelp):
		f.SetOutput(p.out)
		f.Usage()
		return err
	case err != nil:
		return fault.New(fault.Invalid, "%s. Type foamwright %s -h to see what it takes.", strings.ToUpper(err.Error()[:1])+err.Error()[1:], f.Name())
	}
	return nil
}
