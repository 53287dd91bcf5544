# Two commands do everything: make run, make test. The rest is for those who
# change the program. make help lists it all.

export GOTOOLCHAIN := go1.27.3
export CGO_ENABLED := 0

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
MAKEFLAGS += --no-print-directory

TOOL := go tool -modfile=tools/go.mod
VULNDB := v0.0.0-20261105234957-e22db6528018

.PHONY: help
help: ## list these targets
	@awk -F ':.*## ' '/^## / { print ""; print substr($$0, 4) } /^[a-z0-9]+:.*## / { printf "  make %-9s %s\n", $$1, $$2 }' Makefile

.PHONY: ready
ready:
	@command -v go >/dev/null || { \
		echo 'Go is missing. Debian 13 or newer: sudo apt-get install -y golang-go git. Elsewhere: https://go.dev/doc/install' >&2; exit 1; }
	@go version | grep -qF '$(GOTOOLCHAIN) ' || { \
		echo 'Go cannot switch to $(GOTOOLCHAIN). That needs Go 1.21 or newer (go version) and a Go module proxy within reach (go env GOPROXY).' >&2; exit 1; }

## To use it

.PHONY: build
build: ready ## build ./bin/seatward
	go build -trimpath -o bin/seatward ./cmd/seatward

.PHONY: run
run: build ## build, then choose a valve for the example station
	./bin/seatward select examples/layout.station.yaml

## Before a change is sent

.PHONY: test
test: ready ## run every test, those of the page too
	go test -timeout 20m ./...
	@$(MAKE) page

.PHONY: check
check: vet format house lint vuln fresh deadcode ## everything that a change must pass besides the tests

.PHONY: vet
vet: ready ## go vet
	go vet ./...

.PHONY: format
format: ready ## every Go file as gofumpt writes it
	@files=$$($(TOOL) gofumpt -l .); \
	if [ -n "$$files" ]; then \
		echo "not formatted:"; echo "$$files"; echo 'run: $(TOOL) gofumpt -w .'; exit 1; \
	fi

.PHONY: house
house: ready ## the rules on layers, sizes, comments and words
	go test ./house

.PHONY: lint
lint: ready ## staticcheck
	$(TOOL) staticcheck ./...

# The database of known holes is a module: once fetched, no network is needed.
.PHONY: vuln
vuln: ready ## known holes in what is linked in
	@cd / && go mod download golang.org/x/vulndb@$(VULNDB)
	$(TOOL) govulncheck -db "file://$$(go env GOMODCACHE)/golang.org/x/vulndb@$(VULNDB)/data/osv" ./...

# Writes every generated file anew, and fails when that changes the work tree. Stored expectations
# are held by the tests themselves, and renewed by make golden.
.PHONY: fresh
fresh: ready ## generated files are what the code generates
	@state() { git status --porcelain; git diff | git hash-object --stdin; \
		git ls-files -o --exclude-standard -z | xargs -0 -r git hash-object; }; \
	before=$$(state); \
	go generate ./...; \
	after=$$(state); \
	if [ "$$before" != "$$after" ]; then \
		echo 'generated files were stale and have been written anew: look at git diff, and commit them'; \
		diff <(echo "$$before") <(echo "$$after") | grep '^[<>]' || true; exit 1; \
	fi

# What nothing reaches: no command, no test of a command, no outside number of truth.
# tools/deadcode.txt lists what may be left so, each with its reason.
.PHONY: deadcode
deadcode: ready ## functions that nothing reaches
	@diff <(grep -v '^#' tools/deadcode.txt | cut -d ' ' -f 1,2 | sort) \
		<($(TOOL) deadcode -test -f '{{range .Funcs}}{{println $$.Path .Name}}{{end}}' ./cmd/... ./test/stations ./truth | grep . | sort) || { \
		echo '> nothing reaches it: remove it, or have a command use it'; \
		echo '< it is reached, or gone: take it from tools/deadcode.txt'; exit 1; }

# The tools are a module of their own, so make vet and make test do not see them.
.PHONY: tools
tools: ready ## vet and test of the tools that make a release
	cd tools && go vet ./... && go test ./...

# Fast systems hide what others do not build.
.PHONY: cross
cross: ready ## the program builds for other systems and processors
	GOOS=windows GOARCH=amd64 go build -o /dev/null ./cmd/seatward
	GOOS=darwin GOARCH=arm64 go build -o /dev/null ./cmd/seatward

## For those who change the program

.PHONY: golden
golden: ready ## write the stored expectations anew; then read git diff
	SEATWARD_UPDATE=1 go test -count=1 ./...

