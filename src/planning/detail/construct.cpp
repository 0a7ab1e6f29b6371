#include "planning/detail/construct.h"

#include <numeric>

namespace stillroom::planning::detail {
namespace {

/// The best thing to do with one lot as it stands.
struct Choice {
  int lot = -1;
  const Option* option = nullptr;
  Appraisal now;
  Time not_before = 0;
  double index = 0;
};

class Builder {
 public:
  Builder(const Project& project, const Recipe& recipe, std::vector<double>& left, std::vector<double>& put_by,
          const std::vector<Fade>& fades, JobList& list)
      : project_(project),
        recipe_(recipe),
        appraiser_(project),
        left_(left),
        put_by_(put_by),
        fades_(fades),
        list_(list) {
    hour_ = project.h.effort_per_hour + recipe.hour_price;
  }

  void run() {
    std::vector<Choice> choices;
    for (int lot = 0; lot < static_cast<int>(left_.size()); ++lot) {
      const Choice choice = best_for(lot);
      if (choice.option != nullptr) choices.push_back(choice);
    }
    std::stable_sort(choices.begin(), choices.end(),
                     [](const Choice& a, const Choice& b) { return a.index > b.index; });
    for (const Choice& first : choices) {
      // Earlier lots may have filled the need: choose again with what is put by.
      for (int batches = 0; batches < 12 && left_[static_cast<std::size_t>(first.lot)] > kLeastKg; ++batches) {
        const Choice choice = best_for(first.lot);
        if (choice.option == nullptr || !add_batch(choice)) break;
      }
    }
    add_by_products();
  }

 private:
  Choice best_for(int lot) const {
    const auto l = static_cast<std::size_t>(lot);
    const LotSpec& spec = project_.lots[l];
    Choice best{.lot = lot};
    if (left_[l] <= kLeastKg) return best;
    double best_net = 0;
    for (const Option& option : spec.options) {
      const RouteSpec& route = project_.routes[static_cast<std::size_t>(option.route)];
      if (option.source != Source::lot || route.source->is_hold) continue;
      if (left_[l] < route.source->batch_min_kg && !has_company(lot, option.route)) continue;
      const Time when = appraiser_.best_time(lot, option, fades_[l], spec.from, put_by_);
      const Appraisal a = appraiser_.at(lot, option, fades_[l], when, put_by_);
      const double net = a.net(hour_);
      if (net <= best_net) continue;
      best_net = net;
      best.option = &option;
      best.now = a;
      best.not_before = when > spec.from ? when : 0;
    }
    if (best.option != nullptr) best.index = index_of(best, best_net);
    return best;
  }

  double index_of(const Choice& choice, double net) const {
    const auto l = static_cast<std::size_t>(choice.lot);
    const Fade& fade = fades_[l];
    const double hours = std::max(0.01, choice.now.hours);
    const Time last = appraiser_.last_time(choice.lot, *choice.option, fade);
    const double days_left = std::max(0.05, static_cast<double>(last - project_.now) / kDayMinutes);
    switch (recipe_.order) {
      case Order::soonest_past_use:
        return -days_left;
      case Order::value_per_hour:
        return net / hours;
      case Order::value_over_fading:
        return net / hours * std::min(days_left, 30.0);
      case Order::loss_per_hour:
        break;
    }
    const Time tomorrow = std::max(project_.lots[l].from, choice.not_before) + 2 * kDayMinutes;
    const double later =
        tomorrow > last ? 0 : appraiser_.at(choice.lot, *choice.option, fade, tomorrow, put_by_).net(hour_);
    const double lost = std::max(0.0, net - std::max(0.0, later)) / 2 + 0.2 * net / days_left;
    return lost / hours;
  }

  bool has_company(int lot, int route) const {
    double kg = left_[static_cast<std::size_t>(lot)];
    for (int other = 0; other < static_cast<int>(left_.size()); ++other)
      if (other != lot && fits_beside(other, route)) kg += left_[static_cast<std::size_t>(other)];
    return kg >= project_.routes[static_cast<std::size_t>(route)].source->batch_min_kg;
  }

