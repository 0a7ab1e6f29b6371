#pragma once

#include <string>

#include "almanac/routes.h"

/// One small method with its table, which a test may break in one place.
namespace stillroom::almanac {

struct SmallRoutes {
  std::string labour =
      "key,name,instruction,caution,minutes_low,minutes_high,per,setup_min,least_age,dangers,attention,can_pause,"
      "equipment,source,checked\n"
      "cut,Cut,Cut {amount}.,Sharp.,1,3,lb,5,10,blade,hands_on,yes,,common practice,common\n"
      "boil,Boil,Boil it.,Hot.,20,20,load,0,14,heat,nearby,no,burner,common practice,common\n";
  std::string supplies =
      "key,kind,price_usd,watts,source,checked\n"
      "burner,equipment,,1500,common practice,common\n"
      "boiling_water_canner,equipment,,0,common practice,common\n"
      "dryer_tray,equipment,,60,common practice,common\n"
      "lid,stock,0.35,,common practice,common\n"
      "sugar_kg,stock,2,,common practice,common\n"
      "kilowatt_hour,energy,0.2,,common practice,common\n";
  std::string toml =
      "method = \"dried\"\nname = \"dry <as>\"\nproduct_form = \"dried <as>\"\npack = \"quart jar\"\n"
      "store_in = \"shelf\"\nsource = \"common practice\"\nchecked = \"partial\"\n"
      "[define]\nload = \"lb_per_load * kg_per_lb\"\n"
      "[numbers]\nyield_kg_per_kg = \"1 / shrink\"\nkg_in_per_pack = 2\nload_kg = \"load\"\nbatch_min_kg = 1\n"
      "batch_max_kg = 20\nworth_per_kg_in = \"price_per_lb / kg_per_lb / shrink\"\n"
      "[[stage]]\nprep = true\n"
      "[[stage]]\nlabour = \"boil\"\n"
      "[[stage]]\nkey = \"dry\"\nname = \"Dry\"\ninstruction = \"Dry it with {sugar}, {packs} {pack}.\"\n"
      "duration = { fixed = 600 }\nattention = \"unattended\"\n"
      "equipment = [{ use = \"dryer_tray\", per_kg = \"1 / 0.5\" }]\n"
      "stock = [{ use = \"sugar_kg\", per_kg = 0.1 }]\nlag_max_min = 60\n";
  std::string rows =
      "crop,key,accepts,not_for,quality,prep,months_low,months_high,as,lb_per_load,shrink,price_per_lb,source,checked\n"
      "apple,dried,,,0;1;0.9;0.5;0,cut,6,12,rings,22.0462262,5,4.5359237,a table,yes\n";

  /// Replaces `from`, which must stand in one of the texts, by `to`.
  SmallRoutes& with(std::string_view from, std::string_view to) {
    for (std::string* text : {&labour, &supplies, &toml, &rows}) {
      const auto at = text->find(from);
      if (at == std::string::npos) continue;
      text->replace(at, from.size(), to);
      return *this;
    }
    rows = "nothing to replace: " + std::string(from);
    return *this;
  }
  [[nodiscard]] measure::Result<RouteBook> load(const Crops& crops, RouteOrigin origin = RouteOrigin::published) const {
    return load_routes_from(crops, {labour, supplies, {{"small", toml, rows}}}, origin);
  }
};

}  // namespace stillroom::almanac
