#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/print.h"

// A batch as text: where it stands, all that are open, and the card to print. Timers, too.
namespace stillroom::cli {
namespace {

constexpr std::size_t kCardWidth = 80;

std::string process_text(const app::ProcessView& p) {
  std::string out = "  +-- Heat process, processed as published --------------------------------\n";
  const auto line = [&](const std::string& label, const std::string& value) {
    if (!value.empty()) out += wrapped(fmt::format("  | {:<14} {}", label, value), kCardWidth, 19) + "\n";
  };
  line("Canner", p.method);
  line("Jar", p.jar);
  line("Time", p.time);
  line("Pressure", p.pressure);
  line("Headspace", p.headspace);
  line("Added acid", p.added_acid);
  line("Altitude", p.altitude_band);
  for (const std::string& r : p.requirements) line("Also", r);
  line("Source", p.source + "; " + p.place + "; edition read " + p.edition);
  return out + "  +------------------------------------------------------------------------\n";
}

/// "2026-09-14T08:05" -> "2026-09-14 08:05".
std::string moment_of(const std::string& local) {
  return local.size() >= 16 ? local.substr(0, 10) + " " + local.substr(11, 5) : local;
}

std::string timer_line(const app::TimerView& t) {
  const double minutes = std::abs(t.seconds_left) / 60;
  const std::string when = t.seconds_left > 0
                               ? fmt::format("{:.0f} min left", std::ceil(minutes))
                               : fmt::format("TIME IS UP, {:.0f} min ago: look now", std::floor(minutes));
  std::string line = fmt::format("  {}: {}", t.name, when);
  if (!t.batch_name.empty()) line += "  (" + t.batch_name + ")";
  if (!t.note.empty()) line += "  (" + t.note + ")";
  return wrapped(line + "   " + t.id.substr(0, 8), kCardWidth, 4) + "\n";
}

std::string deadline_line(const app::DeadlineView& d) {
  std::string line = "  " + d.what + (d.overdue ? ": OVERDUE since " : " by ") + moment_of(d.by) + ".";
  if (d.overdue) line += " " + d.when_overdue;
  return wrapped(line, kCardWidth, 4) + "\n";
}

std::string open_batch_text(const app::BatchView& v) {
  std::string out = wrapped(v.name + ", " + v.amount + "   " + v.id.substr(0, 8), kCardWidth, 2) + "\n";
  if (v.state == "resting") return out + "  The lids are to be looked at from " + moment_of(v.seal_check_from) + ".\n";
  bool any = false;
  for (const app::StepView& s : v.steps) {
    if (s.state != "underway" && s.state != "put_down" && s.state != "next") continue;
    const char* word = s.state == "underway" ? "Underway" : s.state == "put_down" ? "Put down" : "Next";
    std::string line = fmt::format("  {}: {}", word, s.title);
    if (s.state == "next" && !any && !v.not_before.empty()) line += ", not before " + moment_of(v.not_before);
    out += wrapped(line + "   " + s.stage, kCardWidth, 4) + "\n";
    any = true;
  }
  if (!any) out += "  Next: pack it away\n";
  for (const app::DeadlineView& d : v.deadlines) out += deadline_line(d);
  for (const app::TimerView& t : v.timers) out += "  Timer" + timer_line(t).substr(1);
  for (const std::string& line : v.went_wrong) out += wrapped("  Went wrong " + line, kCardWidth, 4) + "\n";
  return out;
}

/// One step with a box to tick and room for its times.
std::string card_step(const app::BatchView& v, const app::StepView& s, int number) {
  const std::string about = s.expected + (s.attention == "unattended" ? ", by itself" : "") +
                            (s.attention == "nearby" ? ", stay nearby" : "");
  std::string out =
      wrapped(fmt::format("[{}] {}. {} ({})", s.state == "done" ? "x" : " ", number, s.title, about), kCardWidth, 7) +
      "\n";
  const auto line = [&out](const std::string& words) {
    if (!words.empty()) out += wrapped("    " + words, kCardWidth, 4) + "\n";
  };
  line(s.caution.empty() ? "" : "Take care: " + s.caution);
  line(s.put_down_words);
  line(s.text);
  line(s.looks_right.empty() ? "" : "Looks right: " + s.looks_right);
  for (const app::TimerView& t : s.timers) line(fmt::format("Timer: {}, {:.0f} min", t.name, t.seconds_left / 60));
  if (s.shows_process && v.process) out += process_text(*v.process);
  const auto room = [](const std::string& local) { return local.empty() ? "____________" : moment_of(local); };
  line("Began " + room(s.started) + "   ended " + room(s.finished) + "   by ____________");
  return out;
}

}  // namespace

std::string to_text(const app::BatchView& v) {
  std::string out = v.name + ", " + v.amount + "   " + v.id + "\n";
  for (const std::string& c : v.cautions) out += wrapped("  * " + c, kCardWidth, 4) + "\n";
  int number = 1;
  for (const app::StepView& s : v.steps) {
    out += fmt::format("\n{:>2}. {}  [{}]  {}\n", number++, s.title, s.state, s.expected);
    if (!s.caution.empty()) out += wrapped("    Take care: " + s.caution, kCardWidth, 4) + "\n";
    out += wrapped("    " + s.text, kCardWidth, 4) + "\n";
    for (const std::string& g : s.gather) out += wrapped("    - " + g, kCardWidth, 6) + "\n";
    if (!s.looks_right.empty()) out += wrapped("    Looks right: " + s.looks_right, kCardWidth, 4) + "\n";
    if (!s.put_down_words.empty() && (s.state == "next" || s.state == "underway"))
      out += wrapped("    " + s.put_down_words, kCardWidth, 4) + "\n";
    if (s.shows_process && v.process) out += process_text(*v.process);
  }
  for (const std::string& line : v.went_wrong) out += "\n" + wrapped("Went wrong " + line, kCardWidth, 2) + "\n";
  if (!v.processed.empty()) out += "\n" + wrapped(v.processed, kCardWidth, 0) + "\n";
  if (!v.not_food.empty()) out += "\n" + wrapped(v.not_food, kCardWidth, 0) + "\n";
  return out + "\n" + wrapped(v.defer_to, kCardWidth, 0) + "\n";
}

std::string to_text(const std::vector<app::BatchView>& v) {
  if (v.empty()) return "No batch is open.\n";
  std::string out;
  for (const app::BatchView& batch : v) out += (out.empty() ? "" : "\n") + open_batch_text(batch);
  return out;
}

std::string to_text(const std::vector<app::TimerView>& v) {
  if (v.empty()) return "No timer is set.\n";
  std::string out;
  for (const app::TimerView& timer : v) out += timer_line(timer);
  return out;
}

std::string card_text(const app::BatchView& v) {
  std::string out = v.name + ", " + v.amount + "   " + v.id.substr(0, 8) + "\n";
  std::string from;
  for (const std::string& lot : v.lots) from += (from.empty() ? "From " : "; ") + lot;
  if (v.packs_expected > 0)
    from +=
        fmt::format("{}about {:.0f} x {} come out", from.empty() ? "" : "; ", std::max(1.0, v.packs_expected), v.pack);
  out += wrapped(from + ". Goes to: " + v.store_in + ".", kCardWidth, 0) + "\n";
  if (!v.next_code.empty() && v.packed_parcel.empty()) out += "Write on the label: " + v.next_code + "\n";
  for (const std::string& caution : v.cautions) out += wrapped("  * " + caution, kCardWidth, 4) + "\n";
  std::vector<std::string> gather;
  for (const app::StepView& s : v.steps) {
    for (const std::string& one : s.gather) {
      if (std::ranges::find(gather, one) == gather.end()) gather.push_back(one);
    }
  }
  if (!gather.empty()) out += "\nGather\n";
  for (const std::string& one : gather) out += wrapped("[ ] " + one, kCardWidth, 4) + "\n";
  int number = 1;
  for (const app::StepView& s : v.steps) out += "\n" + card_step(v, s, number++);
  out += "\n[ ] Packed: ______ x " + (v.pack.empty() ? "packs" : v.pack) + "   on ____________   by ____________\n";
  for (const std::string& line : v.went_wrong) out += wrapped("Went wrong " + line, kCardWidth, 2) + "\n";
  if (!v.processed.empty()) out += wrapped(v.processed, kCardWidth, 0) + "\n";
  if (!v.not_food.empty()) out += wrapped(v.not_food, kCardWidth, 0) + "\n";
  return out + (v.defer_to.empty() ? "" : "\n" + wrapped(v.defer_to, kCardWidth, 0) + "\n");
}

}  // namespace stillroom::cli
