#!/bin/sh
# SPDX-License-Identifier: MIT
#
# tools/needs.sh build|test|export|lint|dist|dist-check|modules
#
# Installs what this machine lacks for that, or says in plain words what to do.
set -eu
cd "$(dirname "$0")/.."

# What a Debian or Ubuntu machine with only git, make and Go lacks, and why.
# gcc: Fyne and g3n are compiled with cgo. libgl1-mesa-dev, xorg-dev, libegl-dev:
# OpenGL, X11 and EGL headers. libegl1, libgl1-mesa-dri: OpenGL without a
# display, in software if need be. xvfb, xauth: the virtual display of the tests.
build_debs='gcc libc6-dev libgl1-mesa-dev xorg-dev libegl-dev libegl1 libgl1-mesa-dri'
# poppler-utils, qpdf, python3-ezdxf: programs of others that read the PDF and DXF
# files again that the tests write.
test_debs='xvfb xauth poppler-utils qpdf python3-ezdxf'
# libreoffice-draw: a program that people open DXF files with.
export_debs='libreoffice-draw'
# desktop-file-utils, libxml2-utils, appstream: check what tells a desktop of Earline.
lint_debs='desktop-file-utils libxml2-utils appstream'
# gcc-mingw-w64-x86-64: a C compiler for Windows; zip: its archive.
dist_debs='gcc-mingw-w64-x86-64 zip'
# lintian: checks a Debian package; shared-mime-info: what a desktop knows of files;
# man-db: reads the manual page; unzip, wine64, wine: unpack and run what is for Windows.
dist_check_debs='binutils desktop-file-utils lintian man-db shared-mime-info unzip wine wine64 xvfb xauth'

fail() { printf '%s\n' "$@" >&2; exit 1; }

go_is_here() {
	wanted=$(sed -n 's/^go //p' go.mod)
	command -v go >/dev/null || fail \
		"Go $wanted or newer is needed, and there is no go on the PATH." \
		"Get it from https://go.dev/dl, unpack it to /usr/local, and put /usr/local/go/bin on" \
		"the PATH. What a distribution packages is often older."
	error=$(go list -m 2>&1 >/dev/null) || fail "$error" \
		"Go $wanted or newer is needed: https://go.dev/dl. A Go from 1.21 on fetches it by itself" \
		"with: GOTOOLCHAIN=auto make"
}

# modules ARGUMENTS OF go list...: fetches the libraries that are not here yet.
modules() {
	error=$(go list -deps "$@" 2>&1 >/dev/null) && return
	case $error in
	*'dial tcp'* | *'no such host'* | *timeout* | *'TLS handshake'* | *Forbidden* | *'lookup disabled'*) ;;
	*) return 0 ;; # no matter of the network: go says it better
	esac
	printf '%s\n' "$error" | grep -v '^go: downloading' | sed -n '1,3p' >&2
	fail "" "Libraries are missing, and could not be fetched from GOPROXY=$(go env GOPROXY)." \
		"Connect this machine to the network once; or set GOPROXY to a module proxy that it can" \
		"reach; or copy the folder $(go env GOMODCACHE)" \
		"from a machine that has built Earline."
}

as_root() {
	if [ "$(id -u)" = 0 ]; then
		env LC_ALL=C DEBIAN_FRONTEND=noninteractive "$@"
	else
		sudo env LC_ALL=C DEBIAN_FRONTEND=noninteractive "$@"
	fi
}

# apt-get waits for the lock of the packages if told to, but never for that of the
# lists, which a machine that has just started often holds.
update_lists() {
	tries=0
	until error=$(as_root apt-get update -qq 2>&1); do
		case $error in
		*'Could not get lock'* | *'Unable to lock'*) ;;
		*) fail "$error" "" "The lists of packages could not be fetched: is there a network? Without one, have" \
			"an administrator install:$missing" ;;
		esac
		tries=$((tries + 1))
		[ $tries -le 60 ] || fail "$error" "Another apt-get has been at work for five minutes. Wait for it, and try again."
		[ $tries -gt 1 ] || echo "Waiting for another apt-get to end."
		sleep 5
	done
}

# packages NAME...: installs those that are missing.
packages() {
	missing=
	for p in "$@"; do
		dpkg-query -W -f '${Status}' "$p" 2>/dev/null | grep -q 'ok installed' || missing="$missing $p"
	done
	[ -n "$missing" ] || return 0
	[ "$(id -u)" = 0 ] || command -v sudo >/dev/null || fail \
		"Packages are missing, and there is no sudo. Have an administrator run:" \
		"  apt-get install$missing"
	echo "Installing with apt-get:$missing"
	echo "(gcc and the -dev packages compile the window and the 3D view; libegl1 and"
	echo " libgl1-mesa-dri draw without a display; xvfb and xauth are the tests' display;"
	echo " poppler-utils, qpdf and python3-ezdxf read exported PDF and DXF files again;"
	echo " libreoffice-draw opens DXF files for make export-check; desktop-file-utils, libxml2-utils"
	echo " and appstream check the desktop's files; gcc-mingw-w64-x86-64 compiles for Windows, wine"
	echo " runs that; zip, unzip, lintian, man-db and shared-mime-info make and check archives.)"
	update_lists
	# shellcheck disable=SC2086 # a list of names
	as_root apt-get install -y -qq --no-install-recommends -o DPkg::Lock::Timeout=300 $missing >/dev/null ||
		fail "Have an administrator run: apt-get install$missing"
}

# system NAME...: the packages, where they are called so; elsewhere words.
system() {
	if [ "$(uname)" != Linux ]; then
		command -v cc >/dev/null || fail "A C compiler is needed (cgo). macOS: xcode-select --install." \
			"Windows: MSYS2 with mingw-w64-x86_64-gcc on the PATH."
	elif command -v dpkg-query >/dev/null; then
		packages "$@"
	elif ! command -v cc >/dev/null || ! [ -e /usr/include/EGL/egl.h ] || ! [ -e /usr/include/X11/Xlib.h ]; then
		fail "Please install a C compiler and the OpenGL, X11 and EGL headers. On Fedora:" \
			"  sudo dnf install gcc mesa-libGL-devel mesa-libEGL-devel mesa-dri-drivers libX11-devel \\" \
			"    libXcursor-devel libXrandr-devel libXinerama-devel libXi-devel libXxf86vm-devel \\" \
			"    xorg-x11-server-Xvfb xorg-x11-xauth"
	fi
}

go_is_here
case $1 in
# shellcheck disable=SC2086 # lists of names
build) system $build_debs && modules -tags migrated_fynedo ./cmd/earline ;;
# shellcheck disable=SC2086
test)
	system $build_debs $test_debs
	modules -test -tags migrated_fynedo ./...
	(cd tools && modules -test ./...)
	;;
# shellcheck disable=SC2086
export) system $export_debs ;;
# shellcheck disable=SC2086
lint) system $lint_debs && modules -modfile=tools/go.mod honnef.co/go/tools/cmd/staticcheck ;;
# shellcheck disable=SC2086
dist)
	system $build_debs $dist_debs
	modules -tags migrated_fynedo ./cmd/earline
	GOOS=windows CGO_ENABLED=1 modules -tags migrated_fynedo ./cmd/...
	modules -modfile=tools/go.mod github.com/goreleaser/nfpm/v2/cmd/nfpm
	(cd tools && modules ./...)
	;;
# shellcheck disable=SC2086
dist-check) system $dist_debs $dist_check_debs ;;
modules) modules -test -tags migrated_fynedo ./... ;;
*) fail "needs.sh: found \"$1\", allowed: build, test, export, lint, dist, dist-check or modules" ;;
esac
