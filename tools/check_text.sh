#!/usr/bin/env bash
# House rules that a text search can hold: no machine paths, registry hosts or unfinished work in what is kept, no
# namespace opened for a whole file. Prints each offending line.
set -euo pipefail
cd "$(dirname "$0")/.."
bad=0

# forbid RULE PATTERN PATHS...: PATTERN (extended) must not occur. Patterns are written so that they do not
# find themselves.
forbid() {
  local rule=$1 pattern=$2 found
  shift 2
  found=$(git grep --untracked -nIE -e "$pattern" -- "$@" || true)
  [ -n "$found" ] || return 0
  printf '%s:\n%s\n' "$rule" "$(head -n 20 <<<"$found" | cut -c1-200)"
  bad=1
}

forbid "a source that only its writer may name" '[Tt][r]anscript|[Ss][e]ed doc|[Ss][u]bagent|[Hh][e]lper agent' .
forbid "a path of one machine" '(^|[^a-z0-9_.])/(w[o]rk|r[o]ot|h[o]me/[a-z]+)/' .
forbid "a package registry's host" 'registry\.n[p]mjs|deb\.deb[i]an\.org|p[y]pi\.org|proxy\.gol[a]ng' .
forbid "unfinished work" '\b(TO[D]O|FIX[M]E|XX[X]|HA[C]K)\b' src tests web/src tools fuzz bench cmake
forbid "a namespace opened for a whole file" '^us[i]ng namespace' 'src/*'
forbid "a test switched off" '\bDISABLED[_]|\b(it|test|describe)\.sk[i]p\(|^#if [0]$' tests web/src web/tests src

[ "$bad" -eq 0 ] && echo "no line breaks a rule"
exit "$bad"
