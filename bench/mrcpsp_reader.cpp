#include "mrcpsp_reader.h"

#include <fmt/core.h>

#include <cctype>
#include <charconv>
#include <fstream>
#include <optional>
#include <span>
#include <sstream>
#include <vector>

namespace stillroom::bench {

namespace {

using measure::Result;
using scheduling::Amount;
using scheduling::Lag;
using scheduling::Mode;
using scheduling::Project;

constexpr int kMostActivities = 100'000, kMostResources = 64, kLargest = 1'000'000;

tl::unexpected<measure::Refusal> bad_instance(std::string what) {
  return measure::refuse("bad_instance", std::move(what),
                         {"check that the file is complete and of the kind its ending says"});
}

/// Lower-case letters of a line without blanks and signs, so that titles compare whatever their layout.
std::string letters(std::string_view line) {
  std::string out;
  for (const char c : line)
    if (std::isalpha(static_cast<unsigned char>(c))) out += static_cast<char>(std::tolower(c));
  return out;
}

/// The whole numbers of a line, in order; nothing if any other word stands in it.
std::optional<std::vector<int>> numbers(std::string_view line) {
  std::vector<int> out;
  const char *p = line.data(), *end = p + line.size();
  while (p != end) {
    if (std::isspace(static_cast<unsigned char>(*p)) || *p == '[' || *p == ']') {
      ++p;
      continue;
    }
    int value = 0;
    const auto [next, error] = std::from_chars(p, end, value);
    if (error != std::errc() || value > kLargest || value < -kLargest) return std::nullopt;
    if (next != end && !std::isspace(static_cast<unsigned char>(*next)) && *next != ']' && *next != '[')
      return std::nullopt;
    out.push_back(value);
    p = next;
  }
  return out;
}

struct Line {
  int number = 0;
  std::string_view text;
};

std::vector<Line> lines_of(std::string_view text) {
  std::vector<Line> out;
  for (int number = 1; !text.empty(); ++number) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    out.push_back({number, line});
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return out;
}

/// The number after the colon of a header line such as "- renewable : 2 R".
std::optional<int> number_after_colon(std::string_view line) {
  const std::size_t colon = line.find(':');
  if (colon == std::string_view::npos) return std::nullopt;
  std::istringstream rest{std::string(line.substr(colon + 1))};
  int value = 0;
  if (!(rest >> value)) return std::nullopt;
  return value;
}

/// Reads a multi-mode file section by section.
class MultiModeReader {
 public:
  explicit MultiModeReader(std::string_view text) : lines_(lines_of(text)) {}

  Result<Project> read() {
    for (const Line& line : lines_) {
      const std::string title = letters(line.text);
      if (title.starts_with("precedencerelations"))
        section_ = Section::precedence;
      else if (title.starts_with("requestsdurations"))
        section_ = Section::requests;
      else if (title.starts_with("resourceavailabilit"))
        section_ = Section::availability;
      else if (title.starts_with("projectinformation"))
        section_ = Section::skip;
      else if (auto done = content(line, title); !done)
        return tl::unexpected(done.error());
    }
    return finish();
  }

 private:
  enum class Section { header, skip, precedence, requests, availability };

  Result<void> content(const Line& line, const std::string& title) {
    if (section_ == Section::header) return header(line, title);
    if (section_ == Section::skip || line.text.empty()) return {};
    if (line.text.find_first_not_of("*- \t") == std::string_view::npos) return {};
    const auto values = numbers(line.text);
    // Lines with words inside a section are its column titles ("R 1 R 2 N 1 N 2").
    if (!values) return title.empty() ? wrong(line, "is not a row of whole numbers") : Result<void>{};
    if (values->empty()) return {};
    if (section_ == Section::precedence) return precedence(line, *values);
    if (section_ == Section::requests) return requests(line, *values);
    return availability(line, *values);
  }

  Result<void> header(const Line& line, const std::string& title) {
    int* target = nullptr;
    if (title.starts_with("jobs")) target = &jobs_;
    if (title.starts_with("renewable")) target = &renewable_;
    if (title.starts_with("nonrenewable")) target = &nonrenewable_;
    if (title.starts_with("doublyconstrained")) target = &doubly_;
    if (!target) return {};
    const auto value = number_after_colon(line.text);
    if (!value || *value < 0 || *value > (target == &jobs_ ? kMostActivities : kMostResources))
      return wrong(line, "has no usable number after its colon");
    *target = *value;
    return {};
  }

