#include <cstddef>
#include <cstdint>
#include <string_view>

#include "check.h"
#include "ledger/entry.h"

// An entry that is accepted is written and read back without change: what reaches the household's file can be refolded.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace stillroom::ledger;
  const auto entry = entry_from_json(std::string_view(reinterpret_cast<const char*>(data), size));
  if (!entry) return 0;
  const auto again = entry_from_json(to_json(*entry));
  FUZZ_CHECK(again.has_value());
  FUZZ_CHECK(to_json(*again) == to_json(*entry));
  FUZZ_CHECK(!kind_of(entry->what).empty());
  return 0;
}
