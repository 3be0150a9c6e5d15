# What a person types: make demo, make test. What CI runs: make check.

GO ?= go
# Packages in which several things run at once.
RACY = ./internal/engine/nest/ ./internal/workshop/ ./internal/face/web/

.PHONY: demo test check build race lint pages axe faults

demo: build
	./hemwright demo

build:
	$(GO) build -o hemwright ./cmd/hemwright

test:
	$(GO) test ./...

# Everything, nothing skipped: HEMWRIGHT_REQUIRE_ALL turns skips into failures.
check: build lint axe
	HEMWRIGHT_REQUIRE_ALL=1 HEMWRIGHT_AXE=$(CURDIR)/node_modules/axe-core/axe.min.js $(GO) test -timeout 10m ./...
	$(MAKE) race
	$(MAKE) faults

# Kills, full disks, torn files: the whole suite, about a minute.
faults:
	HEMWRIGHT_FAULTS=1 $(GO) test -run Faults -timeout 10m -v ./internal/store/

race:
	$(GO) test -race -short -skip 'Browser|EveryLink' -timeout 8m $(RACY)

lint:
	test -z "$$(gofmt -l cmd internal *.go)"
	$(GO) vet ./...
	$(GO) tool -modfile=tools.mod staticcheck ./...

# The pages in a real browser.
pages: axe
	HEMWRIGHT_REQUIRE_ALL=1 HEMWRIGHT_AXE=$(CURDIR)/node_modules/axe-core/axe.min.js $(GO) test -run Browser ./internal/face/web/

axe: node_modules/axe-core/axe.min.js

node_modules/axe-core/axe.min.js:
	npm install --no-save --no-package-lock --silent axe-core@4.10
