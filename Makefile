# Every command a developer needs; `make` alone lists them. Set-up is done by .ci/setup, which installs what
# is missing on Debian and says so.

# What shares state between goroutines runs a second time under the race detector: of stores, guard, API, printing,
# people, mail and selling the tests that do several things at once, which their names say. The pages only read what
# they share.
RACE := ./db/... ./api/... ./pricing/pdf ./pricing/people ./cmd/foamwright ./cmd/foamwright/mail
TOGETHER := DepositsAtOnce|TwoCut|Together|Twice|Mix|SameSheet|Shared|TwoSave|ManySenders|ManyPresses|Buckets|Brake|Deadlock|ThatMoved|FewAtOnce|SignInLink
# These take longest, so they are begun first: none is left to run alone at the end.
SLOWEST := ./web ./cmd/foamwright ./pricing/sales
# How long each fuzz target runs, and how long the torture may take.
FUZZTIME ?= 30s
TORTURETIME ?= 80m
# One bench only: make bench BENCH=Plan
BENCH ?= .

# What is built does not depend on the folder it lies in, so that a second clone builds nothing that the first one has.
export GOFLAGS := -trimpath $(GOFLAGS)

.DEFAULT_GOAL := help
.PHONY: help demo test lint bench torture fuzz

help: ## list these targets
	@awk -F ':.*## ' '/^[a-z]+:.*## /{printf "make %-9s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

demo: ## start foamwright with a demo workshop and open books, nothing to set up before
	@.ci/setup demo
	go run ./cmd/foamwright demo

test: ## lint, then every test, then the suites that share state under the race detector
	@.ci/setup test
	@$(MAKE) --no-print-directory lint
	go test -vet=off $(SLOWEST) ./...
	go test -vet=off -race -run '$(TOGETHER)' $(RACE)

lint: ## gofmt, go vet, staticcheck
	@bad=$$(gofmt -l .); test -z "$$bad" || { echo "gofmt these files:"; echo "$$bad"; exit 1; }
	go vet ./...
	go tool staticcheck ./...

bench: ## run the benchmarks (BENCH=name for some)
	@.ci/setup test
	go test -run '^$$' -bench '$(BENCH)' -benchmem -timeout 30m ./...

torture: ## the same tests with their full numbers, which take long
	@.ci/setup test
	FOAMWRIGHT_TORTURE=1 go test -count=1 -timeout $(TORTURETIME) ./...

fuzz: ## run each fuzz target for FUZZTIME (30s)
	@.ci/setup test
	@set -e; for package in $$(go list ./...); do \
		listed=$$(go test -list '^Fuzz' $$package); \
		for target in $$(echo "$$listed" | grep '^Fuzz' || true); do \
			echo "== $$package $$target"; \
			go test -run '^$$' -fuzz "^$$target\$$" -fuzztime $(FUZZTIME) $$package; \
		done; \
	done
