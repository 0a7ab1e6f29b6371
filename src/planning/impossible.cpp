#include "planning/impossible.h"

#include <fmt/format.h>

#include <map>

#include "measure/text.h"
#include "planning/detail/clash_work.h"
#include "planning/detail/schedule.h"
#include "planning/detail/words.h"
#include "planning/validate.h"

// Lots that cannot be dealt with in time, by placing each alone in an empty plan.
namespace stillroom::planning {
namespace {

using detail::Barred;
using detail::Job;
using detail::kNever;
using detail::LotSpec;
using detail::Option;
using detail::Relaxed;
using detail::RouteSpec;

class LotClashes {
 public:
  explicit LotClashes(const Household& h) : h_(h), project_(h), empty_(project_) {}

  void find(std::vector<Clash>& out) {
    for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot) {
      const LotSpec& spec = spec_of(lot);
      if (!ends(spec) || spec.source->kg < detail::kLeastKg || can_be_done(lot, as_it_is())) continue;
      if (auto clash = clash_of(lot)) out.push_back(std::move(*clash));
    }
  }

 private:
  /// What can be bought does not bar anything.
  [[nodiscard]] Relaxed as_it_is() const { return {.stock = h_.shopping.has_value()}; }
  [[nodiscard]] const LotSpec& spec_of(int lot) const { return project_.lots[static_cast<std::size_t>(lot)]; }
  [[nodiscard]] const RouteSpec& route_of(const Option& o) const {
    return project_.routes[static_cast<std::size_t>(o.route)];
  }
  [[nodiscard]] std::string name_of(const Lot& lot) const { return lot.name.empty() ? lot.crop : lot.name; }

  /// Whether it will be past use within the days that are planned.
  [[nodiscard]] bool ends(const LotSpec& spec) const {
    const Lot& lot = *spec.source;
    if (lot.ready >= project_.horizon) return false;
    if (lot.hazard_by) return *lot.hazard_by > h_.now && *lot.hazard_by < project_.horizon;
    if (spec.standing) return lot.pick_by > h_.now && lot.pick_by < project_.horizon;
    return spec.fade.usable_at(project_.horizon) < detail::kUsableFloor;
  }

  [[nodiscard]] bool fits(int lot, const Option& option, const Relaxed& relaxed) {
    const RouteSpec& route = route_of(option);
    if (option.source != detail::Source::lot || route.gives_away || !route.seconds.empty()) return false;
    const double kg = spec_of(lot).source->kg;
    // The whole lot, else as little as the route takes.
    for (const double size : {std::min(kg, route.source->batch_max_kg), std::min(kg, route.source->batch_min_kg)}) {
      Job job{.what = option.route};
      job.add(lot, size);
      if (empty_.probe(job, relaxed) != kNever) return true;
    }
    return false;
  }

  [[nodiscard]] bool fits_somehow(int lot, const Relaxed& relaxed) {
    const auto& options = spec_of(lot).options;
    return std::any_of(options.begin(), options.end(), [&](const Option& o) { return fits(lot, o, relaxed); });
  }

  [[nodiscard]] bool can_be_done(int lot, const Relaxed& relaxed) {
    if (fits_somehow(lot, relaxed)) return true;
    // Moved to where it keeps: there is time, or nothing needs to be done in these days.
    const LotSpec& spec = spec_of(lot);
    for (const int place : spec.hold_places) {
      const detail::Schedule::Mark before = empty_.mark();
      Job move{.kind = detail::JobKind::hold, .what = place};
      move.add(lot, 0);
      const bool fits = empty_.insert(move) >= 0 && fits_somehow(lot, relaxed);
      empty_.rollback(before);
      if (fits) return true;
    }
    if (spec.source->hazard_by || spec.standing || !spec.source->model) return false;
    return std::any_of(spec.hold_places.begin(), spec.hold_places.end(), [&](int place) {
      detail::Fade fade = spec.fade;
      fade.moved = spec.from;
      fade.second_place = place;
      return fade.usable_at(project_.horizon) >= detail::kUsableFloor;
    });
  }

  [[nodiscard]] std::string until_of(const Lot& lot) const {
    if (lot.hazard_by)
      return fmt::format("before its clock runs out {} at {}", detail::day_name(h_, *lot.hazard_by),
                         detail::clock_time(*lot.hazard_by));
    if (lot.pick_by > 0) return "before the last day to pick, " + detail::day_name(h_, lot.pick_by - 1);
    return "before it is past use";
  }

  /// Nobody to pick it while it can be picked.
  [[nodiscard]] bool no_pickers(const LotSpec& spec) const {
    if (!spec.standing) return false;
    detail::Windows open{{spec.from, spec.pick_by}};
    if (spec.pick.window >= 0) open = detail::intersection(open, detail::weather_windows(h_, {.daylight = true}));
    double minutes = 0;
    for (std::size_t p = 0; p < h_.hands.size(); ++p) {
      if (h_.hands[p].age < detail::kPickLeastAge) continue;
      for (const auto& w : detail::intersection(open, project_.hand_free[p]))
        minutes += h_.hands[p].usable_share * (w.to - w.from);
    }
    const double least = spec.source->pick_min_per_kg * std::min(spec.source->kg, 0.5);
    return minutes < std::max<double>(detail::kGrain, least);
  }

