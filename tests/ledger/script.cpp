#include "ledger/script.h"

#include <fmt/format.h>

#include <charconv>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "ledger/support.h"

namespace stillroom::ledger::tests {
namespace {

using ScriptJson = nlohmann::json;
using Words = std::vector<std::string>;

Words split(const std::string& text, char at) {
  Words words;
  std::istringstream in(text);
  for (std::string word; std::getline(in, word, at);) {
    if (at != ' ' || !word.empty()) words.push_back(word);
  }
  return words;
}

std::optional<double> number(const std::string& text) {
  double value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
  return value;
}

std::string plain(double v) { return fmt::format("{}", std::round(v * 1e6) / 1e6); }
std::string plain(Mass m) { return plain(measure::in_kilograms(m)); }

/// A value as its text suggests: number, true or false, otherwise text ("~too_soft" is "too soft").
ScriptJson value_of(const std::string& text) {
  if (text == "true" || text == "false") return text == "true";
  if (const auto n = number(text)) return *n;
  if (text.empty() || text.front() != '~') return text;
  std::string spaced = text.substr(1);
  std::replace(spaced.begin(), spaced.end(), '_', ' ');
  return spaced;
}

double grams_of(const std::string& kg) { return std::round(number(kg).value() * 1e6) / 1e3; }

std::string card_of(const std::string& packs) {
  return packs == "0" ? "{}" : fmt::format(R"({{"packs":{},"process":{{"time_min":25}}}})", packs);
}

/// Puts one key=value into the JSON of an entry.
void put(ScriptJson& what, const std::string& key, const std::string& text) {
  if (key == "parcel" || key == "batch" || key == "timer" || key == "lot") {
    what[key == "lot" ? "parcel" : key] = id_of(text).hex();
  } else if (key.ends_with("_kg") && key != "pick_min_per_kg" && key != "per_year_kg") {
    what[key.substr(0, key.size() - 2) + "g"] = grams_of(text);
  } else if (key == "facts") {
    what[key] = split(text, ',');
  } else if (key == "card") {
    what["steps_json"] = card_of(text);
  } else if (key == "values") {
    for (const std::string& pair : split(text, ','))
      what[key][pair.substr(0, pair.find(':'))] = pair.substr(pair.find(':') + 1);
  } else if (key == "inputs") {
    for (const std::string& one : split(text, ',')) {
      const Words part = split(one, ':');
      what[key].push_back({{"parcel", id_of(part.at(0)).hex()}, {"mass_g", grams_of(part.at(1))}});
    }
  } else if (key == "parts") {
    for (const std::string& one : split(text, ',')) {
      Words part = split(one, ':');
      part.resize(4);
      what[key].push_back({{"parcel", id_of(part[0]).hex()},
                           {"mass_g", grams_of(part[1])},
                           {"condition", part[2]},
                           {"place", part[3]}});
    }
  } else if (key == "person" || key == "place_key") {
    what[key == "person" ? "person" : "place"]["key"] = text;
  } else if (key == "place_kind") {
    what["place"]["kind"] = text;
  } else if (key == "about") {
    what[key] = id_of("entry " + text).hex();
  } else {
    what[key] = value_of(text);
  }
}

struct Told {
  Entry entry;
  Instant arrives;
};

class Script {
 public:
  explicit Script(std::string path) : path_(std::move(path)) { open(folder_.file("home.stillroom")); }

  std::vector<std::string> run() {
    std::ifstream in(path_);
    if (!in) complain("cannot be read");
    for (std::string line; std::getline(in, line);) {
      ++line_;
      const Words words = split(line, ' ');
      if (words.empty() || words.front().starts_with('#')) continue;
      // A refusal is only known to be wanted on the next line.
      if (words.front() != "refused") settle_refusal("");
      do_line(line, words);
    }
    settle_refusal("");
    if (reversing_) complain("'out of order' without 'end'");
    for (const std::string& wrong : book_->check()) complain("check: " + wrong);
    return wrong_;
  }

 private:
  void complain(const std::string& what) { wrong_.push_back(fmt::format("{}:{}: {}", path_, line_, what)); }
  void expect(const std::string& what, const std::string& is, const std::string& wanted) {
    if (is != wanted) complain(fmt::format("{} is '{}', not '{}'", what, is, wanted));
  }

