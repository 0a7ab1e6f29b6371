#include <fmt/format.h>

#include "cli/print.h"

// What lies ahead, as text for a terminal.
namespace stillroom::cli {
namespace {

constexpr std::size_t kForecastWidth = 80;
constexpr double kSure = 0.95;

}  // namespace

std::string to_text(const app::ForecastView& v) {
  if (v.seasons == 0) return "Stopped before a single season was lived through: there is nothing to say yet.\n";
  std::string out =
      wrapped(fmt::format("The plan lived through {} time{}, planned again each morning on which something "
                          "had come otherwise.{}",
                          v.seasons, v.seasons == 1 ? "" : "s",
                          v.cut_short ? " It was stopped early: this is what those seasons say." : ""),
              kForecastWidth, 0) +
      "\n\n";
  std::string sure;
  bool any = false;
  for (const app::LotChanceView& lot : v.lots) {
    if (lot.saved >= kSure && lot.loss_usd < 1) {
      sure += (sure.empty() ? "" : "; ") + lot.name + ", " + lot.amount;
      continue;
    }
    if (!any) out += wrapped("What may be lost. A lot is saved when " + v.saved_means + ".", kForecastWidth, 0) + "\n";
    any = true;
    out += wrapped(fmt::format("  {:<32.32} {}{}", lot.name + ", " + lot.amount, lot.chance_words,
                               lot.loss_words.empty() ? "" : "; " + lot.loss_words),
                   kForecastWidth, 35) +
           "\n";
  }
  if (!sure.empty()) out += (any ? "\n" : "") + wrapped("Sure to be saved: " + sure + ".", kForecastWidth, 2) + "\n";
  out += "\nHours of work for all hands, and what 8 seasons of 10 lie between\n";
  for (const app::DayLoadView& day : v.days)
    out += fmt::format("  {:<9} {}  {:>5.1f} h   {:>4.1f} to {:.1f}\n", day.weekday, day.date, day.hours, day.hours_low,
                       day.hours_high);
  return out + "\n" + wrapped(v.value_words, kForecastWidth, 0) + "\n";
}

std::string to_text(const std::vector<planning::WhatIf>& v) {
  if (v.empty()) return "Nothing tried is short: one more of it changes next to nothing.\n";
  std::string out = "What is scarcest, each asked for by itself\n";
  for (const planning::WhatIf& w : v) out += wrapped("  " + w.sentence, kForecastWidth, 4) + "\n";
  return out;
}

}  // namespace stillroom::cli
