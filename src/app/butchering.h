#pragma once

#include <string>
#include <vector>

#include "app/app.h"

/// A butchering day: from a count and a weight to what must be cold by when, packs, broth and freezing load.
namespace stillroom::app {

struct ButcheringAsk {
  std::string line;    ///< "20 ducks, 4 lb 8 oz each"; "live" or "dressed" may stand in it, dressed is meant otherwise
  std::string killed;  ///< "08:30" (the last time it was that), "2026-09-14T08:30" in the family's zone, or empty: now
  std::string place;   ///< where they go to get cold; empty = the fridge
  int whole = 0;       ///< so many stay whole
  bool more = false;   ///< others of what stands alive are left for another day
};

/// One thing to know or do. `source` empty for what follows from the household itself.
struct ButcheringLine {
  std::string
      key;  ///< "dressed","cold_by","rest","use_by","whole","parts","packs","giblets","bones","broth","freezing"
  std::string what, amount, then, source;
};
struct ButcheringView {
  std::string crop, words;
  int count = 0, whole = 0;
  double each_kg = 0, dressed_kg = 0;
  std::string clock;           ///< hazard clock of the carcasses
  std::string killed, use_by;  ///< local
  std::string standing;        ///< the row of what stands alive that they come from; empty = none is written down
  double freeze_kg = 0, freeze_days = 0;
  bool too_much_to_freeze = false;  ///< the freezer takes longer than the clock leaves
  std::vector<ButcheringLine> lines;
  std::vector<std::string> cautions;
};

/// What the day comes to; writes nothing. Refuses what is no count of birds or rabbits with a weight (code
/// "bad_birds"), more whole than there are ("too_many_whole"), and what read_bring_in refuses of crop and place.
[[nodiscard]] Result<ButcheringView> butchering_day(const House& h, Instant now, const ButcheringAsk& ask);
/// What brings them in as lots on their clock: those to part, those that stay whole, and the giblets. Where such stand
/// alive in the book, they come from there, and unless `more` are left none stand any more. Between killing and now
/// they lay in the kitchen's warmth. Writes nothing: a page sends them through its outbox.
[[nodiscard]] Result<std::vector<ledger::Entry>> butchering_entries(House& h, Instant now, const ButcheringAsk& ask);
/// Writes those entries down, all or none. The answer is the id of the first lot.
[[nodiscard]] Result<std::string> bring_in_butchered(House& h, Instant now, const ButcheringAsk& ask);
[[nodiscard]] std::string to_json(const ButcheringView& v);

}  // namespace stillroom::app