  void open(const std::string& file) {
    file_ = file;
    book_.reset();
    auto opened = Ledger::open(file);
    if (!opened) return complain(opened.error().message);
    book_.emplace(std::move(*opened));
  }

  void do_line(const std::string& line, const Words& words) {
    const std::string& verb = words.front();
    if (verb == "at" || verb == "fact") {
      tell(words);
    } else if (verb == "refused") {
      settle_refusal(words.at(1));
    } else if (line == "out of order") {
      reversing_ = true;
    } else if (verb == "end") {
      reversing_ = false;
      while (!held_.empty()) {
        append(held_.back());
        held_.pop_back();
      }
    } else if (verb == "twice") {
      send_again();
    } else if (verb == "undo") {
      undo(words.at(1));
    } else if (verb == "takes") {
      expect_dependants(words);
    } else if (verb == "remember") {
      remembered_ = household();
    } else if (verb == "as") {
      if (!equal(household(), remembered_)) complain("the household is not as remembered");
    } else if (verb == "restart") {
      const State before = book_->state();
      open(file_);
      if (!equal(book_->state(), before)) complain("the household changed by reopening it");
    } else if (verb == "crash") {
      crash();
    } else if (verb == "expect") {
      expect_line(words);
    } else {
      complain("what is '" + verb + "'?");
    }
  }

  void tell(const Words& words) {
    std::size_t i = 1;
    const Instant happened = at(words.at(i++));
    Instant arrives = happened;
    if (words.at(i) == "arrives") {
      arrives = at(words.at(i + 1));
      i += 2;
    }
    std::string who;
    if (words.at(i).ends_with(':')) {
      who = words[i].substr(0, words[i].size() - 1);
      ++i;
    }
    const std::string kind = words.at(i++);
    ScriptJson what = ScriptJson::object();
    for (; i < words.size(); ++i) {
      const auto equals = words[i].find('=');
      put(what, words[i].substr(0, equals), words[i].substr(equals + 1));
    }
    const std::string name = "entry " + std::to_string(line_);
    const ScriptJson json = {{"v", 1},
                             {"kind", kind},
                             {"id", id_of(name).hex()},
                             {"happened", measure::to_iso(happened)},
                             {"who", who},
                             {"live", words.front() == "at"},
                             {"what", what}};
    const auto entry = entry_from_json(json.dump());
    if (!entry) return complain(entry.error().message);
    now_ = std::max(now_, arrives);
    if (reversing_) {
      held_.push_back({*entry, arrives});
    } else {
      append({*entry, arrives});
    }
  }

  void append(const Told& told) {
    const State before = book_->state();
    const auto done = book_->append(told.entry, told.arrives);
    last_told_ = told;
    if (done) return;
    refusal_ = done.error();
    if (!equal(book_->state(), before)) complain("a refusal left something behind");
  }

  void settle_refusal(const std::string& wanted) {
    if (!wanted.empty() && !refusal_) complain("was not refused");
    if (refusal_ && refusal_->code != wanted) complain("refused: " + refusal_->code + ": " + refusal_->message);
    refusal_.reset();
  }

  void send_again() {
    const State before = book_->state();
    const auto again = book_->append(last_told_.entry, now_ + std::chrono::hours(1));
    if (!again) return complain("refused the second time: " + again.error().message);
    if (!equal(book_->state(), before)) complain("the second time changed something");
    expect("entry of sequence", book_->entries(*again - 1).front().id.hex(), last_told_.entry.id.hex());
  }

  [[nodiscard]] Entry numbered(const std::string& sequence) const {
    return book_->entries(std::stoul(sequence) - 1).front();
  }

  void undo(const std::string& which) {
    const Id id = which == "last" ? book_->last_entry()->id : numbered(which).id;
    append({{id_of("entry " + std::to_string(line_)), now_, "", true, Undone{id, {}}}, now_});
  }

  void expect_dependants(const Words& words) {
    std::string is, wanted;
    const auto all = book_->entries();
    for (const Entry& e : book_->dependants_of(numbered(words.at(2).substr(0, words.at(2).find(':'))).id)) {
      const auto found = std::find_if(all.begin(), all.end(), [&](const Entry& other) { return other.id == e.id; });
      is += std::to_string(found - all.begin() + 1) + " ";
    }
    for (std::size_t i = 3; i < words.size(); ++i) wanted += words[i] + " ";
    expect("what it takes back", is, wanted);
  }

