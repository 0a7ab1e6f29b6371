#include <fmt/core.h>

#include <charconv>
#include <fstream>
#include <sstream>

#include "mrcpsp.h"

namespace stillroom::bench {

namespace {

tl::unexpected<measure::Refusal> bad_usage(std::string what) {
  return measure::refuse("bad_usage", std::move(what), {"see stillroom-bench mrcpsp --help"});
}

template <class Number>
bool read_number(const std::string& text, Number least, Number& out) {
  if constexpr (std::is_integral_v<Number>) {
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
    return error == std::errc() && end == text.data() + text.size() && out >= least;
  } else {
    std::istringstream in(text);
    return (in >> out) && in.eof() && out >= least;
  }
}

}  // namespace

measure::Result<MrcpspOptions> parse_mrcpsp_options(const std::vector<std::string>& arguments) {
  MrcpspOptions o;
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    const std::string& word = arguments[i];
    if (word == "--help") {
      o.help = true;
      return o;
    }
    if (!word.starts_with("--")) {
      o.files.push_back(word);
      continue;
    }
    if (i + 1 == arguments.size()) return bad_usage(fmt::format("{} needs a value.", word));
    const std::string& value = arguments[++i];
    bool good = true;
    if (word == "--schedules")
      good = read_number(value, 1L, o.schedules);
    else if (word == "--seconds")
      good = read_number(value, 0.001, o.seconds);
    else if (word == "--seed")
      good = read_number(value, std::uint64_t{0}, o.seed);
    else if (word == "--seeds")
      good = read_number(value, 1, o.seeds);
    else if (word == "--threads")
      good = read_number(value, 1, o.threads);
    else if (word == "--best")
      o.best = value;
    else if (word == "--clock")
      good = value == "wall" || value == "cpu";
    else
      return bad_usage(fmt::format("{} is not an option.", word));
    if (!good) return bad_usage(fmt::format("{} cannot be {}.", word, value));
    if (word == "--clock") o.cpu_clock = value == "cpu";
  }
  if (o.files.empty()) return bad_usage("No instance file is given.");
  if (o.schedules == 0 && o.seconds == 0) o.schedules = 50'000;
  return o;
}

measure::Result<std::map<std::string, BestKnown>> read_best_known(const std::string& path) {
  const auto bad = [&](std::string what) {
    return measure::refuse("bad_best_file", fmt::format("{}: {}", path, what),
                           {"give a CSV file with the columns instance,best_known,proved_optimal"});
  };
  std::ifstream file(path);
  if (!file) return bad("cannot be opened.");
  std::map<std::string, BestKnown> out;
  std::string line;
  std::getline(file, line);
  if (!line.starts_with("instance,best_known,proved_optimal")) return bad("the column titles are not as expected.");
  while (std::getline(file, line)) {
    if (line.empty()) continue;
    std::istringstream cells(line);
    std::string name, value, proved;
    std::getline(cells, name, ',');
    std::getline(cells, value, ',');
    std::getline(cells, proved, ',');
    BestKnown known{std::nullopt, proved == "yes"};
    int makespan = 0;
    if (read_number(value, 0, makespan))
      known.makespan = makespan;
    else if (value != "infeasible")
      return bad(fmt::format("the row of {} holds neither a makespan nor the word infeasible.", name));
    out[name] = known;
  }
  return out;
}

std::string instance_name(std::string_view path) {
  const std::size_t file = path.rfind('/');
  if (file == std::string_view::npos || file == 0) return std::string(path);
  const std::size_t folder = path.rfind('/', file - 1);
  return std::string(folder == std::string_view::npos ? path : path.substr(folder + 1));
}

}  // namespace stillroom::bench