# Whole packages where goroutines meet; of those that calculate, the tests that run side by
# side, since the detector makes a run ten times as long. make race RACE=./... RACE_RUNS= for all.
RACE ?= ./internal/draw ./internal/pool
RACE_RUNS ?= ./internal/store:AtOnce|ByMany|Writers|Conflict|Busy|Canceled|Closed|Backup \
	./internal/web:Busy|Turns|Places|WaitsNoMore|AtOnce|AMemory|Stop|Stream|Cancel|Panic|Studies|Guesses|Metrics|Log|Told \
	./internal/desk:Concurrent|Cancelled|CacheIsBounded|TripTells \
	./plant:SideBySide|WorstOfAll|OrderOfPumps|RecordingChangesNothing \
	./study:SameInputSameBytes|Cancel|TripStopsWhenTold
.PHONY: race
race: ready ## the packages that share state, under the race detector (needs a C compiler)
	@command -v gcc >/dev/null || command -v cc >/dev/null || { \
		echo 'The race detector needs a C compiler: sudo apt-get install -y gcc libc6-dev' >&2; exit 1; }
	@code=0; CGO_ENABLED=1 go test -race -timeout 20m $(RACE) || code=1; \
	for r in $(foreach r,$(RACE_RUNS),'$r'); do \
		CGO_ENABLED=1 go test -race -timeout 20m -run "$${r#*:}" "$${r%%:*}" || code=1; done; exit $$code

# make bench BASE=artifacts/before.txt compares with an earlier artifacts/bench.txt kept under that name.
BENCH ?= .
BENCH_COUNT ?= 6
BENCH_TIME ?= 0.2s
BASE ?=
.PHONY: bench
bench: ready ## every benchmark, summed up by benchstat
	@mkdir -p artifacts
	go test -run '^$$' -bench '$(BENCH)' -benchmem -count $(BENCH_COUNT) -benchtime $(BENCH_TIME) ./... | tee artifacts/bench.txt
	$(TOOL) benchstat $(BASE) artifacts/bench.txt

FUZZ_TIME ?= 5s
.PHONY: fuzz
fuzz: ready ## every fuzz target for FUZZ_TIME
	@tools/fuzz $(FUZZ_TIME)

# Stations drawn from a seed, after those that once broke the answer. With PAIRS=1 each is
# held against stations that must have the same answer. make soak STATIONS=500 SEED=1
# Every event is asked with every valve of the pipe's size that FAMILIES families make, other
# families at each station, and with few draws: 500 stations take some 10 minutes on 2 cores.
# A station on which the processors work longer than LIMIT hangs.
MINUTES ?= 0
STATIONS ?= 0
SEED ?= 1
FAMILIES ?= 4
PAIRS ?= 0
LIMIT ?= 20s
.PHONY: soak
soak: ready ## generated stations, asked for MINUTES (2 if no number is given) or up to STATIONS
	@mkdir -p artifacts; go build -o artifacts/stations ./test/stations; \
	artifacts/stations soak -seed $(SEED) -stations $(STATIONS) -minutes $(MINUTES) -families $(FAMILIES) -pairs=$(PAIRS) -limit $(LIMIT)
	SEATWARD_LONG=1 go test -count=1 -timeout 30m -run "EveryEvent|EstimateAgrees" ./plant
	SEATWARD_LONG=1 go test -count=1 -timeout 60m -run ANewType ./catalog
	SEATWARD_LONG=1 go test -count=1 -timeout 60m -run "Pairs|OneAnswer" ./internal/soak ./test/stations
	go run ./test/hostile -seed $(SEED) -minutes $(HOSTILE_MINUTES)

# Wrong files of every kind that the program reads. make hostile CASES=100 SEED=2; in make
# soak it takes HOSTILE_MINUTES.
CASES ?= 3000
HOSTILE_MINUTES ?= 3
.PHONY: hostile
hostile: ready ## CASES wrong files, which the program must refuse or answer (3,000 if no number is given)
	@mkdir -p artifacts; go run ./test/hostile -seed $(SEED) -n $(CASES)

.PHONY: survey
survey: ready ## the best valve of 32 ordinary layouts, and the shares of the verdicts
	@mkdir -p artifacts; go build -o artifacts/stations ./test/stations; artifacts/stations survey

# What the documents are read back with; make papers installs what is missing.
READERS := pdftoppm:poppler-utils qpdf:qpdf soffice:libreoffice-writer,libreoffice-calc
PYTHON := /usr/bin/python3

.PHONY: readers
readers:
	@missing=(); for r in $(READERS); do \
		command -v "$${r%%:*}" >/dev/null || missing+=($$(echo "$${r##*:}" | tr , ' ')); done; \
	$(PYTHON) -c 'import docx, openpyxl' 2>/dev/null || missing+=(python3-docx python3-openpyxl); \
	if [ "$${#missing[@]}" -gt 0 ]; then \
		echo "installing $${missing[*]}"; run=; [ "$$(id -u)" = 0 ] || run=sudo; \
		$$run apt-get update -q && $$run apt-get install -y -q --no-install-recommends "$${missing[@]}"; fi

