#include "bench/generate.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "measure/id.h"

namespace stillroom::bench {
namespace {

using planning::Minute;
constexpr Minute kDay = 1440;

struct Grown {
  const char* crop;
  double low_kg, high_kg;
};

/// What a garden, an orchard and a yard bring in from August to October, with basket sizes.
constexpr Grown kGrown[] = {
    {"tomato", 8, 35},        {"apple", 10, 60},
    {"pear_european", 8, 40}, {"peach", 6, 25},
    {"plum", 5, 25},          {"grape", 4, 20},
    {"bean_snap", 3, 14},     {"corn_sweet", 5, 30},
    {"cucumber", 3, 16},      {"beet", 4, 20},
    {"carrot", 5, 25},        {"cabbage", 5, 30},
    {"onion_dry", 6, 30},     {"squash_winter", 8, 50},
    {"squash_summer", 3, 15}, {"pepper_sweet", 2, 12},
    {"potato", 10, 60},       {"raspberry", 1, 6},
    {"blackberry", 1, 8},     {"garlic", 1, 5},
    {"kale", 1, 5},           {"pumpkin", 8, 40},
    {"elderberry", 1, 8},     {"crabapple", 3, 15},
    {"apricot", 4, 15},       {"pea", 2, 8},
    {"sweet_potato", 6, 30},  {"mushroom", 1, 4},
};
constexpr Grown kAnimals[] = {{"chicken", 6, 24}, {"rabbit", 3, 9}, {"duck", 4, 12}};

class Generator {
 public:
  Generator(const almanac::Almanac& almanac, const Season& season)
      : almanac_(almanac), season_(season), random_(season.seed * 0x9E3779B9ULL + 17) {}

  planning::Household run() {
    h_.first_day = std::chrono::sys_days{std::chrono::year{2026} / 9 / 1};
    h_.days = season_.days;
    h_.now = season_.start_hour * 60;
    people();
    kitchen();
    if (season_.own_kitchen) own_kitchen();
    weather();
    lots();
    routes();
    needs();
    other_work();
    if (season_.one_job_day >= 0 && season_.one_job_day < season_.days) h_.one_job_day = season_.one_job_day * kDay;
    return std::move(h_);
  }

 private:
  double between(double low, double high) { return low + (high - low) * random_.uniform(); }
  bool chance(double p) { return random_.uniform() < p; }

  void hand(const char* key, int age, double usable, int most, std::vector<std::string> skills,
            std::vector<std::pair<int, int>> weekday, std::vector<std::pair<int, int>> weekend) {
    planning::Hand p{.key = key,
                     .name = key,
                     .age = age,
                     .skills = std::move(skills),
                     .free = {},
                     .usable_share = usable,
                     .most_minutes_per_day = most};
    for (int d = 0; d < season_.days; ++d) {
      const bool away = season_.sick_days && p.key == "cook" && d >= 2 && d < 5;
      if (away) continue;
      const int weekday_index = (d + 1) % 7;  // 1 September 2026 is a Tuesday
      for (auto [from, to] : weekday_index >= 5 ? weekend : weekday)
        if (chance(0.94)) p.free.push_back({d * kDay + from, d * kDay + to});  // now and then something comes up
    }
    h_.hands.push_back(std::move(p));
  }

  void people() {
    hand("cook", 38, 0.7, 540, {"pressure_canning", "butchering"}, {{510, 705}, {780, 1020}, {1140, 1230}},
         {{540, 705}, {780, 1020}});
    if (season_.family > 1)
      hand("partner", 40, 0.85, 600, {"pressure_canning", "butchering"}, {{1080, 1260}}, {{480, 720}, {780, 1080}});
    if (season_.family > 2) hand("eldest", 15, 0.8, 300, {}, {{960, 1080}}, {{540, 720}, {780, 960}});
    if (season_.family > 3) hand("middle", 11, 0.6, 180, {}, {{960, 1050}}, {{540, 690}, {840, 960}});
    if (season_.family > 4) hand("guest", 66, 0.8, 300, {}, {{570, 690}}, {{570, 690}});
  }

