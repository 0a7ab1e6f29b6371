#include "cli/print.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace stillroom::cli {
namespace {

constexpr std::size_t kWidth = 80;

/// "2026-09-14T08:05" -> "08:05".
std::string clock_of(const std::string& local) { return local.size() >= 16 ? local.substr(11, 5) : local; }

std::string joined(const std::vector<std::string>& words, const std::string& separator) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : separator) + word;
  return out;
}

std::string task_line(const app::TaskView& t) {
  const char mark = t.attention == "unattended" ? '.' : t.attention == "nearby" ? '~' : ' ';
  std::string line = fmt::format("  {}-{} {} {}", clock_of(t.start), clock_of(t.end), mark, t.title);
  if (!t.hands.empty()) line += " (" + joined(t.hands, ", ") + ")";
  if (t.state != "planned" && !t.state.empty()) line += t.state == "underway" ? "  underway" : "  put down";
  return wrapped(line, kWidth, 16) + "\n";
}

std::string header_of(const app::HouseholdView& h) {
  std::string line = h.name.empty() ? "Your household" : h.name;
  if (!h.place.empty()) line += ", " + h.place;
  line += "   " + h.now.substr(0, 10) + " " + clock_of(h.now);
  return line + "\n\n";
}

std::string strip_text(const app::StripView& s) {
  std::string out = fmt::format("  {:<26.26} {}\n", s.name + ", " + s.amount, strip_line(s, 48));
  std::string second = "    " + (s.place.empty() ? "" : s.place + ". ") + s.days_left.words;
  if (s.hazard_by) second += ", no later than " + s.hazard_by->substr(5, 5) + " " + clock_of(*s.hazard_by);
  if (!s.loss_per_day.empty()) second += "; losing " + s.loss_per_day;
  if (!s.cost_words.empty()) second += "; waiting costs " + s.cost_words;
  out += wrapped(second + ".", kWidth, 4) + "\n";
  if (!s.next_move.empty()) {
    out += wrapped("    Next: " + s.next_move +
                       (s.next_at.empty() ? "" : ", " + s.next_at.substr(5, 5) + " " + clock_of(s.next_at)),
                   kWidth, 6) +
           "\n";
  }
  if (!s.let_go_reason.empty()) out += wrapped("    Let go: " + s.let_go_reason, kWidth, 6) + "\n";
  if (!s.caution.empty()) out += wrapped("    " + s.caution, kWidth, 6) + "\n";
  return out;
}

std::string objective_text(const app::ObjectiveView& o) {
  return fmt::format(
      "The plan's worth: ${:.0f} put by + ${:.0f} still sound - ${:.0f} materials - ${:.0f} energy - ${:.0f} effort"
      " - ${:.0f} late work - ${:.0f} change = ${:.0f}",
      o.put_by, o.still_sound, o.materials, o.energy, o.effort, o.lateness, o.change, o.total);
}

}  // namespace

std::string wrapped(const std::string& text, std::size_t width, std::size_t indent) {
  std::string out;
  std::size_t column = 0;
  std::size_t start = 0;
  bool first = true;
  while (start < text.size()) {
    std::size_t end = text.find(' ', start);
    if (end == std::string::npos) end = text.size();
    const std::string word = text.substr(start, end - start);
    if (!first && !word.empty() && column + 1 + word.size() > width) {
      out += "\n" + std::string(indent, ' ') + word;
      column = indent + word.size();
    } else {
      if (!first) {
        out += ' ';
        ++column;
      }
      out += word;
      column += word.size();
    }
    first = false;
    start = end + 1;
  }
  return out;
}

std::string strip_line(const app::StripView& strip, std::size_t width) {
  constexpr double kDaysShown = 21;
  std::string line;
  for (std::size_t i = 0; i < width; ++i) {
    const double day = kDaysShown * static_cast<double>(i) / static_cast<double>(width);
    const auto step = static_cast<std::size_t>(day / std::max(0.01, strip.step_days));
    const double share = step < strip.usable.size() ? strip.usable[step] : 0.0;
    line += share >= 0.9 ? '#' : share >= 0.7 ? '=' : share >= 0.4 ? '-' : share >= 0.1 ? '.' : ' ';
  }
  for (const app::StripMark& mark : strip.marks) {
    const auto at = static_cast<std::size_t>(std::max(0.0, mark.from) / kDaysShown * static_cast<double>(width));
    if (at < line.size()) line[at] = mark.kind == "hold" ? ':' : '|';
  }
  return "[" + line + "]";
}

