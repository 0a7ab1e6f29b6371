#!/usr/bin/env bash
# tools/setup.sh run|test: installs what is missing of tools/packages.txt, and Node.js if there is none. Does nothing,
# and asks nothing, when all is there.
set -euo pipefail
cd "$(dirname "$0")/.."

wanted() { awk -v test="$1" '/^#/ { next } $1 == "run" || test == "test" { print $2 }' tools/packages.txt; }

missing() {
  local package
  for package in $(wanted "$1"); do
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || echo "$package"
  done
  if ! command -v node >/dev/null; then echo nodejs; fi
  if ! command -v npm >/dev/null; then echo npm; fi
}

if ! command -v dpkg-query >/dev/null; then
  echo "This is not a Debian system: install the counterparts of tools/packages.txt yourself, then run ./run again." >&2
  exit 1
fi
packages=$(missing "${1:-run}")
if [ -n "$packages" ]; then
  echo "Installing: ${packages//$'\n'/ }"
  as_root=()
  [ "$(id -u)" -eq 0 ] || as_root=(sudo)
  apt=("${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -y -q -o Acquire::Retries=3)
  "${apt[@]}" update </dev/null
  # shellcheck disable=SC2086  # one word a package
  "${apt[@]}" install --no-install-recommends $packages </dev/null
fi