  void kitchen() {
    h_.equipment = {{"burner", 4},          {"big_pot", 3},     {"boiling_water_canner", 1},
                    {"pressure_canner", 1}, {"slow_cooker", 2}, {"dryer_tray", 12},
                    {"crock_l", 30},        {"chill_l", 90}};
    const double jars = season_.missing_jars ? 0.33 : 1;
    h_.stock = {{"jar_quart", std::floor(150 * jars), {}, 1.2},
                {"jar_pint", std::floor(120 * jars), {}, 1.0},
                {"jar_half_pint", std::floor(60 * jars), {}, 0.9},
                {"lid", std::floor(320 * jars), {}, 0.3},
                {"freezer_bag_quart", 120, {}, 0.2},
                {"freezer_bag_gallon", 80, {}, 0.25},
                {"sugar_kg", 25, {}, 1.2},
                {"pectin_packet", 10, {}, 2.5},
                {"vinegar_l", 15, {}, 1.1},
                {"salt_kg", 5, {}, 0.8},
                {"lemon_juice_l", 3, {}, 3.5}};
    if (season_.missing_jars)
      for (int item : {0, 1, 3}) h_.stock[static_cast<std::size_t>(item)].arriving.push_back({6 * kDay + 600, 60});
    if (season_.shopping) {
      for (int item : {0, 1, 2, 3}) {
        h_.stock[static_cast<std::size_t>(item)].can_buy = true;
        h_.stock[static_cast<std::size_t>(item)].buy_step = 12;
      }
      h_.shopping = planning::Shopping{};
      for (int d = 0; d < season_.days; ++d) h_.shopping->open.push_back({d * kDay + 480, d * kDay + 1200});
      h_.money_per_week = 80;
    }
    h_.rooms = {
        {"freezer_l", 220}, {"freezer_kg_per_day", 14}, {"chill_l", 90}, {"cellar_kg", 350}, {"shelf_pack", 400}};
    h_.places = {{"kitchen", "the kitchen", "counter", 23, 55, ""},
                 {"porch", "the cool room", "cool_room", 15, 65, ""},
                 {"fridge", "the fridge", "fridge", 3, 85, "chill_l"},
                 {"cellar", "the cellar", "cellar", 9, 85, "cellar_kg"},
                 {"freezer", "the freezer", "freezer", -18, 50, "freezer_l"}};
  }

  /// From a bare kitchen to a well fitted one. A random stream of its own: the harvest stays that of the seed.
  void own_kitchen() {
    measure::Random random(season_.seed * 0x9E3779B9ULL + 71);
    const auto some = [&](double low, double high) { return std::round(low + (high - low) * random.uniform()); };
    h_.equipment = {{"burner", some(3, 6)},          {"big_pot", some(2, 4)},     {"boiling_water_canner", some(1, 2)},
                    {"pressure_canner", some(0, 2)}, {"slow_cooker", some(0, 3)}, {"dryer_tray", some(0, 18)},
                    {"crock_l", some(0, 50)},        {"chill_l", some(50, 130)}};
    h_.rooms = {{"freezer_l", some(80, 450)},
                {"freezer_kg_per_day", some(6, 25)},
                {"chill_l", some(50, 130)},
                {"cellar_kg", some(50, 600)},
                {"shelf_pack", some(150, 600)}};
    const double jars = some(4, 16) / 10;
    for (planning::StockLevel& item : h_.stock) item.amount = std::floor(item.amount * jars);
  }

  void weather() {
    const int frost_day =
        season_.days / 2 + static_cast<int>(random_.below(static_cast<std::uint32_t>(std::max(1, season_.days / 3))));
    frost_ = season_.frost ? frost_day : season_.days + 30;
    for (int d = 0; d < std::min(10, season_.days); ++d) {
      planning::WeatherDay w;
      w.low_c = d == frost_ ? -2 : between(6, 14);
      w.high_c = w.low_c + between(7, 13);
      w.rain_mm = chance(0.3) ? between(1, 15) : 0;
      w.wind_kmh = between(3, 30);
      w.sunrise = 400;
      w.sunset = 1170;
      h_.weather.push_back(w);
    }
  }