  bool fits_beside(int lot, int route) const {
    const Option* option = project_.option(lot, route);
    if (option == nullptr || option->source != Source::lot || left_[static_cast<std::size_t>(lot)] <= kLeastKg)
      return false;
    return appraiser_
               .at(lot, *option, fades_[static_cast<std::size_t>(lot)],
                   project_.lots[static_cast<std::size_t>(lot)].from, put_by_)
               .worth > 0;
  }

  bool add_batch(const Choice& choice) {
    const RouteSpec& route = project_.routes[static_cast<std::size_t>(choice.option->route)];
    const almanac::Route& source = *route.source;
    Job job{.what = choice.option->route, .not_before = choice.not_before};
    double main = left_[static_cast<std::size_t>(choice.lot)];
    if (!route.seconds.empty()) return add_recipe(choice, route, job);
    double size = batch_size(source, main);
    job.add(choice.lot, std::min(size, main));
    if (size < source.batch_max_kg && main <= size + 1e-9) {
      // Room in the batch: other lots of the crop come along, up to whole loads.
      for (int other = 0; other < static_cast<int>(left_.size()) && job.size < kMostParts; ++other) {
        if (other == choice.lot || !fits_beside(other, choice.option->route)) continue;
        if (project_.lots[static_cast<std::size_t>(other)].standing !=
            project_.lots[static_cast<std::size_t>(choice.lot)].standing)
          continue;
        const double more = std::min(left_[static_cast<std::size_t>(other)], source.batch_max_kg - job.kg());
        if (more > kLeastKg) job.add(other, more);
      }
    }
    if (job.kg() < source.batch_min_kg - 1e-9) return false;
    commit(job, choice);
    return true;
  }

  bool add_recipe(const Choice& choice, const RouteSpec& route, Job& job) {
    const almanac::Route& source = *route.source;
    double share = 1, main = left_[static_cast<std::size_t>(choice.lot)];
    std::vector<int> seconds;
    for (std::size_t j = 0; j < route.seconds.size(); ++j) {
      int best = -1;
      for (int lot : route.seconds[j])
        if (best < 0 || left_[static_cast<std::size_t>(lot)] > left_[static_cast<std::size_t>(best)]) best = lot;
      if (best < 0 || left_[static_cast<std::size_t>(best)] <= kLeastKg) return false;
      seconds.push_back(best);
      share += source.many_lot_kg[j];
      main = std::min(main, left_[static_cast<std::size_t>(best)] / source.many_lot_kg[j]);
    }
    main = std::min(main, batch_size(source, main * share) / share);
    if (main * share < source.batch_min_kg) return false;
    job.add(choice.lot, main);
    for (std::size_t j = 0; j < seconds.size(); ++j) job.add(seconds[j], main * source.many_lot_kg[j]);
    commit(job, choice);
    return true;
  }

  void commit(const Job& job, const Choice& choice) {
    const RouteSpec& route = project_.routes[static_cast<std::size_t>(job.what)];
    for (int i = 0; i < job.size; ++i) {
      const Part& part = job.parts[static_cast<std::size_t>(i)];
      left_[static_cast<std::size_t>(part.lot)] -= part.kg;
      if (route.worth >= 0) put_by_[static_cast<std::size_t>(route.worth)] += choice.now.product * part.kg;
    }
    list_.push_back(job);
  }

  void add_by_products() {
    for (int lot = 0; lot < static_cast<int>(project_.lots.size()); ++lot)
      for (const Option& option : project_.lots[static_cast<std::size_t>(lot)].options) {
        if (option.source != Source::by_product) continue;
        if (appraiser_.at(lot, option, fades_[static_cast<std::size_t>(lot)], project_.now, put_by_).net(hour_) <= 0)
          continue;
        Job job{.what = option.route};
        job.add(lot, project_.routes[static_cast<std::size_t>(option.route)].source->batch_max_kg);
        list_.push_back(job);
      }
  }

