# shellcheck shell=bash disable=SC2034,SC2154,SC2164
# Sourced by ./test: what its steps do.

# our_files GLOB...: files under version control, or new and not ignored.
our_files() { git ls-files --cached --others --exclude-standard -- "$@"; }

check_format() {
  our_files 'src/*.cpp' 'src/*.h' 'tests/*.cpp' 'tests/*.h' 'bench/*.cpp' 'fuzz/*.cpp' |
    xargs -r -P "$jobs" -n 20 clang-format-16 --dry-run -Werror
}

build_all() { cmake --preset "$1" && ninja -C "build/$1" -j "$jobs"; }

# build_tests PRESET LABEL...: only the test programs with these labels.
build_tests() {
  local preset=$1 label targets=()
  shift
  cmake --preset "$preset"
  for label in "$@"; do
    if has_target "$preset" "tests_$label"; then targets+=("tests_$label"); fi
  done
  ninja -C "build/$preset" -j "$jobs" "${targets[@]}"
}

has_target() { ninja -C "build/$1" -t query "$2" >/dev/null 2>&1; }
has_label() { grep -rqE "LABEL +$1\b" --include=CMakeLists.txt tests; }

# run_tests PRESET CTEST_ARGUMENTS...
run_tests() {
  local preset=$1
  shift
  # Short stacks of allocations: programs that read the whole almanac start half again as quickly. Looking for locals
  # used after their function has returned takes as long again as everything else: `./test long` does.
  ASAN_OPTIONS=detect_stack_use_after_return=${STILLROOM_LONG:-0}:malloc_context_size=6 UBSAN_OPTIONS=print_stacktrace=1 \
    ctest --test-dir "build/$preset" -j "$jobs" --output-on-failure --no-tests=error "$@"
}

# ended PROCESS LOG: waits for what was started beside the steps, and shows its log.
ended() {
  local verdict=0
  wait "$1" || verdict=$?
  cat "$2"
  return "$verdict"
}

# browser_tests PRESET: the pages in a real browser.
browser_tests() { STILLROOM_BINARY=$root/build/$1/src/cli/stillroom tools/web.sh browser; }

build_fuzzers() {
  cmake -S . -B build/fuzz -G Ninja -DSTILLROOM_FUZZ=ON -DCMAKE_BUILD_TYPE=Debug \
    -DCMAKE_C_COMPILER=clang-16 -DCMAKE_CXX_COMPILER=clang++-16 \
    -DCMAKE_C_COMPILER_LAUNCHER=ccache -DCMAKE_CXX_COMPILER_LAUNCHER=ccache
  ninja -C build/fuzz -j "$jobs" fuzzers
}

# run_fuzzer PROGRAM: one minute from the seeds in fuzz/seeds; what it learned is kept in build/fuzz/corpus. Entries
# start from those that older programs stored.
run_fuzzer() {
  local name=${1##*/} corpus seeds
  corpus=build/fuzz/corpus/${name%_fuzz}
  seeds=fuzz/seeds/${name%_fuzz}
  mkdir -p "$corpus" build/fuzz/found
  if [ "$name" = entry_fuzz ]; then cat tests/ledger/older/*.ndjson | split -l 1 - "$corpus/older_"; fi
  if [ -d "$seeds" ]; then cp "$seeds"/* "$corpus/"; fi
  "$1" -max_total_time=60 -max_len=4096 -rss_limit_mb=2048 -artifact_prefix="build/fuzz/found/$name-" "$corpus"
}