  /// The files as they lie on disk while the program still runs.
  void crash() {
    const State before = book_->state();
    const std::string copy = folder_.file("copy" + std::to_string(line_) + ".stillroom");
    for (const char* part : {"", "-wal"}) {
      if (std::filesystem::exists(file_ + part)) std::filesystem::copy_file(file_ + part, copy + part);
    }
    open(copy);
    if (!equal(book_->state(), before)) complain("the household changed by the crash");
  }

  [[nodiscard]] State household() const {
    State s = book_->state();
    s.sequence = 0;
    s.last_entry = {};
    return s;
  }

  void expect_line(const Words& words) {
    const State& s = book_->state();
    const std::string& what = words.at(1);
    const std::string wanted = words.back();
    const auto open_ones =
        std::count_if(s.discrepancies.begin(), s.discrepancies.end(), [](const Discrepancy& d) { return !d.settled; });
    if (what == "no") {
      const bool there = words.at(2) == "lot" ? s.parcels.contains(id_of(wanted)) : s.batches.contains(id_of(wanted));
      if (there) complain(wanted + " is there");
    } else if (what == "lot") {
      expect(words.at(2) + " " + words.at(3), lot_field(s, words.at(2), words.at(3)), wanted);
    } else if (what == "batch") {
      expect(words.at(2) + " " + words.at(3), batch_field(s, words.at(2), words.at(3)), wanted);
    } else if (what == "stock") {
      expect(words.at(2), s.stock.contains(words.at(2)) ? plain(s.stock.at(words.at(2))) : "none", wanted);
    } else if (what == "setting") {
      expect(words.at(2), s.settings.contains(words.at(2)) ? s.settings.at(words.at(2)) : "none", wanted);
    } else if (what == "discrepancies") {
      expect(what, std::to_string(s.discrepancies.size()), wanted);
    } else if (what == "open") {
      expect("open discrepancies", std::to_string(open_ones), wanted);
    } else if (what == "entries") {
      expect(what, std::to_string(book_->entries().size()), wanted);
    } else {
      complain("expect what?");
    }
  }

  static std::string lot_field(const State& s, const std::string& name, const std::string& field) {
    const auto it = s.parcels.find(id_of(name));
    if (it == s.parcels.end()) return "not there";
    const Parcel& p = it->second;
    std::string state(to_word(p.state));
    std::replace(state.begin(), state.end(), ' ', '_');
    if (field == "mass_kg") return plain(p.mass);
    if (field == "packs") return plain(p.packs);
    if (field == "state") return state;
    if (field == "place") return p.place;
    if (field == "condition") return p.condition;
    if (field == "eat_by") return p.eat_by ? measure::to_iso(*p.eat_by) : "none";
    if (field == "facts") return p.facts.empty() ? "none" : fmt::format("{}", fmt::join(p.facts, ","));
    if (field == "parents") return std::to_string(p.parents.size());
    return "no such field";
  }

  static std::string batch_field(const State& s, const std::string& name, const std::string& field) {
    const auto it = s.batches.find(id_of(name));
    if (it == s.batches.end()) return "not there";
    const BatchState& b = it->second;
    if (field == "in_kg") return plain(b.in);
    if (field == "lost_kg") return plain(b.lost);
    if (field == "added_kg") return plain(b.added);
    if (field == "holds_kg") return plain(still_in(b));
    if (field == "finished") return b.finished ? "yes" : "no";
    if (field == "abandoned") return b.abandoned ? "yes" : "no";
    if (field == "stage") return b.current_stage.empty() ? "none" : b.current_stage;
    return "no such field";
  }

  std::string path_, file_;
  const Folder folder_;
  std::optional<Ledger> book_;
  int line_ = 0;
  Instant now_;
  Told last_told_;
  std::optional<measure::Refusal> refusal_;
  bool reversing_ = false;
  std::vector<Told> held_;
  State remembered_;
  std::vector<std::string> wrong_;
};

}  // namespace

std::vector<std::string> run_script(const std::string& path) { return Script(path).run(); }

}  // namespace stillroom::ledger::tests