  [[nodiscard]] std::optional<Clash> clash_of(int lot) {
    const LotSpec& spec = spec_of(lot);
    const Lot& source = *spec.source;
    const std::string name = detail::capital(name_of(source));
    Clash clash{.kind = Clash::Kind::lot, .about = {source.id}, .what = {}, .way_out = {}};
    if (no_pickers(spec)) {
      clash.kind = Clash::Kind::picking;
      clash.what = fmt::format("{}: nobody has time to pick it between {} and {}.", name,
                               detail::day_name(h_, spec.from), detail::day_name(h_, spec.pick_by - 1));
      clash.way_out = fmt::format("Ask somebody to pick for {} in those days, or let it go.",
                                  detail::length_of(std::max(30.0, source.pick_min_per_kg * source.kg)));
      return clash;
    }
    struct Lack {
      Relaxed relaxed;
      const char* what;
      const char* way;
    };
    static constexpr Lack kLacks[] = {
        {{.people = true}, "nobody who may do it has the time", "Ask one more grown-up who knows the work to come"},
        {{.equipment = true}, "the equipment that is there cannot take it", "Borrow what is lacking"},
        {{.stock = true}, "there are not enough jars, lids or bags", "Get some"},
        {{.room = true}, "there is no room to keep it", "Make room"}};
    for (const Lack& lack : kLacks) {
      Relaxed relaxed = lack.relaxed;
      relaxed.stock = relaxed.stock || as_it_is().stock;
      if (!can_be_done(lot, relaxed)) continue;
      clash.what = fmt::format("{} cannot be put by {}: {}.", name, until_of(source), lack.what);
      clash.way_out = fmt::format("{}, or give it away.", lack.way);
      return clash;
    }
    if (const std::string barred = all_barred(lot, clash.way_out); !barred.empty()) {
      clash.what = fmt::format("{} cannot be put by here: {}.", name, barred);
      return clash;
    }
    if (!source.hazard_by || spec.options.empty()) return std::nullopt;  // what bars it is what it is like
    clash.what = fmt::format("{} cannot be put by {}: no way of keeping it is so quick.", name, until_of(source));
    clash.way_out = "Cook or freeze it at once, or give it away.";
    return clash;
  }

  /// What the household lacks for every way of keeping the lot, when that is all that bars them; the least thing that
  /// would open one goes into `way_out`.
  [[nodiscard]] std::string all_barred(int lot, std::string& way_out) const {
    const LotSpec& spec = spec_of(lot);
    std::map<std::string, int> lacking;  // in words -> ways it would open
    for (const Option& o : spec.options)
      if (!route_of(o).gives_away && !route_of(o).source->is_hold && route_of(o).seconds.empty()) return {};
    for (const RouteSpec& route : project_.routes) {
      const almanac::Route& r = *route.source;
      const bool mine = spec.source->crop == r.crop || spec.source->crop.starts_with(r.crop + "/");
      if (!mine || r.accepts_form != spec.source->form || route.gives_away || r.is_hold || !r.many_lot_with.empty() ||
          !detail::Project::facts_allow(*spec.source, r))
        continue;
      if (route.barred == Barred::equipment) ++lacking["a " + detail::thing(route.lacking)];
      if (route.barred == Barred::people)
        ++lacking[route.lacking.empty() ? "somebody old enough" : "somebody who knows " + detail::thing(route.lacking)];
    }
    if (lacking.empty()) return {};
    const auto most =
        std::max_element(lacking.begin(), lacking.end(), [](auto& a, auto& b) { return a.second < b.second; });
    std::vector<std::string> words;
    for (const auto& [what, ways] : lacking) words.push_back(what);
    way_out = fmt::format("Borrow or ask for {}, or give it away.", most->first);
    return words.size() == 1 ? "every way needs " + words.front()
                             : "each way needs something that is not here (" + measure::say_list(words) + ")";
  }

  const Household& h_;
  detail::Project project_;
  detail::Schedule empty_;
};

}  // namespace

std::vector<Clash> clashes(const Household& h) {
  std::vector<Clash> out;
  if (fault_in(h)) return out;
  detail::find_work_clashes(h, out);
  detail::find_hour_clashes(h, out);
  LotClashes(h).find(out);
  return out;
}

std::string word_of(Clash::Kind kind) {
  switch (kind) {
    case Clash::Kind::work:
      return "work";
    case Clash::Kind::hours:
      return "hours";
    case Clash::Kind::picking:
      return "picking";
    default:
      return "lot";
  }
}

}  // namespace stillroom::planning
