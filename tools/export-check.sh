#!/bin/sh
# SPDX-License-Identifier: MIT
#
# tools/export-check.sh [FOLDER]
#
# Writes the test sheets as DXF and PDF, and has a drawing program open them: it must
# make a page of each that is not blank. Writes the demo rooms as glTF and has the
# Khronos validator find neither error nor warning, where node and npm are there. The
# pages stay in FOLDER, bin/exports if none is named, to be looked at.
set -eu
cd "$(dirname "$0")/.."
root=$(pwd)
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
if command -v npm >/dev/null; then
	npm install --silent --no-save --prefix "$profile" gltf-validator@2.0.0-dev.3.10 >/dev/null
	cat >"$profile/validate.mjs" <<-'EOF'
		import validator from 'gltf-validator';
		import { readFileSync } from 'fs';
		let bad = 0;
		for (const f of process.argv.slice(2)) {
			const { issues } = await validator.validateBytes(new Uint8Array(readFileSync(f)));
			console.log(f.split('/').pop() + ': ' + issues.numErrors + ' errors, ' + issues.numWarnings + ' warnings');
			bad += issues.numErrors + issues.numWarnings;
			if (bad) console.log(JSON.stringify(issues.messages.slice(0, 5)));
		}
		process.exit(bad ? 1 : 0);
	EOF
	for demo in small two-row large; do
		"$root/bin/earline" export "demo:$demo" --people -o "$demo.glb"
	done
	node "$profile/validate.mjs" "$out"/*.glb
else
	echo "no npm here: the glTF files are not validated"
fi
for f in *.pdf; do
	pdftoppm -r 90 -png "$f" "${f%.pdf}"
done
echo "The pages are in $out"
