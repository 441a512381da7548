# SPDX-License-Identifier: MIT
#
# make run    install what is missing, build, show the demo room
# make test   every test, the window under a virtual display included
# make latency   how long until an edit, a drag, a turn of the camera is seen

TAGS    := migrated_fynedo
DEMO    ?= large
BIN     := bin/earline
PICTURE := bin/$(DEMO).png

# What a Debian or Ubuntu machine with only git, make and Go lacks, and why.
# gcc: Fyne and g3n are compiled with cgo. libgl1-mesa-dev, xorg-dev, libegl-dev:
# OpenGL, X11 and EGL headers. libegl1, libgl1-mesa-dri: OpenGL without a
# display, in software if need be. xvfb, xauth: the virtual display of the tests.
BUILD_DEBS := gcc libc6-dev libgl1-mesa-dev xorg-dev libegl-dev libegl1 libgl1-mesa-dri
TEST_DEBS  := xvfb xauth

.PHONY: run build test vet lint bench latency fuzz race kill-test pictures deps test-deps clean

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
test: deps test-deps
	EARLINE_NO_SKIP=1 xvfb-run -a -s "-screen 0 1280x800x24" \
		go test -tags $(TAGS) -count=1 -timeout 20m ./...

vet: deps
	go vet -tags $(TAGS) ./...

lint: deps
	@test -z "$$(gofmt -l .)" || { echo "not gofmt'ed:"; gofmt -l .; exit 1; }
	go tool -modfile=tools/go.mod staticcheck -tags $(TAGS) ./...

# Races, without the engine's own pointer checks (g3n v0.2.0 fails those).
race: deps test-deps
	EARLINE_NO_SKIP=1 xvfb-run -a -s "-screen 0 1280x800x24" \
		go test -race -gcflags=all=-d=checkptr=0 -tags $(TAGS) -count=1 -timeout 30m ./...

# Processes killed while they save: KILLS times, of which make test does sixty.
KILLS ?= 1000
kill-test:
	EARLINE_KILLS=$(KILLS) go test -count=1 -timeout 30m -v -run TestKilledWhileSaving ./app/document

bench: deps
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
	EARLINE_NO_SKIP=1 EARLINE_PICTURES=$(CURDIR)/assets/pictures xvfb-run -a -s "-screen 0 1280x800x24" \
		go test -tags $(TAGS) -count=1 -run TestWindow ./cmd/earline
	$(BIN) render demo:large --map U+090 --octave 4000 --view plan --size 900x1100 -o assets/pictures/map.png
	$(BIN) render demo:large --client --view walk:7.7,2.6,2.15,0,-14 --size 1280x720 -o assets/pictures/client.png

# Every fuzz target for FUZZTIME each.
FUZZTIME ?= 30s
fuzz:
	@go list -f '{{.Dir}}' ./geometry/... ./project/... ./scene/chart | while read d; do \
		grep -hos '^func Fuzz[A-Za-z]*' $$d/*_test.go | sed 's/func //' | while read f; do \
			(cd $$d && go test -run '^$$' -fuzz "^$$f\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x .) || exit 1; \
		done || exit 1; done

clean:
	rm -rf bin

# $(call install,PACKAGES): install those that are missing, or say what to do.
define install
	@if [ "$$(uname)" != Linux ]; then \
		command -v cc >/dev/null || { \
			echo "A C compiler is needed (cgo). macOS: xcode-select --install."; \
			echo "Windows: MSYS2 with mingw-w64-x86_64-gcc on the PATH."; exit 1; }; \
	elif command -v dpkg-query >/dev/null; then \
		missing=; for p in $(1); do \
			dpkg-query -W -f '$${Status}' $$p 2>/dev/null | grep -q 'ok installed' || missing="$$missing $$p"; done; \
		[ -z "$$missing" ] || { \
			echo "Installing with apt-get:$$missing"; \
			echo "(gcc and the -dev packages compile the window and the 3D view; libegl1 and"; \
			echo " libgl1-mesa-dri draw without a display; xvfb and xauth are the tests' display.)"; \
			sudo=; [ "$$(id -u)" = 0 ] || sudo=sudo; \
			$$sudo apt-get update -qq && \
			$$sudo env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $$missing >/dev/null; } ; \
	elif ! command -v cc >/dev/null || ! ls /usr/include/EGL/egl.h /usr/include/X11/Xlib.h >/dev/null 2>&1; then \
		echo "Please install a C compiler and the OpenGL, X11 and EGL headers. On Fedora:"; \
		echo "  sudo dnf install gcc mesa-libGL-devel mesa-libEGL-devel mesa-dri-drivers libX11-devel \\"; \
		echo "    libXcursor-devel libXrandr-devel libXinerama-devel libXi-devel libXxf86vm-devel \\"; \
		echo "    xorg-x11-server-Xvfb xorg-x11-xauth"; exit 1; \
	fi
endef

deps:
	$(call install,$(BUILD_DEBS))

test-deps:
	$(call install,$(TEST_DEBS))
