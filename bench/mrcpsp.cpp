#include "mrcpsp.h"

#include <fmt/core.h>

#include <chrono>
#include <ctime>

#include "commands.h"
#include "mrcpsp_reader.h"
#include "scheduling/project_search.h"

namespace stillroom::bench {

namespace {

using scheduling::Project;
using scheduling::ProjectSearchResult;

constexpr const char* kHelp = R"(Usage: stillroom-bench mrcpsp FILE... [OPTIONS]
Finds short schedules for public project-scheduling instances: .mm (multi-mode), .rcp (single mode), .sch (minimum and
maximum lags). Prints instance,makespan,schedules,seconds,feasible as CSV; feasible is yes, no (none found) or
infeasible (proved; the reason goes to the error stream).
  --schedules N   budget in complete schedules per instance (a forward-backward pass counts two); default 50000
  --seconds S     budget in seconds per instance; alone or with --schedules, whichever ends first
  --seed K        first seed, default 1
  --seeds N       runs per instance with seeds K, K+1, ...; default 1
  --threads T     default 2; never changes the result of a schedule budget
  --clock C       wall (default) or cpu: each thread's own processor time, for a machine shared with other work
  --best FILE     CSV of best known makespans; adds a summary per folder, in lines that begin with #
)";

/// Seconds since the calling thread first asked, on its own processor clock.
double thread_seconds() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// A clock for one run. The processor clock counts, per thread, from its first look within the run.
std::function<double()> start_clock(bool cpu) {
  if (!cpu) {
    const auto begin = std::chrono::steady_clock::now();
    return [begin] { return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count(); };
  }
  static long runs = 0;
  const long run = ++runs;
  return [run] {
    thread_local long seen = 0;
    thread_local double begin = 0;
    if (seen != run) {
      seen = run;
      begin = thread_seconds();
    }
    return thread_seconds() - begin;
  };
}

struct Tally {
  int runs = 0, feasible = 0, proved_infeasible = 0, hits = 0, with_best = 0, wrong = 0;
  double gap = 0, from_critical_path = 0, seconds = 0;
  long schedules = 0;

  void print(const std::string& name) const {
    const auto mean = [](double sum, int count) { return count > 0 ? sum / count : 0; };
    fmt::print(
        "# {}: runs {}, feasible {}, proved infeasible {}, mean gap {:.3f} %, hits {} of {}, "
        "from critical path {:.2f} %, {:.0f} schedules/s\n",
        name, runs, feasible, proved_infeasible, mean(gap, with_best), hits, with_best,
        mean(from_critical_path, feasible), seconds > 0 ? static_cast<double>(schedules) / seconds : 0);
  }
};

class Runner {
 public:
  Runner(const MrcpspOptions& options, std::map<std::string, BestKnown> best)
      : options_(options), best_(std::move(best)) {}

  int run() {
    fmt::print("instance,makespan,schedules,seconds,feasible\n");
    for (const std::string& path : options_.files) {
      const auto project = read_instance(path);
      if (!project) {
        complain(path, project.error().message);
        continue;
      }
      for (int k = 0; k < options_.seeds; ++k) one(path, *project, options_.seed + static_cast<std::uint64_t>(k));
    }
    if (!options_.best.empty()) {
      for (const auto& [folder, tally] : tallies_) tally.print(folder);
      if (tallies_.size() > 1) total_.print("all");
    }
    return failed_ ? 1 : 0;
  }

 private:
  void complain(const std::string& what, const std::string& message) {
    fmt::print(stderr, "{}: {}\n", what, message);
    failed_ = true;
  }

  void one(const std::string& path, const Project& project, std::uint64_t seed) {
    const std::string name = instance_name(path);
    scheduling::ProjectSearchOptions options;
    options.seed = seed;
    options.schedules = options_.schedules;
    options.seconds = options_.seconds;
    options.threads = options_.threads;
    const auto wall = start_clock(false);
    options.elapsed = start_clock(options_.cpu_clock);
    static_cast<void>(options.elapsed());  // the processor clock counts from here on
    const auto found = scheduling::search_project(project, options);
    if (!found) return complain(name, found.error().message);
    const double seconds = options_.cpu_clock ? options.elapsed() : wall();
    const long schedules = found->statistics.schedules;
    const char* feasible = found->impossible ? "infeasible" : found->best ? "yes" : "no";
    fmt::print("{},{},{},{:.3f},{}\n", name, found->best ? std::to_string(found->makespan) : "", schedules, seconds,
               feasible);
    if (found->impossible) fmt::print(stderr, "{}: {}\n", name, found->impossible->message);
    if (found->best) check(name, project, *found);
    count(name, project, *found, seconds);
  }

  void check(const std::string& name, const Project& project, const ProjectSearchResult& found) {
    for (const std::string& sentence : scheduling::check_schedule(project, *found.best))
      complain(name, "broken schedule: " + sentence);
    if (scheduling::makespan(project, *found.best) != found.makespan)
      complain(name, "the makespan is not that stated.");
  }

  void count(const std::string& name, const Project& project, const ProjectSearchResult& found, double seconds) {
    const auto known = best_.find(name);
    for (Tally* t : {&tallies_[name.substr(0, name.find('/'))], &total_}) {
      ++t->runs;
      t->seconds += seconds;
      t->schedules += found.statistics.schedules;
      t->proved_infeasible += found.impossible.has_value();
      if (!found.best) continue;
      ++t->feasible;
      const double base = scheduling::critical_path(project).value_or(0);
      if (base > 0) t->from_critical_path += 100 * (found.makespan - base) / base;
      if (known == best_.end() || !known->second.makespan) continue;
      const int best = *known->second.makespan;
      ++t->with_best;
      t->gap += 100.0 * (found.makespan - best) / std::max(1, best);
      t->hits += found.makespan <= best;
    }
    if (known == best_.end()) return;
    const auto& [makespan, proved] = known->second;
    if (proved && found.best && (!makespan || found.makespan < *makespan))
      complain(name, "better than a proved optimum: the check or the reader must be wrong.");
    if (makespan && found.impossible) complain(name, "called infeasible, but a schedule is known.");
  }

  const MrcpspOptions& options_;
  std::map<std::string, BestKnown> best_;
  std::map<std::string, Tally> tallies_;
  Tally total_;
  bool failed_ = false;
};

}  // namespace

int mrcpsp(const std::vector<std::string>& arguments) {
  const auto options = parse_mrcpsp_options(arguments);
  if (!options) {
    fmt::print(stderr, "{}\n", options.error().message);
    return 2;
  }
  if (options->help) {
    fmt::print("{}", kHelp);
    return 0;
  }
  std::map<std::string, BestKnown> best;
  if (!options->best.empty()) {
    auto read = read_best_known(options->best);
    if (!read) {
      fmt::print(stderr, "{}\n", read.error().message);
      return 2;
    }
    best = std::move(*read);
  }
  return Runner(*options, std::move(best)).run();
}

}  // namespace stillroom::bench
