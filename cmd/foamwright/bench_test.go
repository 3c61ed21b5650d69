package main

import (
	"bufio"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"foamwright/cmd/foamwright/demo"
	"foamwright/db/localpg"
	"foamwright/materials/orderform"
	"foamwright/pricing"
)

// BenchmarkEstimate is what a maker waits for at every change of the page: each design of the demo, live effort.
func BenchmarkEstimate(b *testing.B) {
	files, err := filepath.Glob("demo/designs/*.json")
	if err != nil || len(files) == 0 {
		b.Fatal("no designs", err)
	}
	snap, err := demo.Snapshot(time.Now())
	if err != nil {
		b.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			b.Fatal(err)
		}
		for name, effort := range map[string]pricing.Effort{"live": pricing.Live, "issue": pricing.Issue} {
			b.Run(filepath.Base(file)+"/"+name, func(b *testing.B) {
				for b.Loop() {
					spec, err := orderform.Read(data)
					if err != nil {
						b.Fatal(err)
					}
					if _, err := pricing.Make(b.Context(), spec, snap, effort); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkStart is from the start of the program to its first page, with its private PostgreSQL started, the
// database present and migrated; and how much memory the program then takes after a hundred pages.
func BenchmarkStart(b *testing.B) {
	binary := filepath.Join(b.TempDir(), "foamwright")
	if out, err := exec.Command("go", "build", "-o", binary, ".").CombinedOutput(); err != nil {
		b.Fatal(string(out))
	}
	data, err := os.MkdirTemp(localpg.Scratch(), "foamwright-bench-")
	if err == nil {
		err = os.Chmod(data, 0o755) // the server's own account has to pass
	}
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { _ = os.RemoveAll(data) })
	stop, _, _ := start(b, binary, data) // the first start makes the database
	stop()
	memory := 0.0
	for b.Loop() {
		stop, pid, address := start(b, binary, data)
		b.StopTimer()
		for range 100 {
			get(b, address+"/sign-in")
		}
		memory = max(memory, resident(b, pid))
		stop()
		b.StartTimer()
	}
	b.ReportMetric(memory, "MB-RSS")
}

// start runs the program until its first page is there.
func start(b *testing.B, binary, data string) (stop func(), pid int, address string) {
	b.Helper()
	cmd := exec.Command(binary, "serve", "-data", data, "-address", "127.0.0.1:0")
	out, err := cmd.StdoutPipe()
	if err == nil {
		err = cmd.Start()
	}
	if err != nil {
		b.Fatal(err)
	}
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		if _, at, ok := strings.Cut(lines.Text(), "is open at "); ok {
			get(b, at+"/sign-in")
			stop = func() {
				_ = cmd.Process.Signal(syscall.SIGINT)
				_ = cmd.Wait()
			}
			return stop, cmd.Process.Pid, at
		}
	}
	b.Fatal("the program ended before it was open: ", cmd.Wait())
	return nil, 0, ""
}

func get(b *testing.B, url string) {
	b.Helper()
	answer, err := http.Get(url)
	if err != nil {
		b.Fatal(err)
	}
	_ = answer.Body.Close()
	if answer.StatusCode != http.StatusOK {
		b.Fatal(url, answer.Status)
	}
}

// resident is the most memory a process has had in use, in MB.
func resident(b *testing.B, pid int) float64 {
	b.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		b.Skip("memory is read from /proc, which is not here: ", err)
	}
	_, rest, _ := strings.Cut(string(status), "VmHWM:")
	var kb float64
	if _, err := fmt.Sscan(rest, &kb); err != nil {
		b.Fatal(err)
	}
	return kb / 1024
}
