#!/usr/bin/env bash
# Installs what the library is measured against, where it is missing, and
# measures all in one run. Debian's packages: libslvs1-dev, gcc, python3-scipy.
set -euo pipefail
cd "$(dirname "$0")/.."
for package in gcc libslvs1-dev python3-scipy; do
	dpkg -s "$package" >/dev/null 2>&1 && continue
	echo "installing $package"
	apt-get update -qq && apt-get install -y -qq "$package" >/dev/null
done
go run ./peers "$@"