  void produce(int i, Minute glut_from) {
    const Grown& grown = kGrown[random_.below(std::size(kGrown))];
    const auto model = keeping::model_for(almanac_, grown.crop);
    if (!model) return;
    planning::Lot lot;
    lot.id = "lot" + std::to_string(i);
    lot.crop = grown.crop;
    lot.name = almanac_.crops.find(grown.crop)->name;
    lot.kg = std::round(between(grown.low_kg, grown.high_kg) * 10) / 10;
    lot.place = chance(0.6) ? "kitchen" : "porch";
    lot.model = *model;
    const double draw = random_.uniform();
    lot.belief = keeping::at_bring_in(*model, draw < 0.2   ? almanac::Condition::underripe
                                              : draw < 0.7 ? almanac::Condition::firm
                                                           : almanac::Condition::ripe);
    if (chance(0.3)) {
      lot.ready = h_.now - static_cast<Minute>(random_.below(kDay));
    } else if (chance(season_.glut / 0.7)) {
      lot.ready = glut_from + static_cast<Minute>(random_.below(3 * kDay));
    } else {
      lot.ready = h_.now + static_cast<Minute>(random_.below(static_cast<std::uint32_t>(season_.days) * kDay * 3 / 4));
    }
    if (lot.ready > h_.now && chance(0.25)) {
      lot.id = "standing" + std::to_string(i);
      lot.pick_by = std::min(lot.ready + static_cast<Minute>(between(4, 14) * kDay), frost_ * kDay + 360);
      lot.pick_min_per_kg = between(1.5, 8);
      if (lot.pick_by < lot.ready + kDay) lot.ready = std::max(0, lot.pick_by - 3 * kDay);
    } else if (chance(0.15)) {
      lot.eaten_kg_per_day = between(0.1, 0.5);
    }
    h_.lots.push_back(std::move(lot));
  }

  void animal(int i) {
    const Grown& kind = kAnimals[random_.below(std::size(kAnimals))];
    planning::Lot lot;
    lot.id = "lot" + std::to_string(i);
    lot.crop = kind.crop;
    lot.name = almanac_.crops.find(kind.crop)->name;
    lot.form = "carcass";
    lot.kg = std::round(between(kind.low_kg, kind.high_kg) * 10) / 10;
    lot.place = "fridge";
    lot.ready = std::max(
        0, h_.now + static_cast<Minute>(random_.below(static_cast<std::uint32_t>(season_.days) * kDay * 2 / 3)));
    lot.hazard_by = lot.ready + 2 * kDay;
    h_.lots.push_back(std::move(lot));
  }

  void lots() {
    const Minute glut_from =
        h_.now + static_cast<Minute>(random_.below(static_cast<std::uint32_t>(std::max(1, season_.days / 2)) * kDay));
    for (int i = 0; static_cast<int>(h_.lots.size()) < season_.lots && i < 20 * season_.lots; ++i) {
      if (season_.animals && chance(0.06)) {
        animal(i);
      } else {
        produce(i, glut_from);
      }
    }
  }

  void routes() {
    std::set<std::string> crops, taken;
    for (const planning::Lot& lot : h_.lots) crops.insert(lot.crop);
    const auto take = [&](const std::string& crop) {
      for (const almanac::Route* route : almanac_.routes.for_crop(almanac_.crops, crop))
        if (taken.insert(route->key).second) h_.routes.push_back(*route);
    };
    for (const std::string& crop : crops) take(crop);
    // Bones and fat go on by the routes of their own crop.
    for (std::size_t i = 0; i < h_.routes.size(); ++i)
      for (const auto& by : std::vector<almanac::ByProduct>(h_.routes[i].also_yields)) take(by.food);
  }

