#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "almanac/almanac.h"
#include "kitchen/batch.h"

/// What may be put into whose hands: pure, from a person's age and skills and from what the work can hurt. Age floors
/// are those of the routes (almanac::age_floor) and of the card; nothing here lowers one.
namespace stillroom::kitchen {

/// Whoever is to help.
struct Helper {
  int age = 0;  ///< years
  std::vector<std::string> skills;
  bool needs_minding = false;  ///< a small child: does nothing without somebody beside
};

/// A piece of work as far as it matters who does it.
struct HelpJob {
  int least_age = 0;                 ///< years
  std::vector<std::string> dangers;  ///< "heat","pressure","blade","lye"
  std::string skill;                 ///< "pressure_canning","butchering" or empty
  bool cautioned = false;            ///< a caution is said before it
  bool heat_process = false;         ///< the step whose clock is that of a heat process
  double carries_kg = 0;             ///< heaviest thing carried in one go, kg
};

/// Youngest age that a step with a caution is handed to without its own floor naming one: 10 years, as for a blade
/// (common practice).
inline constexpr int kCautionAge = 10;

/// Youngest age, in years, for carrying `kg` at once: 2 kg from 5, 5 kg from 8, 10 kg from 12, 20 kg from 16, more from
/// 18 (from memory of school-bag and workplace guides, kept below both).
[[nodiscard]] int carrying_age(double kg);
/// Youngest age for the job, all floors together, in years.
[[nodiscard]] int least_age_for(const HelpJob& job);
/// Whether the job may be shown to this person as theirs.
[[nodiscard]] bool suits(const Helper& helper, const HelpJob& job);

/// The step of a card as a job. `route` is the one it was made from, or null when the almanac no longer has it: then
/// the card's own floor, its caution and its process speak alone.
[[nodiscard]] HelpJob job_of(const Step& step, const almanac::Route* route);

}  // namespace stillroom::kitchen
