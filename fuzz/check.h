#pragma once

/// Stops the fuzzer when something that must hold does not; unlike assert, in every build.
#define FUZZ_CHECK(condition)           \
  do {                                  \
    if (!(condition)) __builtin_trap(); \
  } while (false)
