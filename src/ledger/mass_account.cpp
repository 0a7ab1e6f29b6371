#include <fmt/format.h>

#include "ledger/detail/milligrams.h"
#include "ledger/state.h"

namespace stillroom::ledger {
namespace {

using detail::from_milligrams;
using detail::milligrams;

/// All sums are whole milligrams: exact, whatever the order.
struct Sums {
  std::int64_t brought = 0, here = 0, eaten = 0, given = 0, thrown = 0, fed = 0, adjusted = 0;
  std::int64_t used = 0, split = 0, came_by_split = 0, came_by_batch = 0;
  std::int64_t in = 0, added = 0, packed = 0, lost = 0;
};

std::int64_t left(const Parcel& p) {
  return milligrams(p.eaten) + milligrams(p.given) + milligrams(p.thrown) + milligrams(p.fed) + milligrams(p.used) +
         milligrams(p.split) + milligrams(p.adjusted);
}

Sums sums_of(const State& state) {
  Sums s;
  for (const auto& [id, p] : state.parcels) {
    const std::int64_t came = milligrams(p.came);
    if (!p.split_from.is_nil()) {
      s.came_by_split += came;
    } else if (!p.made_by.is_nil()) {
      s.came_by_batch += came;
    } else {
      s.brought += came;
    }
    s.here += milligrams(p.mass);
    s.eaten += milligrams(p.eaten);
    s.given += milligrams(p.given);
    s.thrown += milligrams(p.thrown);
    s.fed += milligrams(p.fed);
    s.adjusted += milligrams(p.adjusted);
    s.used += milligrams(p.used);
    s.split += milligrams(p.split);
  }
  for (const auto& [id, b] : state.batches) {
    s.in += milligrams(b.in);
    s.added += milligrams(b.added);
    s.packed += milligrams(b.packed_mass);
    s.lost += milligrams(b.lost);
  }
  return s;
}

void expect_equal(std::vector<std::string>& wrong, std::string_view what, std::int64_t a, std::int64_t b) {
  if (a != b) wrong.push_back(fmt::format("{}: {} mg against {} mg", what, a, b));
}

}  // namespace

Mass still_in(const BatchState& b) {
  return from_milligrams(milligrams(b.in) + milligrams(b.added) - milligrams(b.packed_mass) - milligrams(b.lost));
}

MassAccount mass_account(const State& state) {
  const Sums s = sums_of(state);
  return {.brought = from_milligrams(s.brought),
          .added = from_milligrams(s.added),
          .here = from_milligrams(s.here),
          .in_batches = from_milligrams(s.in + s.added - s.packed - s.lost),
          .eaten = from_milligrams(s.eaten),
          .given = from_milligrams(s.given),
          .thrown = from_milligrams(s.thrown),
          .fed = from_milligrams(s.fed),
          .lost = from_milligrams(s.lost),
          .adjusted = from_milligrams(s.adjusted)};
}

std::vector<std::string> mass_balance(const State& state) {
  std::vector<std::string> wrong;
  for (const auto& [id, p] : state.parcels) {
    expect_equal(wrong, fmt::format("parcel {} ({}): what came and what is there or left", id.hex(), p.food),
                 milligrams(p.came), milligrams(p.mass) + left(p));
    if (milligrams(p.mass) < 0) wrong.push_back(fmt::format("parcel {} weighs less than nothing", id.hex()));
    if (p.packs < 0) wrong.push_back(fmt::format("parcel {} has fewer than no packs", id.hex()));
  }
  for (const auto& [id, b] : state.batches) {
    const std::int64_t inside = milligrams(still_in(b));
    if (inside < 0) wrong.push_back(fmt::format("batch {} ({}) gave more than it took", id.hex(), b.name));
    if (inside != 0 && (b.finished || b.abandoned))
      wrong.push_back(fmt::format("batch {} ({}) is over and still holds food", id.hex(), b.name));
  }
  const Sums s = sums_of(state);
  expect_equal(wrong, "sorted out of parcels and into parcels", s.split, s.came_by_split);
  expect_equal(wrong, "out of lots and into batches", s.used, s.in);
  expect_equal(wrong, "out of batches and into packs", s.packed, s.came_by_batch);
  expect_equal(
      wrong, "brought or added and accounted for", s.brought + s.added,
      s.here + (s.in + s.added - s.packed - s.lost) + s.eaten + s.given + s.thrown + s.fed + s.lost + s.adjusted);
  return wrong;
}

}  // namespace stillroom::ledger
