#pragma once

#include "keeping/keeping.h"

namespace stillroom::keeping {

struct Book {
  almanac::Crops crops = almanac::load_crops().value();
  almanac::Tables tables = almanac::load_tables(crops).value();
};
inline const Book& book() {
  static const Book all;
  return all;
}

inline KeepingModel model(std::string_view crop) { return model_for(book().crops, book().tables, crop).value(); }

/// Every crop that has a keeping model.
inline std::vector<KeepingModel> all_models() {
  std::vector<KeepingModel> out;
  for (const auto& c : book().crops.all()) {
    if (auto m = model_for(book().crops, book().tables, c.key)) out.push_back(std::move(*m));
  }
  return out;
}

inline measure::Temperature celsius(double c) { return measure::Temperature::celsius(c); }

/// Days at one temperature until the usable share falls to `share`, from the condition seen at bring-in.
inline double days_to(const KeepingModel& m, double share, double temp_c,
                      almanac::Condition seen = almanac::Condition::firm) {
  return days_left(m, at_bring_in(m, seen), celsius(temp_c), share).likely;
}

}  // namespace stillroom::keeping
