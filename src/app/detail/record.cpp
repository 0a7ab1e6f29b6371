#include "app/detail/record.h"

namespace stillroom::app::detail {

ledger::Entry entry_now(House& h, Instant now, ledger::Payload what) {
  return {.id = h.random.id(), .happened = now, .who = h.who, .live = true, .what = std::move(what)};
}

Result<std::string> record(House& h, Instant now, ledger::Payload what, std::string made) {
  const auto appended = h.ledger.append(entry_now(h, now, std::move(what)), now);
  if (!appended) return tl::unexpected(appended.error());
  return made;
}

}  // namespace stillroom::app::detail
