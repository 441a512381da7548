#!/bin/sh
# SPDX-License-Identifier: MIT
#
# tools/dist.sh [VERSION]
#
# Makes what is handed out, in dist/: an archive and a Debian package for Linux, an
# archive for Windows. The same commit gives the same bytes, with the same Go and
# compilers: nothing of this machine, its clock or its folders goes in.
set -eu
cd "$(dirname "$0")/.."
umask 022
export LC_ALL=C TZ=UTC
unset GOFLAGS GOAMD64 GOEXPERIMENT CC CXX CGO_CFLAGS CGO_CPPFLAGS CGO_CXXFLAGS CGO_LDFLAGS

fail() { printf '%s\n' "$@" >&2; exit 1; }

[ "$(uname -sm)" = "Linux x86_64" ] || fail "make dist needs Linux on a 64-bit x86, and this is $(uname -sm)."

# A tag v1.2.3 is version 1.2.3; 5 commits later it is 1.2.3+5.gCOMMIT; where there is no
# tag, what the program says of itself, +gCOMMIT. "dirty" is what is not committed.
version=${1:-}
if [ -z "$version" ]; then
	commit=$(git rev-parse --short=12 HEAD) || fail "Without git: make dist VERSION=1.2.3"
	if tag=$(git describe --tags --match 'v[0-9]*' --abbrev=12 2>/dev/null); then
		version=$(echo "${tag#v}" | sed 's/-\([0-9]*\)-\(g[0-9a-f]*\)$/+\1.\2/')
	else
		version=$(sed -n 's/^var version = "\(.*\)"$/\1/p' cmd/earline/main.go)+g$commit
	fi
	git update-index -q --refresh || true
	git diff-index --quiet HEAD || case $version in
	*+*) version=$version.dirty ;;
	*) version=$version+dirty ;;
	esac
fi
printf '%s\n' "$version" | grep -Eqx '[0-9]+\.[0-9]+\.[0-9]+([-+][0-9A-Za-z.+-]+)?' ||
	fail "VERSION: found \"$version\", allowed: 1.2.3, with -WORD or +WORD after it"
[ -n "${SOURCE_DATE_EPOCH:-}" ] || SOURCE_DATE_EPOCH=$(git log -1 --format=%ct) ||
	fail "Without git: SOURCE_DATE_EPOCH must be the time of the release, in seconds since 1970"
export VERSION="$version" SOURCE_DATE_EPOCH

id=io.earline.planner
# no_emoji: 4 MB of a font whose terms are not among its module's.
tags=migrated_fynedo,no_emoji
# -buildvcs=false: Go stamps no worktree, and the version names the commit.
linker="-s -w -X main.version=$version"
repo=$PWD
out=$PWD/dist
syso="$repo/cmd/earline/icon_windows_amd64.syso $repo/cmd/earline-window/icon_windows_amd64.syso"
work=$(mktemp -d)
# shellcheck disable=SC2086 # two names
trap 'rm -rf "$work" $syso' EXIT
trap 'exit 1' HUP INT TERM
mkdir -p "$out"
rm -f "$out"/earline[-_]*

say() { echo "$version: $*"; }
(cd tools && go build -o "$work/" ./icons ./licences github.com/goreleaser/nfpm/v2/cmd/nfpm)

