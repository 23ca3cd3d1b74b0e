#!/usr/bin/env bash
# Builds the library for other languages and holds it to its word:
#
#	the whole dataset through WebAssembly in Node, and through the C library
#	in Python, each ending with "N passed, N failed"
#	the package for JavaScript packed and installed elsewhere, its types, a program
#	a program in Python and one in C
#	the cost of a call, as a ratio to the call in Go
#
# It needs Go, a C compiler, Node 18 or later with npm and tsc, and Python 3, and ends
# with status 1 at the first of these that fails.
set -euo pipefail
cd "$(dirname "$0")/.." # the directory examples
export PYTHONDONTWRITEBYTECODE=1

for program in go cc node npm tsc python3; do
	command -v "$program" >/dev/null || { echo "run.sh: $program is missing" >&2 && exit 1; }
done

work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bindings/build.sh "$work/out"
go build -o "$work/conformance" ./conformance
node="node bindings/check/partner.mjs $work/out/javascript"
python="python3 bindings/check/partner.py $work/out"

# judged NAME COMMAND: every case of the dataset is attempted, and passes.
judged() {
	local status=0
	"$work/conformance" -with "$2" >"$work/judged" || status=$?
	[ $status -eq 0 ] || grep -v '^ok ' "$work/judged" || true
	printf '%s: %s\n' "$1" "$(tail -n 1 "$work/judged")"
	[ $status -eq 0 ] || return 1
	if grep -q 'not attempted' <(tail -n 1 "$work/judged"); then
		echo "$1: some cases are not attempted"
		return 1
	fi
}
judged 'WebAssembly in Node' "$node"
judged 'C library in Python' "$python"

# The package has these files and no others, and works where nothing else is.
cat >"$work/expected" <<-end
	LICENSE
	README.md
	browser.js
	licences.txt
	node.js
	package.json
	types.d.ts
	wasi.js
	wheelrate.d.ts
	wheelrate.js
	wheelrate.wasm
end
mkdir "$work/empty"
(cd "$work/out/javascript" && npm pack --silent --pack-destination "$work/empty" >/dev/null)
archive=$(echo "$work"/empty/wheelrate-*.tgz)
tar -tzf "$archive" | sed 's#^package/##' | LC_ALL=C sort | diff "$work/expected" - || { echo "the package has other files" && exit 1; }
(cd "$work/empty" && npm install --silent --offline --no-audit --no-fund --no-save "$archive")
cp bindings/check/consumer.mts "$work/empty"
node bindings/check/typed.mjs "$work/out/javascript" ../refdata/data/cases setup/demo/*.json webpage/demo/*.json ../sag/visit/testdata/records/*.json >"$work/empty/typed.mts"
# The package is for any host, and Node's own types would be another package.
cat >"$work/empty/node.d.ts" <<-end
	declare module 'node:fs' { export function readFileSync(file: string, coding: 'utf8'): string; }
	declare const process: { argv: string[] };
end
(cd "$work/empty" && tsc --strict --target es2022 --lib es2022,dom --module nodenext --moduleResolution nodenext consumer.mts typed.mts node.d.ts)
printf 'package for JavaScript: '
node "$work/empty/consumer.mjs" setup/demo/job.json

printf 'module for Python: '
python3 bindings/check/consumer.py "$work/out" setup/demo/job.json

cc -std=c11 -Wall -Wextra -Werror -o "$work/example" bindings/c/example/main.c -I"$work/out" -L"$work/out" -lwheelrate -pthread
LD_LIBRARY_PATH=$work/out DYLD_LIBRARY_PATH=$work/out "$work/example" >"$work/said" || { cat "$work/said" && exit 1; }
echo "example in C: $(wc -l <"$work/said") replies as expected"

go run ./bindings/cost "WebAssembly in Node=$node" "C library in Python=$python"