std::string to_text(const app::DayView& v) {
  std::string out = header_of(v.household);
  out += "NEXT  " + wrapped(v.next.title, kWidth - 6, 6) + "\n";
  if (!v.next.why.empty()) out += wrapped("      " + v.next.why, kWidth, 6) + "\n";
  if (!v.next.detail.empty()) out += wrapped("      " + v.next.detail, kWidth, 6) + "\n";
  for (const std::string& notice : v.notices) out += wrapped("  * " + notice, kWidth, 4) + "\n";
  for (const app::DiscrepancyView& d : v.discrepancies) out += wrapped("  ! " + d.what, kWidth, 4) + "\n";
  if (!v.clashes.empty()) {
    out += "\nCannot all be done\n";
    for (const app::ClashView& c : v.clashes) {
      out += wrapped("  " + c.what, kWidth, 4) + "\n";
      if (!c.way_out.empty()) out += wrapped("    " + c.way_out, kWidth, 4) + "\n";
    }
  }
  if (!v.timers.empty()) {
    out += "\nTimers\n";
    out += to_text(v.timers);
  }
  if (!v.running.empty()) {
    out += "\nUnderway\n";
    for (const app::RunningView& r : v.running)
      out += "  " + r.name + ": " + r.title + " (" + r.state + ")  " + r.batch + "\n";
  }
  if (!v.today.empty()) {
    out += "\nToday\n";
    for (const app::TaskView& t : v.today) out += task_line(t);
  }
  if (!v.strips.empty()) {
    out += "\nWhat cannot wait comes first; each strip is the next 21 days\n";
    for (const app::StripView& s : v.strips) out += strip_text(s);
    out += "\n" + wrapped(objective_text(v.objective), kWidth, 2) + "\n";
  }
  return out;
}

std::string to_text(const app::AheadView& v) {
  std::string out = header_of(v.household);
  for (const app::AheadDay& day : v.days) {
    if (day.tasks.empty() && day.weather.empty()) continue;
    out += fmt::format("{} {}   {:.1f} h planned of {:.1f} h free", day.weekday, day.date, day.hours_planned,
                       day.hours_free);
    out += (day.weather.empty() ? "" : "   " + day.weather) + "\n";
    for (const app::TaskView& t : day.tasks) out += task_line(t);
  }
  return out + "\n" + wrapped(objective_text(v.objective), kWidth, 2) + "\n";
}

std::string to_text(const app::LotView& v) {
  std::string out = strip_text(v.strip);
  for (const std::string& line : v.why) out += wrapped("  " + line, kWidth, 4) + "\n";
  out += "\nWhat it could become\n";
  for (const app::RouteChoice& r : v.routes) {
    std::string line = "  " + r.name;
    if (r.accepted) {
      line += fmt::format(" ({}{:.0f} % quality{}{})", r.packs.empty() ? "" : r.packs + " at ", r.quality * 100,
                          r.hours.empty() ? "" : ", " + r.hours, r.planned ? ", planned" : "");
    } else {
      line += ": not now, " + r.why_not;
    }
    out += wrapped(line + "   " + r.route, kWidth, 6) + "\n";
  }
  if (!v.facts.empty()) {
    out += "\nHow this is known\n";
    for (const std::string& fact : v.facts) out += wrapped("  " + fact, kWidth, 4) + "\n";
  }
  return out;
}

std::string to_text(const app::LarderView& v) {
  std::string out;
  for (const app::LarderShelf& shelf : v.shelves) {
    out += shelf.place + "\n";
    for (const app::PackView& p : shelf.packs) {
      out += wrapped(fmt::format("  {:<8} {:>4.0f} x {}, {}; put by {}, eat by {}{}", p.code, p.packs, p.pack, p.name,
                                 p.put_by, p.eat_by, p.seals_unchecked ? "; seals not checked yet" : ""),
                     kWidth, 11) +
             "\n";
      if (!p.do_not_eat.empty()) out += wrapped("           " + p.do_not_eat, kWidth, 11) + "\n";
      if (!p.process_line.empty()) out += wrapped("           " + p.process_line, kWidth, 11) + "\n";
    }
  }
  if (v.shelves.empty()) out += "Nothing put by yet.\n";
  if (!v.eat_first.empty()) {
    out += "\nEat first\n";
    for (const app::PackView& p : v.eat_first) out += "  " + p.code + "  " + p.name + ", eat by " + p.eat_by + "\n";
  }
  if (!v.totals.empty()) out += "\n";
  for (const std::string& total : v.totals) out += wrapped(total, kWidth, 2) + "\n";
  return out;
}

std::string to_text(const std::vector<app::StartQuestion>& v) {
  std::string out;
  int number = 1;
  for (const app::StartQuestion& q : v) {
    out += wrapped(fmt::format("{}. {}", number++, q.question), kWidth, 3) + "\n";
    out += wrapped("   " + q.help, kWidth, 3) + "\n";
    out += "   stillroom start " + q.key + " \"...\"" +
           (q.skipped          ? "   (skipped)"
            : q.answer.empty() ? ""
                               : "   now: " + q.answer) +
           "\n";
  }
  return out;
}

std::string to_text(const std::vector<app::HistoryLine>& v) {
  std::string out;
  for (const app::HistoryLine& line : v) {
    out += wrapped(line.at.substr(0, 10) + " " + clock_of(line.at) + "  " + line.words +
                       (line.undone ? " (undone)" : "") + "  " + line.entry.substr(0, 8),
                   kWidth, 18) +
           "\n";
  }
  return out;
}

std::string to_text(const planning::Why& v, const std::string& lot_name) {
  std::string out = lot_name + "\n";
  for (const std::string& sentence : v.sentences) out += wrapped("  " + sentence, kWidth, 2) + "\n";
  for (const auto& w : v.waiting) {
    out += fmt::format("  Waiting {} day{} costs about ${:.2f} (give or take ${:.2f})\n", w.days,
                       w.days == 1 ? "" : "s", w.cost, w.noise);
  }
  return out;
}

}  // namespace stillroom::cli
