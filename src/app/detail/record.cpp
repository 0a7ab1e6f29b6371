#include "app/detail/record.h"

#include "app/detail/barred.h"
#include "app/detail/names.h"

namespace stillroom::app::detail {

ledger::Entry entry_now(House& h, Instant now, ledger::Payload what) {
  return {.id = h.random.id(), .happened = now, .who = h.who, .live = true, .what = std::move(what)};
}

Result<std::string> record(House& h, Instant now, ledger::Payload what, std::string made) {
  const ledger::Entry entry = entry_now(h, now, std::move(what));
  if (auto refusal = barred(h, now, entry)) return tl::unexpected(std::move(*refusal));
  const auto appended = h.ledger.append(entry, now);
  if (appended) return made;
  measure::Refusal no = appended.error();
  no.message = with_crop_names(h.almanac, no.message);
  return tl::unexpected(std::move(no));
}

}  // namespace stillroom::app::detail