  /// Per food: a need for any form of it, and one or two forms the family likes best with needs of their own.
  void needs() {
    std::map<std::string, double> brought_kg;
    for (const planning::Lot& lot : h_.lots) brought_kg[lot.crop] += lot.kg;
    std::map<std::string, std::map<std::string, double>> price;  // food -> form -> USD per kg
    for (const almanac::Route& route : h_.routes) {
      if (route.is_hold || almanac::lets_go(route) || route.yield_kg_per_kg <= 0) continue;
      double& per_kg = price[route.product_food][route.product_form];
      per_kg = std::max(per_kg, route.worth_per_kg_in / route.yield_kg_per_kg);
    }
    for (const auto& [food, forms] : price) {
      const double kg = brought_kg.contains(food) ? brought_kg[food] : 10;
      std::vector<std::pair<std::string, double>> all(forms.begin(), forms.end());
      double middle = 0;
      for (const auto& form : all) middle += form.second / static_cast<double>(all.size());
      const auto add = [&](const std::string& form, double per_kg, double need) {
        planning::ProductWorth w{.food = food, .form = form, .per_kg = per_kg, .need_kg = std::round(need * 10) / 10};
        if (chance(0.25)) w.have_kg = std::round(need * between(0, 1.1) * 10) / 10;
        h_.worth.push_back(std::move(w));
      };
      const std::size_t liked = std::min<std::size_t>(all.size(), 1 + random_.below(2));
      for (std::size_t i = 0; i < liked; ++i) {
        const std::size_t pick = random_.below(static_cast<std::uint32_t>(all.size()));
        add(all[pick].first, all[pick].second, kg * between(0.15, 0.5));
        all.erase(all.begin() + static_cast<std::ptrdiff_t>(pick));
      }
      if (!all.empty()) add("", middle, kg * between(0.2, 0.9));
    }
  }

  void other_work() {
    static constexpr const char* kNames[] = {"Stack firewood",   "Dig the potatoes' bed", "Mend the fence",
                                             "Sow winter rye",   "Clean the coop",        "Mow the orchard",
                                             "Turn the compost", "Fix the gutter"};
    const int n = std::max(2, season_.days / 3);
    for (int i = 0; i < n; ++i) {
      planning::OtherJob job;
      job.key = "work" + std::to_string(i);
      job.name = kNames[static_cast<std::size_t>(i) % std::size(kNames)];
      job.minutes = 30 * static_cast<int>(1 + random_.below(10));
      job.hands = chance(0.15) ? 2 : 1;
      job.least_age = chance(0.6) ? 16 : 10;
      if (static_cast<int>(h_.hands.size()) < 2) job.hands = 1;
      job.not_before = static_cast<Minute>(random_.below(static_cast<std::uint32_t>(season_.days) * kDay / 2));
      if (chance(0.7)) job.deadline = job.not_before + static_cast<Minute>(between(3, 10) * kDay);
      job.importance = between(0.5, 6);
      job.can_split = chance(0.7);
      if (chance(0.5))
        for (int d = 0; d < season_.days; ++d) {
          if (static_cast<std::size_t>(d) < h_.weather.size() && h_.weather[static_cast<std::size_t>(d)].rain_mm >= 1)
            continue;
          job.weather_windows.push_back({d * kDay + 400, d * kDay + 1170});
        }
      h_.other.push_back(std::move(job));
    }
  }

  const almanac::Almanac& almanac_;
  const Season& season_;
  measure::Random random_;
  planning::Household h_;
  int frost_ = 1000;
};

}  // namespace

planning::Household generate(const almanac::Almanac& almanac, const Season& season) {
  return Generator(almanac, season).run();
}

Season drawn_season(std::uint64_t seed, int number) {
  measure::Random random(seed * 0x9E3779B97F4A7C15ULL + static_cast<std::uint64_t>(number));
  random.next();
  const auto chance = [&](double p) { return random.uniform() < p; };
  Season s;
  s.seed = random.next() >> 16;
  const double size = random.uniform();
  s.lots = static_cast<int>(std::lround(10 * std::pow(20.0, size)));
  const double length = std::clamp(size + 0.5 * (random.uniform() - 0.5), 0.0, 1.0);
  s.days = 14 + static_cast<int>(std::lround(46 * length));
  s.glut = 0.1 + 0.5 * random.uniform();
  s.frost = chance(0.6);
  s.missing_jars = chance(0.3);
  s.sick_days = chance(0.3);
  s.shopping = chance(0.5);
  s.animals = chance(0.7);
  s.family = 1 + static_cast<int>(random.below(5));
  s.start_hour = 6 + static_cast<int>(random.below(7));
  s.own_kitchen = true;
  if (chance(0.3)) s.one_job_day = static_cast<int>(random.below(7));
  return s;
}

}  // namespace stillroom::bench
