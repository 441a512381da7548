# SPDX-License-Identifier: MIT
#
# make run    install what is missing, build, show the demo room
# make test   every test, the window under a virtual display included
# make latency   how long until an edit, a drag, a turn of the camera is seen

TAGS    := migrated_fynedo
DEMO    ?= large
BIN     := bin/earline
PICTURE := bin/$(DEMO).png

# go uses every core by itself; two at once would compile the same packages twice.
.NOTPARALLEL:

.PHONY: run build test vet lint tidy bench latency fuzz race kill-test pictures man manual words clean \
	deps test-deps export-check dist dist-check

# A display of 1280x800 in memory, on which nothing may be skipped.
DISPLAYED := EARLINE_NO_SKIP=1 xvfb-run -a -s "-screen 0 1280x800x24"

run: build
	@if [ "$$(uname)" != Linux ] || [ -n "$$DISPLAY$$WAYLAND_DISPLAY" ]; then \
		exec $(BIN) --demo $(DEMO); \
	fi; \
	echo "No display here (DISPLAY and WAYLAND_DISPLAY are empty), so no window:"; \
	echo "auditing the demo room in the terminal and drawing a picture of it instead."; echo; \
	$(BIN) audit demo:$(DEMO); s=$$?; [ $$s -le 1 ] || exit $$s; echo; \
	$(BIN) render demo:$(DEMO) -o $(PICTURE) --size 1600x1000 && \
	echo "The picture is in $(CURDIR)/$(PICTURE)"

build: deps
	go build -tags $(TAGS) -o $(BIN) ./cmd/earline

# -count=1: the window tests depend on a display that the cache does not know of.
test: test-deps
	$(DISPLAYED) go test -tags $(TAGS) -count=1 -shuffle=on -timeout 20m ./...
	cd tools && go test ./...

vet: test-deps
	go vet -tags $(TAGS) ./...

lint: test-deps
	@test -z "$$(gofmt -l .)" || { echo "not gofmt'ed:"; gofmt -l .; exit 1; }
	@sh tools/needs.sh lint
	go tool -modfile=tools/go.mod staticcheck -tags $(TAGS) ./...
	cd tools && go tool staticcheck ./...
	desktop-file-validate packaging/linux/*.desktop
	xmllint --noout packaging/linux/*.xml
	appstreamcli validate --no-net packaging/linux/*.metainfo.xml

# Nothing in go.mod that is not used, nothing used that is not in it.
tidy:
	go mod tidy -diff
	cd tools && go mod tidy -diff

# Races where the work of several goroutines comes together. The engine's own pointer
# checks are off, as g3n v0.2.0 fails them.
RACE ?= ./app/session ./app ./scene/gl
RACING := -race -gcflags=all=-d=checkptr=0 -tags $(TAGS) -count=1 -timeout 30m
race: test-deps
	$(DISPLAYED) go test $(RACING) -short $(RACE)
	go test $(RACING) -short ./project/bass

# Programs that people open exports with, which are too large for every machine.
export-check: build test-deps
	@sh tools/needs.sh export
	sh tools/export-check.sh

# Processes killed while they save: KILLS times, of which make test does sixty.
KILLS ?= 1000
kill-test: deps
	EARLINE_KILLS=$(KILLS) go test -count=1 -timeout 30m -v -run TestKilledWhileSaving ./app/document

bench: test-deps
	go test -tags $(TAGS) -run '^$$' -bench . -benchmem ./...

# From a key press or a move of the mouse to changed pixels, in the real window on a
# display in memory. BEFORE is another build to compare with, in turns.
BEFORE ?=
ROUNDS ?= 1
latency: build test-deps
	go run -tags latency ./cmd/latency -rounds $(ROUNDS) $(BEFORE) $(BIN)

# The README's pictures: the real window driven by its test, and a still.
pictures: build test-deps
	mkdir -p assets/pictures
	EARLINE_PICTURES="$(CURDIR)/assets/pictures" $(DISPLAYED) \
		go test -tags $(TAGS) -count=1 -run TestWindow ./cmd/earline
	$(BIN) render demo:large --map U+090 --octave 4000 --view plan --size 900x1100 -o assets/pictures/map.png
	$(BIN) render demo:large --client --scene preshow --fine --view walk:7.7,2.6,2.15,0,-14 --size 1280x720 -o assets/pictures/client.png

# The manual page, made from the commands.
man: build
	$(BIN) man > bin/earline.1

# The manual's tables: rules, fields of the file, options.
manual: deps
	go test -tags $(TAGS) -count=1 -run TestTheManualsTables ./cmd/earline -update-manual

# The texts in the sources that the window's other languages have no entry for.
words:
	cd tools && go run ./words ..

# Every fuzz target for FUZZTIME each.
FUZZTIME ?= 30s
fuzz: test-deps
	@go list -tags $(TAGS) -f '{{.Dir}}' ./... | while IFS= read -r d; do \
		grep -hos '^func Fuzz[A-Za-z]*' "$$d"/*_test.go | sed 's/func //' | while read -r f; do \
			(cd "$$d" && go test -tags $(TAGS) -run '^$$' -fuzz "^$$f\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x .) || exit 1; \
		done || exit 1; done

# What is handed out, in dist/: for Linux and Windows, the same bytes from the same commit.
VERSION ?=
dist:
	@sh tools/needs.sh dist
	sh tools/dist.sh $(VERSION)

# Tries what make dist has made, that for Windows under Wine.
dist-check:
	@sh tools/needs.sh dist-check
	sh tools/dist-check.sh

clean:
	rm -rf bin dist

# What the machine lacks is installed, or one is told what to do.
deps:
	@sh tools/needs.sh build

test-deps:
	@sh tools/needs.sh test
