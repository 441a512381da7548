#!/bin/sh
# SPDX-License-Identifier: MIT
#
# tools/dist-check.sh
#
# Tries what make dist has put into dist/, as its users will: unpacked somewhere else,
# with nothing of this folder. What is for Windows runs under Wine.
set -eu
cd "$(dirname "$0")/.."
export LC_ALL=C.UTF-8

fail() { printf '%s\n' "$@" >&2; exit 1; }
say() { echo "dist-check: $*"; }
# status WANTED COMMAND...: runs it, and fails if it ends otherwise.
status() {
	wanted=$1
	shift
	got=0
	"$@" >"$work/said" 2>"$work/faults" || got=$?
	[ $got = "$wanted" ] || fail "$*: exit status $got, want $wanted" "$(tail -5 "$work/said" "$work/faults")"
}
same() { cmp "$1" "$2" || fail "$3"; }
is_png() { head -c 8 "$1" | od -An -tx1 | grep -q '89 50 4e 47 0d 0a 1a 0a' || fail "$1 is no PNG"; }

repo=$PWD
work=$(mktemp -d)
server=
leave() {
	[ -z "$server" ] || kill "$server" 2>/dev/null || true
	[ ! -d "$work/wine" ] || WINEPREFIX=$work/wine wineserver -k 2>/dev/null || true
	rm -rf "$work" 2>/dev/null || sudo rm -rf "$work" # what root has installed
}
trap leave EXIT
trap 'exit 1' HUP INT TERM

one() {
	# shellcheck disable=SC2086 # a pattern
	set -- "$repo"/dist/$1
	[ -e "$1" ] || fail "dist/ lacks ${1##*/}: make dist makes it"
	echo "$1"
}
tarball=$(one 'earline-*-linux-amd64.tar.gz')
deb=$(one 'earline_*_amd64.deb')
zip=$(one 'earline-*-windows-amd64.zip')
version=${tarball##*/earline-}
version=${version%-linux-amd64.tar.gz}

# links FOLDER: every file that README.md and the manual name is there.
links() {
	for page in "$1"/README.md "$1"/assets/manual/*.md; do
		grep -o '](\([^)#:]*\))' "$page" | sed 's/](\(.*\))/\1/' | while read -r link; do
			[ -e "$(dirname "$page")/$link" ] || fail "$page names $link, which is not there"
		done
	done
}
# papers FOLDER: what each archive has beside the program.
papers() {
	for file in README.md INSTALL.txt LICENSE LICENCES.txt CHANGELOG.md; do
		[ -s "$1/$file" ] || fail "$1 lacks $file"
	done
	links "$1"
}

say "Linux archive"
mkdir "$work/linux" "$work/home" "$work/Kino für 部屋"
tar -C "$work/linux" -xzf "$tarball"
linux=$work/linux/earline-$version-linux-amd64
papers "$linux"
cd "$work/Kino für 部屋"
run() { env -i HOME="$work/home" PATH=/usr/bin:/bin LC_ALL="$LC_ALL" "$linux/bin/earline" "$@"; }
[ "$(run --version)" = "earline version $version" ] || fail "it says: $(run --version)"
status 0 run demo small -o Größe.earline
status 1 run audit demo:large
status 1 run audit --json demo:large
mv "$work/said" large.json
status 2 run audit nowhere.earline
status 0 run render Größe.earline -o Größe.png --size 320x200
is_png Größe.png
! ldd "$linux/bin/earline" | grep 'not found' || fail "libraries are missing"
MANWIDTH=80 man -l "$linux/share/man/man1/earline.1.gz" 2>"$work/faults" | grep -q 'earline audit' || fail "the manual page lacks the verbs"
[ ! -s "$work/faults" ] || fail "$(cat "$work/faults")"

say "desktop"
XDG_DATA_DIRS=$linux/share update-mime-database "$linux/share/mime"
grep -q '^[0-9]*:application/x-earline:\*\.earline$' "$linux/share/mime/globs2" || fail "*.earline is no type of its own"
desktop-file-validate "$linux"/share/applications/*.desktop
update-desktop-database "$linux/share/applications"
grep -q '^application/x-earline=io.earline.planner.desktop;$' "$linux/share/applications/mimeinfo.cache" || fail "no program opens *.earline"
for size in 16 22 24 32 48 64 128 256 512; do
	icon=$linux/share/icons/hicolor/${size}x$size/apps/io.earline.planner.png
	is_png "$icon"
	[ "$(od -An -j16 -N8 -tu1 "$icon" | awk '{print $3*256+$4, $7*256+$8}')" = "$size $size" ] || fail "$icon has another size"
done

say "Debian package"
mkdir "$work/debian"
dpkg-deb -x "$deb" "$work/debian"
same "$linux/bin/earline" "$work/debian/usr/bin/earline" "the package has another program than the archive"
[ -s "$work/debian/usr/share/doc/earline/copyright" ] || fail "the package lacks its licences"
wrong=$(dpkg-deb -c "$deb" | awk '$2 != "root/root" || $1 !~ /^(drwxr-xr-x|-rw-r--r--|-rwxr-xr-x)$/') || true
[ -z "$wrong" ] || fail "owners or modes:" "$wrong"
depends=$(dpkg-deb -f "$deb" Depends)
# What the program is linked with must come with what the package depends on.
objdump -p "$linux/bin/earline" | awk '/NEEDED/ {print $2}' | while read -r library; do
	owner=$(dpkg -S "*/$library" | sed -n '1s/:.*//p')
	case ", $depends," in
	*", $owner,"* | *", $owner ("*) ;;
	*) fail "$library is of $owner, on which the package does not depend" ;;
	esac
