#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "measure/amount.h"
#include "measure/quantity.h"
#include "measure/time.h"

/// Numbers as a person would say them, in the household's units; exact on request. What is printed here is read back
/// by parse_amount to within the rounding given.
namespace stillroom::measure {

enum class Detail { rounded, exact };

/// us: "6½ oz", quarters below 8 oz, "4 lb 6 oz" below 10 lb, "84 lb" above, "1,240 lb" to the nearest 10 from 1,000
/// lb. metric: "380 g", "2.5 kg" below 10 kg, "38 kg" above.  exact: to 0.1 oz or 1 g.
[[nodiscard]] std::string say(Mass m, Units units, Detail detail = Detail::rounded);
/// us: tsp, tbsp, cups, qt (to a quarter), gal from 4 qt.  metric: "250 ml", "2.5 L".  exact: 0.01 of the unit, 1 ml.
[[nodiscard]] std::string say(Volume v, Units units, Detail detail = Detail::rounded);
/// "100 °F", "38 °C"; exact to 0.1.
[[nodiscard]] std::string say(Temperature t, Units units, Detail detail = Detail::rounded);
/// "2,900 ft", "884 m": whole units, since an altitude decides a heat process; exact to 0.1.
[[nodiscard]] std::string say(Altitude a, Units units, Detail detail = Detail::rounded);
/// "30 s", "20 min", "1 h 20 min", from 10 h "about 14 h", from 36 h "about 2 days", weeks, months, years; "about" is
/// left off where nothing was rounded away. exact: "2 days 3 h 5 min".
[[nodiscard]] std::string say(Duration d, Detail detail = Detail::rounded);
/// Minutes and nothing else, never rounded down: "85 min". For heat process times.
[[nodiscard]] std::string say_minutes(Duration d);
/// An amount of any kind: "1½ pecks", "half a bushel", "3 five-gallon buckets", "7 quart jars", "12".
[[nodiscard]] std::string say(const Amount& a, Units units, Detail detail = Detail::rounded);
/// "7 quart jars", "1 quart jar", "half a bag", "1½ bags". `noun` is singular, words or a key ("quart_jar").
[[nodiscard]] std::string say_count(double n, std::string_view noun);
/// The plural of an English noun or noun phrase: "box" "boxes", "loaf" "loaves", "bag of peas" "bags of peas".
[[nodiscard]] std::string plural(std::string_view noun);
/// "1,240", "1½", "0.3": thousands commas, halves and quarters as signs, otherwise at most two decimals.
[[nodiscard]] std::string say_number(double n);
/// "$0.45", "$12.40", "$140" (whole dollars from $100); exact keeps the cents. Below zero: "-$3.00".
[[nodiscard]] std::string say_money(double dollars, Detail detail = Detail::rounded);
/// "Monday".
[[nodiscard]] std::string_view say_weekday(Date day);
/// "today", "tomorrow", "yesterday", the weekday within six days ahead, else "Fri 14 Aug", with the year when it
/// differs.
[[nodiscard]] std::string say_day(Date day, Date today);
/// us "6:30 am", "noon" is "12:00 pm"; metric "06:30".
[[nodiscard]] std::string say_clock(LocalTime t, Units units);
/// "pears, plums and quinces".
[[nodiscard]] std::string say_list(const std::vector<std::string>& words);

/// Steps to turn one word into another by inserting, deleting, replacing a letter or swapping two neighbours, each
/// stretch edited once (restricted Damerau-Levenshtein distance); upper and lower case are the same.
[[nodiscard]] int edit_distance(std::string_view a, std::string_view b);
/// At most `most` candidates that `typed` may have meant, nearest first, ties in the order given. Near is a third of
/// the longer word's letters (at least one) or a shared beginning of three letters or more. An exact match comes alone.
[[nodiscard]] std::vector<std::string> suggest(std::string_view typed, const std::vector<std::string>& candidates,
                                               std::size_t most = 3);

/// ASCII letters in lower case, all else as it is.
[[nodiscard]] std::string lowered(std::string_view text);

}  // namespace stillroom::measure
