# shellcheck shell=bash disable=SC2034,SC2154,SC2164
# Sourced by ./run and ./test: where things are, and steps that are timed and counted.
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$root"
jobs=$(nproc)

# Without these two a fresh clone in another folder finds nothing in the compiler cache.
export CCACHE_BASEDIR=$root CCACHE_NOHASHDIR=1 CCACHE_SLOPPINESS=pch_defines,time_macros

passed=0
failed=0
summary=()
logs=build/logs

# count_tests LOG: adds the tests that ctest, Vitest, Playwright and unittest report in it to the totals.
count_tests() {
  local counts
  counts=$(sed 's/\x1b\[[0-9;]*m//g' "$1" | awk '
    /tests passed, [0-9]+ tests failed out of [0-9]+/ { n = $(NF); f = $(NF-4); for (i = 1; i <= NF; i++) if ($i == "tests" && $(i+1) == "failed") f = $(i-1); p += n - f; bad += f }
    /^ *Tests  .*\([0-9]+\)$/ { for (i = 1; i <= NF; i++) { if ($i == "passed") p += $(i-1); if ($i == "failed") bad += $(i-1) } }
    /^ +[0-9]+ passed( \(.*\))?$/ { p += $1 }
    /^ +[0-9]+ failed$/ { bad += $1 }
    /^Ran [0-9]+ tests? in / { ran = $2 }
    /^OK$/ { p += ran }
    /^FAILED \(/ { gsub(/[^0-9]+/, " "); for (i = 1; i <= NF; i++) f2 += $i; p += ran - f2; bad += f2 }
    END { print p + 0, bad + 0 }')
  passed=$((passed + ${counts% *}))
  failed=$((failed + ${counts#* }))
}

# step NAME COMMAND...: runs it with its output in a log, shows the log's end when it fails, and goes on.
step() {
  local name=$1 began=$SECONDS log verdict=ok
  shift
  mkdir -p "$logs"
  log=$logs/${name// /_}.log
  printf '%-28s ' "$name"
  if "$@" >"$log" 2>&1 </dev/null; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    verdict=FAILED
  fi
  count_tests "$log"
  printf '%-7s %5d s\n' "$verdict" $((SECONDS - began))
  summary+=("$(printf '%-28s %-7s %5d s' "$name" "$verdict" $((SECONDS - began)))")
  [ "$verdict" = ok ] || { tail -n 60 "$log" | sed 's/^/    /'; echo "    whole log: $log"; return 1; }
}

# finish: the table again, then the one line that counts.
finish() {
  printf '\n%s\n' "${summary[@]}"
  printf 'total %s s\n%d passed, %d failed\n' "$SECONDS" "$passed" "$failed"
  [ "$failed" -eq 0 ]
}
