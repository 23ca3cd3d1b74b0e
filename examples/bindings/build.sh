#!/usr/bin/env bash
# Builds the library for other languages into a directory:
#
#	examples/bindings/build.sh DIR
#
#	DIR/javascript      the package for JavaScript, with the WebAssembly module; npm pack makes a file of it
#	DIR/libwheelrate.so the C library, for the machine that this runs on; .dylib and .dll elsewhere
#	DIR/wheelrate.h     its header
#	DIR/licences.txt    of all that is in both, as a copy in DIR/javascript
#	DIR/wheelrate.py    the module for Python, which wants the library alone
#
# Both are built by Go; the C library needs a C compiler besides.
set -euo pipefail
[ $# -eq 1 ] || { echo "usage: build.sh DIR" >&2 && exit 2; }
mkdir -p "$1/javascript"
out=$(cd "$1" && pwd)
cd "$(dirname "$0")"

flags=(-trimpath -buildvcs=false -ldflags='-s -w' -buildmode=c-shared)
cp javascript/* ../../LICENSE "$out/javascript"
CGO_ENABLED=0 GOOS=wasip1 GOARCH=wasm go build "${flags[@]}" -o "$out/javascript/wheelrate.wasm" ./wasm

case $(go env GOOS) in
darwin) library=libwheelrate.dylib ;;
windows) library=wheelrate.dll ;;
*) library=libwheelrate.so ;;
esac
CGO_ENABLED=1 go build "${flags[@]}" -o "$out/$library" ./c
rm -f "$out/${library%.*}.h" # by cgo; wheelrate.h has the same functions and no types of Go
cp c/wheelrate.h python/wheelrate.py "$out"
go run ./licences ./c >"$out/licences.txt"
cp "$out/licences.txt" "$out/javascript"
