#pragma once

#include <cstdlib>

namespace stillroom::test {

/// True under `./test long` (STILLROOM_LONG): more cases of everything that is tried at random.
inline bool thorough() { return std::getenv("STILLROOM_LONG") != nullptr; }

}  // namespace stillroom::test
