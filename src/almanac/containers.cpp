#include <fmt/format.h>

#include <algorithm>

#include "almanac/tables.h"

namespace stillroom::almanac {

namespace {

/// Lower case, '_' and '-' as blanks: "Five-gallon_bucket" is "five gallon bucket".
std::string container_fold(std::string_view typed) {
  std::string out;
  for (const char ch : typed) {
    const char c = ch >= 'A' && ch <= 'Z' ? static_cast<char>(ch - 'A' + 'a') : ch;
    out += c == '_' || c == '-' ? ' ' : c;
  }
  return out;
}

bool container_is_called(const Container& c, const std::string& folded) {
  return container_fold(c.key) == folded || container_fold(c.name) == folded ||
         std::ranges::any_of(c.aliases, [&](const auto& a) { return container_fold(a) == folded; });
}

/// How far a heaped or loose filling strays from the bulk density; common practice.
constexpr double kDensitySpread = 0.2;

/// Where two publications weigh the same container the one more surely known answers.
const ContainerWeight* surest_weight(const Found<ContainerWeight>& found, const std::string& container) {
  const ContainerWeight* best = nullptr;
  for (const auto* row : found.rows) {
    if (row->container == container && (best == nullptr || row->from.checked < best->from.checked)) best = row;
  }
  return best;
}

/// The published weight in exactly this container, of the crop or a kin of it.
std::optional<ContainerMass> published_container_mass(const Tables& tables, const Crops& crops,
                                                      const std::string& container, std::string_view crop) {
  for (const auto& k : kin_of(crops, crop)) {
    Found<ContainerWeight> found{.rows = {}, .crop = k.key, .kin = k.kin, .from = from_words(crops, crop, k)};
    for (const auto& row : tables.yields.container_weights) {
      if (row.crop == k.key) found.rows.push_back(&row);
    }
    if (const auto* row = surest_weight(found, container)) {
      return ContainerMass{.likely = measure::pounds(row->lb),
                           .low = measure::pounds(row->range_lb.low),
                           .high = measure::pounds(row->range_lb.high),
                           .from = row->as_weighed.empty() ? found.from : found.from + ", " + row->as_weighed,
                           .source = row->from.source,
                           .checked = row->from.checked};
    }
  }
  return std::nullopt;
}

}  // namespace

measure::Result<const Container*> Tables::container_named(std::string_view typed) const {
  const auto folded = container_fold(typed);
  for (const auto& c : yields.containers) {
    if (container_is_called(c, folded)) return &c;
  }
  return measure::refuse("unknown_container", fmt::format("No container is called \"{}\" here.", typed),
                         {"bushel", "5-gallon bucket", "basket", "or give the weight"});
}

measure::Result<ContainerMass> Tables::pounds_in(const Crops& crops, std::string_view container,
                                                 std::string_view crop) const {
  const Crop* c = crops.find(crop);
  if (c == nullptr) return measure::refuse("unknown_crop", fmt::format("No crop has the key \"{}\".", crop));
  const auto holder = container_named(container);
  const std::string key = holder ? (*holder)->key : std::string(container);
  if (const auto published = published_container_mass(*this, crops, key, crop)) return *published;
  if (!holder) return tl::unexpected(holder.error());
  const auto& h = **holder;
  const double low = c->density_kg_per_l * (1 - kDensitySpread);
  const double high = c->density_kg_per_l * (1 + kDensitySpread);
  return ContainerMass{.likely = measure::kilograms(h.litres * c->density_kg_per_l),
                       .low = measure::kilograms(h.range_l.low * low),
                       .high = measure::kilograms(h.range_l.high * high),
                       .from = fmt::format("a {} of {:.3g} l at {:.2g} kg per l of {}, heaped", h.name, h.litres,
                                           c->density_kg_per_l, c->plural),
                       .source = "bulk density: " + c->source + "; container: " + h.from.source,
                       .checked = Sureness::common_practice};
}

}  // namespace stillroom::almanac