  Result<void> precedence(const Line& line, const std::vector<int>& v) {
    if (v.size() < 3 || v.size() != 3 + static_cast<std::size_t>(std::max(0, v[2])))
      return wrong(line, "does not hold as many successors as it says");
    if (v[0] != static_cast<int>(mode_count_.size()) + 1) return wrong(line, "is out of order");
    if (v[1] < 1) return wrong(line, "gives an activity without a mode");
    mode_count_.push_back(v[1]);
    for (std::size_t k = 3; k < v.size(); ++k) {
      if (v[k] < 1 || v[k] > jobs_) return wrong(line, fmt::format("names activity {}, which does not exist", v[k]));
      project_.lags.push_back({v[0] - 1, v[k] - 1, 0, Lag::Kind::finish_to_start});
    }
    return {};
  }

  Result<void> requests(const Line& line, const std::vector<int>& all) {
    std::span<const int> v = all;
    const auto width = static_cast<std::size_t>(2 + renewable_ + nonrenewable_);
    if (v.size() == width + 1) {
      if (v.front() != static_cast<int>(project_.activities.size()) + 1) return wrong(line, "is out of order");
      project_.activities.emplace_back();
      v = v.subspan(1);
    }
    if (v.size() != width || project_.activities.empty())
      return wrong(line, fmt::format("should hold mode, duration and {} demands", width - 2));
    auto& modes = project_.activities.back().modes;
    if (v[0] != static_cast<int>(modes.size()) + 1) return wrong(line, "is out of order");
    const std::size_t job = project_.activities.size() - 1;
    if (job >= mode_count_.size() || v[0] > mode_count_[job])
      return wrong(line, fmt::format("gives job {} more modes than announced", job + 1));
    for (const int x : v)
      if (x < 0) return wrong(line, "holds a negative number");
    modes.push_back({v[1], {v.begin() + 2, v.begin() + 2 + renewable_}, {v.begin() + 2 + renewable_, v.end()}});
    return {};
  }

  Result<void> availability(const Line& line, const std::vector<int>& v) {
    if (v.size() != static_cast<std::size_t>(renewable_ + nonrenewable_) || have_availability_)
      return wrong(line, fmt::format("should hold {} availabilities, once", renewable_ + nonrenewable_));
    for (const int x : v)
      if (x < 0) return wrong(line, "holds a negative number");
    project_.renewable.assign(v.begin(), v.begin() + renewable_);
    project_.nonrenewable.assign(v.begin() + renewable_, v.end());
    have_availability_ = true;
    return {};
  }

  Result<Project> finish() {
    if (jobs_ < 1 || renewable_ < 0 || nonrenewable_ < 0)
      return bad_instance("The header does not give the numbers of jobs and of resources.");
    if (doubly_ > 0) return bad_instance("Doubly constrained resources are not supported.");
    if (static_cast<int>(mode_count_.size()) != jobs_)
      return bad_instance(fmt::format("The precedence section holds {} of {} jobs.", mode_count_.size(), jobs_));
    if (static_cast<int>(project_.activities.size()) != jobs_)
      return bad_instance(fmt::format("The request section holds {} of {} jobs.", project_.activities.size(), jobs_));
    for (std::size_t i = 0; i < mode_count_.size(); ++i)
      if (static_cast<int>(project_.activities[i].modes.size()) != mode_count_[i])
        return bad_instance(fmt::format("Job {} has {} modes where {} are announced.", i + 1,
                                        project_.activities[i].modes.size(), mode_count_[i]));
    if (!have_availability_ && renewable_ + nonrenewable_ > 0)
      return bad_instance("The section with the resource availabilities is missing.");
    return std::move(project_);
  }

  static Result<void> wrong(const Line& line, std::string_view what) {
    return bad_instance(fmt::format("Line {} {}.", line.number, what));
  }