# papers FOLDER: what every archive has beside the program.
papers() {
	install -d "$1/assets/manual" "$1/assets/pictures"
	install -m 644 README.md CHANGELOG.md DEVELOPERS.md LICENSE "$1"
	install -m 644 assets/manual/*.md "$1/assets/manual"
	install -m 644 assets/pictures/window.png "$1/assets/pictures"
}

# dated FOLDER: sets all times to that of the commit.
dated() { find "$1" -exec touch -h -d "@$SOURCE_DATE_EPOCH" {} +; }

say "Linux"
usr=$work/root/usr
install -d "$usr/bin" "$usr/share/man/man1" "$usr/share/bash-completion/completions" \
	"$usr/share/zsh/vendor-completions" "$usr/share/fish/vendor_completions.d"
CGO_ENABLED=1 GOOS=linux GOARCH=amd64 go build -trimpath -buildvcs=false -buildmode=pie -tags $tags \
	-ldflags "$linker" -o "$usr/bin/earline" ./cmd/earline
earline=$usr/bin/earline
"$earline" man | gzip -n9 >"$usr/share/man/man1/earline.1.gz"
"$earline" completion bash >"$usr/share/bash-completion/completions/earline"
"$earline" completion zsh >"$usr/share/zsh/vendor-completions/_earline"
"$earline" completion fish >"$usr/share/fish/vendor_completions.d/earline.fish"
for file in desktop:applications xml:mime/packages metainfo.xml:metainfo; do
	install -D -m 644 "packaging/linux/$id.${file%%:*}" "$usr/share/${file#*:}/$id.${file%%:*}"
done
icons=$usr/share/icons/hicolor
install -D -m 644 assets/icon.svg "$icons/scalable/apps/$id.svg"
for size in 16 22 24 32 48 64 128 256 512; do
	install -d "$icons/${size}x$size/apps"
	"$work/icons" assets/icon.svg "$icons/${size}x$size/apps/$id.png" $size
done

name=earline-$version-linux-amd64
install -d "$work/$name"
cp -r "$usr/bin" "$usr/share" "$work/$name"
papers "$work/$name"
install -m 644 packaging/linux/INSTALL.txt "$work/$name"
"$work/licences" -tags $tags . ./cmd/earline linux >"$work/$name/LICENCES.txt"
dated "$work/$name"
tar -C "$work" --sort=name --format=gnu --owner=0 --group=0 --numeric-owner -cf - "$name" |
	gzip -n9 >"$out/$name.tar.gz"

say "Debian"
doc=$usr/share/doc/earline
install -D -m 644 "$work/$name/LICENCES.txt" "$doc/copyright"
install -m 644 README.md "$doc"
gzip -n9 <CHANGELOG.md >"$doc/CHANGELOG.md.gz"
gzip -n9 >"$doc/changelog.gz" <<END
earline ($(echo "$version" | sed 's/-/~/')) unstable; urgency=medium

  * What is new: CHANGELOG.md.gz in this folder.

 -- The Earline authors <authors@earline.invalid>  $(date -R -d "@$SOURCE_DATE_EPOCH")
END
dated "$work/root"
(cd "$work" && ./nfpm package -f "$repo/packaging/linux/nfpm.yaml" -p deb \
	-t "$out/earline_${version}_amd64.deb" >/dev/null)

say "Windows"
name=earline-$version-windows-amd64
install -d "$work/$name/bin"
"$work/icons" assets/icon.svg "$work/earline.ico"
numbers=$(echo "$version" | sed 's/^\([0-9]*\)\.\([0-9]*\)\.\([0-9]*\).*/\1,\2,\3,0/')
cat >"$work/earline.rc" <<RC
1 ICON "earline.ico"
1 VERSIONINFO
FILEVERSION $numbers
PRODUCTVERSION $numbers
BEGIN
	BLOCK "StringFileInfo"
	BEGIN
		BLOCK "040904b0"
		BEGIN
			VALUE "FileDescription", "Earline"
			VALUE "FileVersion", "$version"
			VALUE "ProductName", "Earline"
			VALUE "ProductVersion", "$version"
			VALUE "LegalCopyright", "The Earline authors, MIT licence"
		END
	END
	BLOCK "VarFileInfo"
	BEGIN
		VALUE "Translation", 0x409, 1200
	END
END
RC
for to in $syso; do
	(cd "$work" && x86_64-w64-mingw32-windres -O coff -i earline.rc -o "$to")
done
CGO_ENABLED=1 GOOS=windows GOARCH=amd64 CC=x86_64-w64-mingw32-gcc go build -trimpath -buildvcs=false -tags $tags \
	-ldflags "$linker" -o "$work/$name/bin/earline.exe" ./cmd/earline
CGO_ENABLED=0 GOOS=windows GOARCH=amd64 go build -trimpath -buildvcs=false \
	-ldflags "-s -w -H=windowsgui" -o "$work/$name/Earline.exe" ./cmd/earline-window
papers "$work/$name"
install -m 644 packaging/windows/INSTALL.txt "$work/earline.ico" "$work/$name"
"$earline" man >"$work/$name/earline.1"
"$work/licences" -tags $tags -and "The runtime of mingw-w64=/usr/share/doc/mingw-w64-x86-64-dev/copyright" \
	. ./cmd/earline windows >"$work/$name/LICENCES.txt"
dated "$work/$name"
(cd "$work" && find "$name" -type f | sort | zip -q -X -9 -D -@ "$out/$name.zip")

ls -l "$out"
