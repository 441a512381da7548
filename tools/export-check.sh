#!/bin/sh
# SPDX-License-Identifier: MIT
#
# tools/export-check.sh [FOLDER]
#
# Writes the test sheets as DXF and PDF, and has a drawing program open them: it must
# make a page of each that is not blank. The pages stay in FOLDER, bin/exports if none
# is named, to be looked at.
set -eu
cd "$(dirname "$0")/.."
out=${1:-bin/exports}
mkdir -p "$out"
out=$(cd "$out" && pwd)
rm -f "$out"/*

EARLINE_EXPORTS="$out" go test -count=1 -run '^TestKeptForAProgram$' ./scene/drawing/dxf ./scene/drawing/pdf >/dev/null

# A profile of its own, so that an office that is running does not take the files over.
profile=$(mktemp -d)
trap 'rm -rf "$profile"' EXIT
cd "$out"
for f in *.dxf; do
	soffice "-env:UserInstallation=file://$profile" --headless --convert-to pdf "$f" >/dev/null 2>&1 || true
	page=${f%.dxf}.pdf
	[ -s "$page" ] || { echo "$f: the drawing program could not open it" >&2; exit 1; }
	mv "$page" "opened-$page"
	pdftotext "opened-$page" - | grep -q '1:50' || { echo "$f: opened without the name of its view" >&2; exit 1; }
	echo "$f: opened"
done
for f in *.pdf; do
	pdftoppm -r 90 -png "$f" "${f%.pdf}"
done
echo "The pages are in $out"