done
newest=$(objdump -T "$linux/bin/earline" | grep -o 'GLIBC_[0-9.]*' | sort -uV | tail -1)
stated=$(echo "$depends" | sed -n 's/.*libc6 (>= \([0-9.]*\)).*/\1/p')
dpkg --compare-versions "${newest#GLIBC_}" le "$stated" || fail "the program needs $newest, the package says $stated"
# A root of its own, in which nothing is installed yet.
mkdir -p "$work/installed" "$work/admin/info" "$work/admin/updates" "$work/admin/triggers"
touch "$work/admin/status" "$work/admin/available"
sudo=
[ "$(id -u)" = 0 ] || sudo=sudo
$sudo dpkg --force-depends --force-script-chrootless --admindir="$work/admin" --instdir="$work/installed" -i "$deb" >"$work/said" 2>&1 ||
	fail "$(cat "$work/said")"
[ "$("$work/installed/usr/bin/earline" --version)" = "earline version $version" ] || fail "the installed program says otherwise"
lintian --fail-on error,warning "$deb" 2>"$work/faults" || fail "$(cat "$work/faults")" # which advises against root

say "Windows archive"
unzip -q "$zip" -d "$work/windows"
windows=$work/windows/earline-$version-windows-amd64
papers "$windows"
for program in Earline.exe bin/earline.exe; do
	objdump -p "$windows/$program" | awk '/DLL Name/ {print tolower($3)}' | while read -r dll; do
		case $dll in
		kernel32.dll | user32.dll | gdi32.dll | shell32.dll | opengl32.dll | msvcrt.dll | advapi32.dll | ole32.dll | winmm.dll) ;;
		*) fail "$program needs $dll, which is no part of Windows" ;;
		esac
	done
done
objdump -p "$windows/Earline.exe" | grep -q 'Subsystem.*(Windows GUI)' || fail "Earline.exe opens a black window"
objdump -p "$windows/bin/earline.exe" | grep -q 'Subsystem.*(Windows CUI)' || fail "earline.exe cannot print"

say "Windows, under Wine"
export WINEPREFIX="$work/wine" WINEDEBUG=-all WINEDLLOVERRIDES=mscoree,mshtml=
display=99
while [ -e "/tmp/.X11-unix/X$display" ]; do display=$((display + 1)); done
Xvfb ":$display" -screen 0 1280x800x24 >/dev/null 2>&1 &
server=$!
export DISPLAY=":$display"
wineboot -i >/dev/null 2>&1
wineserver -w
# Wine 8 lacks a library of Windows that Go takes random numbers from.
library=$WINEPREFIX/drive_c/windows/system32/bcryptprimitives.dll
if [ ! -e "$library" ]; then
	cat >"$work/random.c" <<'END'
#include <windows.h>
BOOLEAN NTAPI SystemFunction036(PVOID, ULONG);
__declspec(dllexport) BOOL WINAPI ProcessPrng(PBYTE to, SIZE_T n) { return SystemFunction036(to, n); }
END
	x86_64-w64-mingw32-gcc -shared -o "$library" "$work/random.c" -ladvapi32
fi
mkdir "$work/Räume 部屋"
cd "$work/Räume 部屋"
win() { wine "$windows/bin/earline.exe" "$@"; }
status 0 win --version
grep -q "^earline version $version" "$work/said" || fail "it says: $(cat "$work/said")"
status 0 win demo small -o Größe部.earline
same Größe部.earline "$work/Kino für 部屋/Größe.earline" "the demo differs from that on Linux"
status 1 win audit demo:large
cp "$work/said" large.txt
status 1 run audit demo:large
same "$work/said" large.txt "the audit differs from that on Linux"
status 1 win audit --json demo:large
same "$work/said" "$work/Kino für 部屋/large.json" "the audit as JSON differs from that on Linux"
status 2 win audit nirgends.earline
grep -q '^earline: .*nirgends.earline' "$work/faults" || fail "it says: $(cat "$work/faults")"
status 2 win audit --colour demo:large
status 0 win render Größe部.earline -o Größe部.png --size 320x200
is_png Größe部.png

# Two windows on one room: each keeps unsaved work in a folder of its own, and says which
# room it shows.
shows() {
	tries=0
	until grep -q 'Größe部.earline' "$WINEPREFIX"/drive_c/users/*/AppData/Roaming/earline/recovery/"$1" 2>/dev/null; do
		tries=$((tries + 1))
		[ $tries -le 120 ] || fail "the window of $1 never came" "$(cat "$work/faults")"
		sleep 1
	done
}
wine "$windows/Earline.exe" Größe部.earline >"$work/said" 2>"$work/faults" &
shows shown
wine "$windows/Earline.exe" Größe部.earline >"$work/said" 2>"$work/faults" &
shows 2/shown
wineserver -k
say "all right: ${tarball##*/}, ${deb##*/}, ${zip##*/}"