  const Project& project_;
  const Recipe& recipe_;
  Appraiser appraiser_;
  std::vector<double>&left_, &put_by_;
  const std::vector<Fade>& fades_;
  JobList& list_;
  double hour_ = 0;
};

/// Moves to where the lot keeps longest, dearest first; what finds no room is left out.
void add_holds(const Project& project, std::vector<Fade>& fades, JobList& list) {
  struct Hold {
    int lot, place;
    double gain;
  };
  std::vector<Hold> holds;
  constexpr Time kWeek = 7 * kDayMinutes;
  for (int lot = 0; lot < static_cast<int>(project.lots.size()); ++lot) {
    const LotSpec& spec = project.lots[static_cast<std::size_t>(lot)];
    const Time later = std::min(project.horizon, spec.from + kWeek);
    Hold best{lot, -1, 0.02};
    for (int place : spec.hold_places) {
      Fade moved = spec.fade;
      moved.moved = spec.from;
      moved.second_place = place;
      const double gain = moved.usable_at(later) - spec.fade.usable_at(later);
      if (gain > best.gain) best = {lot, place, gain};
    }
    if (best.place >= 0) holds.push_back(best);
  }
  std::stable_sort(holds.begin(), holds.end(), [](const Hold& a, const Hold& b) { return a.gain > b.gain; });
  for (const Hold& hold : holds) {
    Job job{.kind = JobKind::hold, .what = hold.place};
    job.add(hold.lot, 0);
    list.push_back(job);
    Fade& fade = fades[static_cast<std::size_t>(hold.lot)];
    fade.moved = project.lots[static_cast<std::size_t>(hold.lot)].from;
    fade.second_place = hold.place;
    fade.settle();
  }
}

}  // namespace

double batch_size(const almanac::Route& route, double kg) {
  const double most = std::min(kg, route.batch_max_kg);
  if (route.load_kg <= 0 || most <= route.load_kg) return most;
  const double whole = route.load_kg * std::floor(most / route.load_kg + 1e-9);
  // A small rest is not worth a load of its own batch: take it along when the batch may be that big.
  return kg - whole < route.batch_min_kg && kg <= route.batch_max_kg ? kg : whole;
}

void add_jobs(const Project& project, const Recipe& recipe, std::vector<double>& left, std::vector<double>& put_by,
              const std::vector<Fade>& fades, JobList& list) {
  Builder(project, recipe, left, put_by, fades, list).run();
}

JobList construct(const Project& project, const Recipe& recipe) {
  JobList list;
  std::vector<double> left, put_by(project.worth.size(), 0);
  std::vector<Fade> fades;
  for (const LotSpec& lot : project.lots) {
    left.push_back(lot.source->kg);
    fades.push_back(lot.fade);
  }
  std::vector<int> work(project.other.size());
  std::iota(work.begin(), work.end(), 0);
  std::stable_sort(work.begin(), work.end(), [&](int a, int b) {
    return project.other[static_cast<std::size_t>(a)].due < project.other[static_cast<std::size_t>(b)].due;
  });
  if (recipe.hold_first) add_holds(project, fades, list);
  const auto add_work = [&] {
    for (int o : work) list.push_back({.kind = JobKind::other, .what = o});
  };
  if (recipe.work_first) add_work();
  add_jobs(project, recipe, left, put_by, fades, list);
  if (!recipe.work_first) add_work();
  return list;
}

const std::vector<Recipe>& recipes() {
  static const std::vector<Recipe> all = [] {
    std::vector<Recipe> out;
    for (bool hold : {true, false})
      for (double price : {0.0, 6.0, 15.0})
        for (Order order :
             {Order::loss_per_hour, Order::soonest_past_use, Order::value_per_hour, Order::value_over_fading})
          out.push_back({order, price, hold, order != Order::loss_per_hour});
    return out;
  }();
  return all;
}

}  // namespace stillroom::planning::detail