  std::vector<Line> lines_;
  Section section_ = Section::header;
  int jobs_ = 0, renewable_ = -1, nonrenewable_ = -1, doubly_ = 0;
  std::vector<int> mode_count_;
  bool have_availability_ = false;
  Project project_;
};

/// Bare numbers one after another. Remembers the first thing that was wrong; from then on every number reads as the
/// least allowed, so that a reader may go on to its end and look at error() once.
class NumberStream {
 public:
  explicit NumberStream(std::string_view text) {
    for (const Line& line : lines_of(text)) {
      const auto values = numbers(line.text);
      if (!values) fail(fmt::format("Line {} holds something other than whole numbers.", line.number));
      if (values) values_.insert(values_.end(), values->begin(), values->end());
    }
  }
  int next(const std::string& what, int low, int high) {
    if (error_) return low;
    if (at_ == values_.size()) return fail(fmt::format("The file ends before {}.", what)), low;
    const int v = values_[at_++];
    if (v >= low && v <= high) return v;
    fail(fmt::format("Number {} of the file ({}) is {}; it should lie in {} to {}.", at_, what, v, low, high));
    return low;
  }
  std::vector<Amount> next_amounts(int count, const std::string& what) {
    std::vector<Amount> out;
    for (int k = 0; k < count; ++k) out.push_back(next(what, 0, kLargest));
    return out;
  }
  void expect_end() {
    if (at_ != values_.size()) fail("Numbers are left over at the end of the file.");
  }
  [[nodiscard]] bool failed() const { return error_.has_value(); }
  [[nodiscard]] Result<Project> result(Project p) const {
    if (error_) return bad_instance(*error_);
    return p;
  }

 private:
  void fail(std::string what) {
    if (!error_) error_ = std::move(what);
  }
  std::vector<int> values_;
  std::size_t at_ = 0;
  std::optional<std::string> error_;
};

Result<Project> patterson(NumberStream in) {
  Project p;
  const int n = in.next("the number of activities", 1, kMostActivities);
  const int resources = in.next("the number of resources", 0, kMostResources);
  p.renewable = in.next_amounts(resources, "a capacity");
  for (int i = 0; i < n && !in.failed(); ++i) {
    const std::string of = fmt::format("of activity {}", i + 1);
    const int duration = in.next("the duration " + of, 0, kLargest);
    p.activities.push_back({{Mode{duration, in.next_amounts(resources, "a demand " + of), {}}}});
    const int successors = in.next("the number of successors " + of, 0, n);
    for (int k = 0; k < successors; ++k)
      p.lags.push_back({i, in.next("a successor " + of, 1, n) - 1, 0, Lag::Kind::finish_to_start});
  }
  in.expect_end();
  return in.result(std::move(p));
}

Result<Project> with_lags(NumberStream in) {
  Project p;
  const int n = in.next("the number of activities", 0, kMostActivities) + 2;
  const int resources = in.next("the number of resources", 0, kMostResources);
  in.next("the number of non-renewable resources", 0, 0);
  in.next("the number of doubly constrained resources", 0, 0);
  for (int i = 0; i < n && !in.failed(); ++i) {
    const std::string of = fmt::format("of activity {}", i);
    in.next("an activity number", i, i);
    in.next("the number of modes " + of, 1, 1);
    const int successors = in.next("the number of successors " + of, 0, n);
    const std::size_t first = p.lags.size();
    for (int k = 0; k < successors; ++k)
      p.lags.push_back({i, in.next("a successor " + of, 0, n - 1), 0, Lag::Kind::start_to_start});
    for (int k = 0; k < successors; ++k) p.lags[first + k].lag = in.next("a lag " + of, -kLargest, kLargest);
  }
  for (int i = 0; i < n && !in.failed(); ++i) {
    const std::string of = fmt::format("of activity {}", i);
    in.next("an activity number", i, i);
    in.next("the mode " + of, 1, 1);
    const int duration = in.next("the duration " + of, 0, kLargest);
    p.activities.push_back({{Mode{duration, in.next_amounts(resources, "a demand " + of), {}}}});
  }
  p.renewable = in.next_amounts(resources, "a capacity");
  in.expect_end();
  return in.result(std::move(p));
}

/// What every reader still owes: no activity follows itself, sizes agree.
Result<Project> checked(Result<Project> read) {
  if (!read) return read;
  if (const auto valid = scheduling::validate(*read); !valid) return bad_instance(valid.error().message);
  return read;
}

}  // namespace

Result<Project> read_multi_mode(std::string_view text) { return checked(MultiModeReader(text).read()); }

Result<Project> read_patterson(std::string_view text) { return checked(patterson(NumberStream(text))); }

Result<Project> read_lags(std::string_view text) { return checked(with_lags(NumberStream(text))); }

Result<Project> read_instance(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return measure::refuse("no_file", fmt::format("{} cannot be opened.", path), {"check the path"});
  std::ostringstream text;
  text << file.rdbuf();
  if (path.ends_with(".mm")) return read_multi_mode(text.str());
  if (path.ends_with(".rcp")) return read_patterson(text.str());
  if (path.ends_with(".sch")) return read_lags(text.str());
  return measure::refuse("unknown_kind", fmt::format("{} ends in neither .mm, .rcp nor .sch.", path),
                         {"rename the file after the kind of instance it holds"});
}

}  // namespace stillroom::bench
