# make run     build and start with a filled demo studio
# make test    everything that can be tried, installing what the tests need
# make check   format, vet, staticcheck, known vulnerabilities, script types
# make generate  the handbook's list of formulas anew, from their contracts
# make dist    static programs for every system we ship to, in dist/
# make bench   how long plans, pages and records take
# make bench-compare   a plan beside a plain numpy program of its size
# make measure start, first answers, memory and size of the program itself

export GOTOOLCHAIN = go1.27.3

GO     = go
TOOL   = $(GO) tool -modfile=tools/tools.mod
DIST   = linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64
BUILD  = $(GO) build -trimpath -ldflags "-s -w"

.PHONY: run test check fmt vet staticcheck vuln types dist bench bench-compare measure needs generate

run:
	$(GO) run ./cmd/vatside demo

test: needs
	$(GO) test -timeout 15m ./...

# What the tests need beyond Go: a browser, a PDF reader, axe-core.
needs:
	bash tools/needs.sh

check: fmt vet staticcheck vuln types

fmt:
	@unformatted=$$(gofmt -l cmd internal tools); \
	if [ -n "$$unformatted" ]; then echo "not formatted (gofmt -w them):"; echo "$$unformatted"; exit 1; fi

vet:
	$(GO) vet ./...

staticcheck:
	$(TOOL) staticcheck ./...

vuln:
	bash tools/vuln.sh

types: tools/node_modules/.package-lock.json
	tools/node_modules/.bin/tsc -p internal/web/asset

tools/node_modules/.package-lock.json: tools/package-lock.json
	bash tools/needs.sh npm

# What is written from the sources: the formulas of the handbook.
generate:
	$(GO) run ./tools/handbook

dist:
	@mkdir -p dist
	@set -e; for target in $(DIST); do \
		os=$${target%/*}; arch=$${target#*/}; ext=; \
		if [ $$os = windows ]; then ext=.exe; fi; \
		echo "dist/vatside-$$os-$$arch$$ext"; \
		CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch $(BUILD) -o dist/vatside-$$os-$$arch$$ext ./cmd/vatside; \
	done

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

bench-compare:
	bash tools/bench_compare.sh

measure:
	bash tools/measure.sh
