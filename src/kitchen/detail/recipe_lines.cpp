#include "kitchen/detail/recipe_lines.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace stillroom::kitchen::detail {

namespace {

using nlohmann::ordered_json;
using SheetLines = std::vector<std::string>;

std::string str(const ordered_json& o, const char* name) { return o.at(name).get<std::string>(); }

void add_if(SheetLines& out, const ordered_json& o, const char* name, const char* before = "") {
  if (const auto text = str(o, name); !text.empty()) out.push_back(before + text);
}

void begin_part(SheetLines& out, const std::string& title) {
  out.emplace_back();
  out.push_back(title);
}

/// "name: what, what" for each item of a list, under a title; nothing when the list is empty.
template <class Say>
void add_part(SheetLines& out, const ordered_json& list, const char* title, Say say) {
  if (list.empty()) return;
  begin_part(out, title);
  for (const auto& item : list) out.push_back("  " + say(item));
}

std::string joined_names(const ordered_json& names) {
  return fmt::format("{}", fmt::join(names.get<std::vector<std::string>>(), ", "));
}

std::string process_in_short(const ordered_json& c) {
  const auto& said = c.at("said");
  const auto pressure = str(said, "pressure");
  return fmt::format("{} jars, {}: {}{}, {}", str(said, "jar"), str(said, "method"), str(said, "time"),
                     pressure.empty() ? "" : " at " + pressure, str(said, "altitude"));
}

void add_process(SheetLines& out, const ordered_json& process) {
  if (process.is_null()) return;
  begin_part(out, "Heat process, as published");
  if (!process.at("ok").get<bool>()) {
    out.push_back("  " + str(process, "message"));
    for (const auto& way : process.at("instead")) out.push_back("  - " + way.get<std::string>());
    return;
  }
  for (const auto& c : process.at("choices")) out.push_back("  " + process_in_short(c));
  const auto& c = process.at("choices").front();
  for (const auto& first : c.at("said").at("first")) out.push_back("  - " + first.get<std::string>());
  out.push_back(fmt::format("  Processed as published in {}, {} (edition read: {}).", str(c, "source"),
                            str(c, "source_place"), str(c, "edition_read")));
}

void add_order_of_work(SheetLines& out, const ordered_json& sheet) {
  add_part(out, sheet.at("steps"), "In order",
           [](const auto& s) { return fmt::format("{} ({})", str(s, "text"), str(s, "source")); });
  add_part(out, sheet.at("ferment"), "How long", [](const auto& f) {
    return fmt::format("{}: {} ({})", str(f, "temperature"), str(f, "days"), str(f, "source"));
  });
  add_part(out, sheet.at("checks"), "What to look for",
           [](const auto& c) { return fmt::format("{}: {} ({})", str(c, "days"), str(c, "text"), str(c, "source")); });
  if (!sheet.at("gel").is_null()) {
    begin_part(out, "When it is done");
    out.push_back(fmt::format("  {} ({})", str(sheet.at("gel"), "said"), str(sheet.at("gel"), "source")));
    out.emplace_back("  By spoon: two drops run together and hang from its edge as one sheet.");
  }
}

}  // namespace

SheetLines recipe_lines(const ordered_json& sheet) {
  SheetLines out{str(sheet, "name")};
  add_if(out, sheet, "pectin");
  add_if(out, sheet, "how", "Counted: ");
  add_if(out, sheet, "pots_said");
  out.emplace_back();
  out.emplace_back(sheet.at("pots").get<int>() > 1 ? "Into each pot" : "Take");
  for (const auto& line : sheet.at("lines"))
    out.push_back(fmt::format("  {:<14} {}{}", str(line, "said"), str(line, "item"),
                              line.at("optional").get<bool>() ? ", if you like" : ""));
  add_if(out, sheet, "yield", "Makes ");
  add_if(out, sheet, "left_over");
  out.push_back(str(sheet, "bound"));
  for (const auto& caution : sheet.at("cautions")) out.push_back(caution.template get<std::string>());
  add_if(out, sheet, "notes");
  add_order_of_work(out, sheet);
  add_process(out, sheet.at("process"));
  if (!sheet.at("change").is_null()) {
    begin_part(out, "The change you asked about");
    out.push_back(fmt::format("  Allowed: {} ({}; {}).", str(sheet.at("change"), "what"),
                              str(sheet.at("change"), "why"), str(sheet.at("change"), "source")));
  }
  add_part(out, sheet.at("allowed"), "What may be changed",
           [](const auto& c) { return fmt::format("{} ({})", str(c, "what"), str(c, "source")); });
  add_part(out, sheet.at("not_allowed"), "What may not",
           [](const auto& c) { return fmt::format("{}: {}", str(c, "what"), str(c, "why")); });
  out.emplace_back();
  out.push_back("From " + str(sheet, "source") + ".");
  return out;
}

SheetLines crop_lines(const ordered_json& sheet) {
  SheetLines out{str(sheet, "name")};
  add_part(out, sheet.at("recipes"), "Recipes",
           [](const auto& r) { return fmt::format("{:<30} {}", str(r, "key"), str(r, "name")); });
  add_part(out, sheet.at("acid_per_jar"), "Acid in every jar",
           [](const auto& a) { return fmt::format("{}: {} ({})", str(a, "jar"), str(a, "said"), str(a, "source")); });
  const auto fact = [](const ordered_json& f) {
    return fmt::format("{}: {} ({}; {})", str(f, "what"), str(f, "value"), str(f, "source"), str(f, "checked"));
  };
  add_part(out, sheet.at("drying"), "Drying", fact);
  add_part(out, sheet.at("freezing"), "Blanching and freezing", fact);
  add_part(out, sheet.at("syrups"), "Syrup for packing", [](const auto& s) {
    return fmt::format("{} ({:g} %), {}: {} ({})", str(s, "strength"), s.at("sugar_pct").template get<double>(),
                       str(s, "makes_for"), str(s, "said"), str(s, "source"));
  });
  if (out.size() == 1) out.emplace_back("Nothing is on file for it.");
  return out;
}

SheetLines list_lines(const ordered_json& sheet) {
  SheetLines out;
  std::string kind;
  for (const auto& r : sheet.at("recipes")) {
    if (str(r, "kind") != kind) {
      kind = str(r, "kind");
      if (!out.empty()) out.emplace_back();
      out.push_back(kind);
    }
    out.push_back(fmt::format("  {:<30} {}", str(r, "key"), joined_names(r.at("crops"))));
  }
  add_part(out, sheet.at("syrups"), "syrup for packing fruit", [](const auto& s) {
    return fmt::format("{}, {}: {} ({})", str(s, "strength"), str(s, "makes_for"), str(s, "said"), str(s, "source"));
  });
  add_part(out, sheet.at("brines"), "brine by salometer", [](const auto& b) {
    return fmt::format("{:g} degrees: {:g} percent salt by weight", b.at("degrees").template get<double>(),
                       b.at("salt_pct").template get<double>());
  });
  return out;
}

SheetLines brine_lines(const ordered_json& sheet) {
  return {str(sheet, "said"), str(sheet, "basis"), str(sheet, "salometer") + " (" + str(sheet, "source") + ")"};
}

}  // namespace stillroom::kitchen::detail
