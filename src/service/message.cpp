#include "service/message.h"

#include <algorithm>
#include <array>

#include "app/json.h"

namespace stillroom::service {

int status_of(std::string_view code) {
  if (code == "not_paired") return 401;
  if (code == "forbidden" || code == "not_from_here" || code == "wrong_passphrase" || code == "wrong_code" ||
      code == "not_over_plain")
    return 403;
  if (code == "too_many_tries") return 429;
  if (code == "not_json") return 415;
  if (code == "busy") return 503;
  if (code.starts_with("bad_") || code == "wrong_use") return 400;
  if (code.starts_with("unknown_") || code == "no_such_path" || code == "not_a_lot" || code == "not_found") return 404;
  // The household has moved on: asking again after a fresh look may succeed.
  static constexpr std::array<std::string_view, 7> kConflicts = {
      "more_than_there", "more_packs_than_made", "already_undone", "later_undo_stands",
      "not_there",       "already_finished",     "not_empty"};
  return std::find(kConflicts.begin(), kConflicts.end(), code) != kConflicts.end() ? 409 : 422;
}

Reply refusal(const measure::Refusal& r) { return {status_of(r.code), app::to_json(r), {}}; }

}  // namespace stillroom::service