## With other programs; what is missing is installed

.PHONY: papers
papers: ready readers ## every document read back by other programs
	cd test/papers && go vet ./... && go test -count=1 -timeout 40m ./...

# install NAME:PACKAGE,... of the programs that are missing.
INSTALL = missing=(); for p in $(1); do command -v "$${p%%:*}" >/dev/null || missing+=("$${p\#\#*:}"); done; \
	if [ "$${\#missing[@]}" -gt 0 ]; then \
		command -v apt-get >/dev/null || { echo "Install these first, and run make again: $${missing[*]}" >&2; exit 1; }; \
		echo "installing $${missing[*]}"; run=; [ "$$(id -u)" = 0 ] || run=sudo; \
		$$run apt-get update -q && $$run apt-get install -y -q --no-install-recommends "$${missing[@]}"; fi

.PHONY: node
node:
	@$(call INSTALL,node:nodejs npm:npm)

# npm installs once for each state of the lock file.
test/%/node_modules/.package-lock.json: test/%/package-lock.json | node
	cd test/$* && npm ci --no-audit --no-fund
	@touch $@

# The types of what the server takes and sends are written from its own description.
.PHONY: page
page: ready node test/page/node_modules/.package-lock.json ## the page checked against the server's types, and its own tests in node
	@mkdir -p artifacts
	go run ./cmd/seatward schema api >artifacts/api.json
	cd test/page && npm run -s api && npm run -s types
	node --test test/page/*.test.mjs

E2E_TIMEOUT ?= 40m
E2E_RUN ?= .
.PHONY: e2e
e2e: ready test/e2e/node_modules/.package-lock.json ## the workbench driven in Chromium; pictures in artifacts/page
	@$(call INSTALL,chromium:chromium)
	cd test/e2e && go vet ./... && go test -count=1 -v -timeout $(E2E_TIMEOUT) -run '$(E2E_RUN)' ./...

# Pictures of docs/workbench: the walk, and some that other tests take under other names.
STRIP := $(foreach p,walk-1-station walk-2-edit walk-3-answer walk-4-why-not walk-5-slam walk-6-remedy walk-7-paper,$p:$p:1000) \
	class:class:700 phone:phone:320 first-dark:dark:700

.PHONY: strip
strip: e2e ## docs/workbench: the film strip of a first visit, from the pictures of the browser tests
	@command -v convert >/dev/null || { run=; [ "$$(id -u)" = 0 ] || run=sudo; $$run apt-get install -y -q --no-install-recommends imagemagick; }
	@for p in $(STRIP); do IFS=: read -r from to width <<<"$$p"; \
		convert "artifacts/page/$$from.png" -resize "$$width" -strip +dither -colors 128 "docs/workbench/$$to.png"; done

.PHONY: gallery
gallery: ready readers ## docs/gallery: every kind of document, from the example station
	SEATWARD_UPDATE=1 go test -count=1 -run TestGallery ./cmd/seatward
	@rm -rf docs/gallery/*.png artifacts/gallery; \
	soffice -env:UserInstallation=file:///tmp/seatward-gallery --headless --convert-to pdf --outdir artifacts/gallery docs/gallery/*.docx docs/gallery/*.xlsx >/dev/null; \
	cp docs/gallery/*.pdf artifacts/gallery/; \
	for f in artifacts/gallery/*.pdf; do \
		pdftoppm -r 60 -png -singlefile "$$f" "docs/gallery/$$(basename "$${f%.pdf}")"; done

## Releases

# The same commit gives the same bytes: it is built twice, in two folders and caches, and
# compared. ONCE=1 leaves the second building out, for a trial.
ONCE ?=
.PHONY: release
release: ready ## make release VERSION=v0.2.0: everything that is handed out, in dist/VERSION
	cd tools && go run ./release -version '$(VERSION)' -out '$(CURDIR)/dist/$(VERSION)' $(if $(ONCE),-once)

SCHEMAS = $$(./bin/seatward __complete schema '' 2>/dev/null | grep -v '^:')
.PHONY: schemas
schemas: build ## make schemas VERSION=v0.2.0: the schemas kept that later ones are held against
	@test -n '$(VERSION)' || { echo 'which release? make schemas VERSION=v0.2.0' >&2; exit 1; }
	@folder=cmd/seatward/testdata/schemas/$(VERSION); mkdir -p "$$folder"; \
	for s in $(SCHEMAS); do ./bin/seatward schema "$$s" > "$$folder/$$s.json"; done; ls "$$folder"

.PHONY: clean
clean: ## remove what was built
	rm -rf bin artifacts dist
