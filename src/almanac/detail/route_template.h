#pragma once

#include <memory>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "almanac/detail/route_labour.h"
#include "almanac/detail/route_words.h"
#include "almanac/routes.h"

namespace stillroom::almanac::detail {

/// One method of data/routes/methods, parsed; filled once for every row of its table. docs/routes.md lists its keys.
class RouteTemplate {
 public:
  /// Refuses (code "bad_route") text that is no TOML and keys it does not know, naming file, key and line.
  [[nodiscard]] static measure::Result<RouteTemplate> parse(std::string file, std::string_view toml);
  RouteTemplate(RouteTemplate&&) noexcept;
  RouteTemplate& operator=(RouteTemplate&&) noexcept;
  ~RouteTemplate();

  /// Columns that its texts and formulas name.
  [[nodiscard]] const std::set<std::string>& columns_used() const;
  /// The route for one row: stages, numbers, process query, source. `prep` are keys of labour.csv put where the
  /// template says `prep = true`. `words` holds the row; what [define] adds stays inside. Nothing is checked against
  /// the rules of the trade here: detail/route_check.h does.
  [[nodiscard]] measure::Result<Route> build(const RouteWords& words, const std::vector<std::string>& prep,
                                             const Labour& labour) const;

 private:
  struct Parsed;
  explicit RouteTemplate(std::unique_ptr<Parsed> parsed);
  std::unique_ptr<Parsed> parsed_;
};

}  // namespace stillroom::almanac::detail
