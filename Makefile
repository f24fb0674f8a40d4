# Two commands matter: make run, and make test. Both set up what they need on a machine that has Go and Node.
SHELL := /bin/bash
GO ?= go
UI := web/ui
BUILD := CGO_ENABLED=0 $(GO) build -trimpath

.PHONY: run test quick bench oracle release page check-page go-checks race chromium

## run: build everything and open the page on a demo rig
run: bin/campwright
	./bin/campwright

bin/campwright: page FORCE
	@mkdir -p bin
	$(BUILD) -ldflags="-s -w" -o bin/campwright ./cmd/campwright

FORCE:

## page: the page, built into the folder that the program embeds
page: $(UI)/node_modules/.package-lock.json
	cd $(UI) && npm run --silent build

$(UI)/node_modules/.package-lock.json: $(UI)/package-lock.json
	cd $(UI) && npm ci --no-audit --no-fund
	@touch $@

## test: all checks
test: page check-page chromium go-checks race bin/campwright
	$(GO) test ./...
	$(GO) test -run '^$$' -bench . -benchtime 1x ./... > /dev/null && echo "every benchmark ran once"

## quick: the checks of the Go code alone, under a minute
quick:
	$(GO) vet ./...
	$(GO) test ./...

check-page: $(UI)/node_modules/.package-lock.json
	cd $(UI) && npm run --silent check && npm run --silent test

go-checks:
	@unformatted=$$(gofmt -l $$(git ls-files '*.go')); if [ -n "$$unformatted" ]; then echo "gofmt would change:"; echo "$$unformatted"; exit 1; fi
	$(GO) vet ./...
	$(GO) tool staticcheck ./...

## race: the packages that use more than one goroutine, under the race detector, which needs a C compiler
race:
	@if command -v gcc > /dev/null; then CGO_ENABLED=1 $(GO) test -race -short ./trip ./web ./store ./climate; else echo "RACE TESTS SKIPPED: no gcc"; fi

## chromium: for the browser test, when it can be had
chromium:
	@command -v chromium > /dev/null || command -v chromium-browser > /dev/null || command -v google-chrome > /dev/null || { \
	  if [ "$$(id -u)" = 0 ] && command -v apt-get > /dev/null; then \
	    (apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq -o DPkg::Lock::Timeout=120 chromium) > /dev/null 2>&1 || echo "CHROMIUM ABSENT: it could not be installed"; \
	  else echo "CHROMIUM ABSENT: the browser test will be skipped"; fi; }

## bench: every benchmark, for reading
bench:
	$(GO) test -run '^$$' -bench . ./...

## oracle: make what can be made anew of the independent answers with general libraries and a circuit simulator, compare, and time both (SEED=7 draws others)
oracle:
	./tools/oracle/regenerate.sh

## release: binaries for seven systems, zipped, with checksums
release: page
	$(GO) run ./tools/release
