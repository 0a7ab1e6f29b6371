#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <deque>
#include <set>

#include "ledger/ledger.h"
#include "ledger/random_entries.h"
#include "ledger/support.h"

// Three devices without a signal, each with its outbox, and a network that loses requests, loses answers and lets
// old requests arrive again. What an outbox promises: it sends the oldest first and forgets only what was answered.
namespace stillroom::ledger::tests {
namespace {

constexpr std::size_t kDevices = 3;

/// One try of one device: how many of its oldest entries it sends, and what the network makes of it.
struct Try {
  int device = 0, most = 1;
  enum { arrives, answer_lost, request_lost, old_one_again } luck = arrives;
};
std::ostream& operator<<(std::ostream& os, const Try& t) {
  return os << "{device " << t.device << ", most " << t.most << ", luck " << t.luck << "}";
}

rc::Gen<std::vector<Try>> tries() {
  return rc::gen::container<std::vector<Try>>(rc::gen::map(
      rc::gen::tuple(rc::gen::inRange(0, 3), rc::gen::inRange(1, 6), rc::gen::inRange(0, 4)), [](const auto& t) {
        return Try{std::get<0>(t), std::get<1>(t), static_cast<decltype(Try::luck)>(std::get<2>(t))};
      }));
}

using Outboxes = std::array<std::vector<Entry>, kDevices>;

/// The book at the end, and in which order entries first came in.
struct Told {
  Ledger book;
  std::vector<Arrived> first;
};

Told told(const std::vector<Entry>& before, const Outboxes& outboxes, const std::vector<Try>& luck) {
  Told out{Ledger::open(":memory:").value(), {}};
  std::set<Id> known;
  std::size_t seconds = 0;
  const auto hear = [&](const Entry& e) {
    const Instant now = kNoon + std::chrono::hours(48) + std::chrono::seconds(seconds++);
    RC_ASSERT(out.book.append(e, now).has_value());
    if (known.insert(e.id).second) out.first.push_back({e, now});
  };
  for (const Entry& e : before) hear(e);
  std::array<std::deque<Entry>, kDevices> waiting;
  std::vector<Entry> on_its_way;  // requests that were heard and may be heard again
  for (std::size_t d = 0; d < kDevices; ++d) waiting.at(d).assign(outboxes.at(d).begin(), outboxes.at(d).end());
  const auto send = [&](std::deque<Entry>& mine, std::size_t most, bool answered) {
    const auto end = mine.begin() + static_cast<std::ptrdiff_t>(std::min(most, mine.size()));
    for (auto e = mine.begin(); e != end; ++e) {
      hear(*e);
      on_its_way.push_back(*e);
    }
    if (answered) mine.erase(mine.begin(), end);
  };
  for (const Try& t : luck) {
    auto& mine = waiting.at(static_cast<std::size_t>(t.device));
    if (t.luck == Try::arrives || t.luck == Try::answer_lost)
      send(mine, static_cast<std::size_t>(t.most), t.luck == Try::arrives);
    if (t.luck == Try::old_one_again && !on_its_way.empty())
      hear(on_its_way.at(static_cast<std::size_t>(t.most * 7) % on_its_way.size()));
  }
  for (auto& mine : waiting) send(mine, mine.size(), true);  // in the end everybody is in range
  return out;
}

State what_is_there(const Ledger& book) {
  State s = book.state();
  s.sequence = 0;
  s.last_entry = {};
  // Which of two entries found the other in the way depends on who was heard first; so does the order of words seen.
  s.discrepancies.clear();
  for (auto& [id, p] : s.parcels) std::sort(p.facts.begin(), p.facts.end());
  return s;
}

std::vector<Entry> furniture() {
  std::vector<Entry> all;
  for (const auto& [key, place] : furnished().places) all.push_back(fact("place " + key, PlaceSet{place}));
  all.push_back(fact("lot", plums("lot", 12)));
  for (const std::string name : {"red", "green"}) {
    all.push_back(fact("jars " + name, PutByBefore{.parcel = id_of(name),
                                                   .food = "bean",
                                                   .form = "canned",
                                                   .pack = "pint jar",
                                                   .packs = 6,
                                                   .mass = kilograms(3),
                                                   .place = "cellar"}));
  }
  return all;
}

/// What a person with a phone writes down in cellar and garden.
Payload in_the_cellar(const Step& s, std::size_t device, std::size_t n) {
  const Id jars = id_of(s.a % 2 == 0 ? "red" : "green");
  const Id one_of_them = s.a % 3 == 0 ? id_of("lot") : jars;
  const double packs = s.amount % 4;
  switch (s.kind % 9) {
    case 0:
    case 1:
      return Taken{jars, std::max(1.0, packs), ""};
    case 2:
      return Counted{jars, packs + s.b % 4};
    case 3:
      return GivenAway{jars, {}, std::max(1.0, packs), ""};
    case 4:
      return ThrownAway{jars, {}, std::max(1.0, packs), "mould"};
    case 5:
      return s.b % 2 == 0 ? Payload(EatenFresh{id_of("lot"), kilograms(1 + packs)})
                          : Payload(Weighed{id_of("lot"), kilograms(2 + packs)});
    case 6:
      return Moved{one_of_them, s.b % 2 == 0 ? "porch" : "fridge"};
    case 7:
      return s.b % 2 == 0 ? Payload(Observed{one_of_them, "soft", {"windfall"}})
                          : Payload(TemperatureRead{"cellar", packs, std::nullopt});
    default:
      return plums("lot of device " + std::to_string(device) + "." + std::to_string(n), 1 + packs);
  }
}

Outboxes cellar_outboxes(const std::vector<Step>& all) {
  Outboxes out;
  for (std::size_t n = 0; n < all.size(); ++n) {
    const std::size_t device = static_cast<std::size_t>(all[n].b / 4) % kDevices;
    // A minute later each time, on whichever phone: no two at once.
    out.at(device).push_back(
        {entry_id(n), kNoon + std::chrono::minutes(n + 1), "", false, in_the_cellar(all[n], device, n)});
  }
  return out;
}

RC_GTEST_PROP(ThreeDevices, StoreEverythingOnceAndInTheOrderOfEach, ()) {
  const auto all = *steps();
  Outboxes outboxes;
  for (std::size_t n = 0; n < all.size(); ++n) {
    Entry e = entry_of(all[n], n);
    e.live = false;
    outboxes.at(static_cast<std::size_t>(all[n].b / 4) % kDevices).push_back(std::move(e));
  }
  const Told end = told({}, outboxes, *tries());
  const auto kept = end.book.entries();
  RC_ASSERT(kept.size() == all.size());
  std::array<std::size_t, kDevices> next{};
  for (const Entry& e : kept) {
    bool is_next = false;
    for (std::size_t d = 0; d < kDevices; ++d) {
      if (next.at(d) == outboxes.at(d).size() || outboxes.at(d).at(next.at(d)).id != e.id) continue;
      is_next = true;
      ++next.at(d);
      break;
    }
    RC_ASSERT(is_next);
  }
  RC_ASSERT(end.book.check() == std::vector<std::string>{});
  std::vector<Arrived> first = end.first;
  for (std::size_t n = 0; n < kept.size(); ++n) first[n].entry = kept[n];  // as written down, to the milligram
  RC_ASSERT(fold_all(first) == end.book.state());
}

RC_GTEST_PROP(ThreeDevices, EndInTheSameHouseholdWhoeverIsHeardFirst, ()) {
  const Outboxes outboxes = cellar_outboxes(*steps());
  const Told one = told(furniture(), outboxes, *tries());
  const Told other = told(furniture(), outboxes, *tries());
  RC_ASSERT(what_is_there(one.book) == what_is_there(other.book));
  RC_ASSERT(other.book.check() == std::vector<std::string>{});
}

RC_GTEST_PROP(ThreeDevices, EndAsIfNobodyHadBeenOutOfRange, ()) {
  const Outboxes outboxes = cellar_outboxes(*steps());
  std::vector<Entry> in_time = furniture();
  const std::size_t begun = in_time.size();
  for (const auto& outbox : outboxes) in_time.insert(in_time.end(), outbox.begin(), outbox.end());
  std::sort(in_time.begin() + static_cast<std::ptrdiff_t>(begun), in_time.end(),
            [](const Entry& a, const Entry& b) { return a.happened < b.happened; });
  const Told live_all_along = told(in_time, {}, {});
  const Told late = told(furniture(), outboxes, *tries());
  RC_ASSERT(what_is_there(late.book) == what_is_there(live_all_along.book));
}

}  // namespace
}  // namespace stillroom::ledger::tests
