#include "report/json/earlier_check.h"

#include "base/errors.h"
#include "base/text/plain_line.h"
#include "report/json/json_report.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <optional>
#include <unordered_map>
#include <unordered_set>
#include <utility>
#include <vector>

namespace leastwall {
namespace {

/// Sorted by key: a list of keys in the order of the file is searched from its beginning for each
/// one that is read.
using Tree = nlohmann::json;
using Words = std::vector<std::pair<std::string, std::string>>;

constexpr std::size_t kMostItems = 20'000; ///< of a list; no check has more
constexpr std::size_t kLongest = 4000;     ///< of a text that is told, bytes

/// One check as its JSON tells it.
struct Told {
  ComparedWall whole; ///< "before" of everything
  std::vector<ComparedWall> walls;
  Words setup, meshes;
  Words stated; ///< every key of the job
  std::string title;
  std::vector<std::string> left_out;
};

/// Looks into one file; what is there must be of its kind.
class Reader {
 public:
  explicit Reader(const std::string& file) : file_(file) {}

  Told read(std::string_view bytes) const {
    if (bytes.size() > kLargestEarlierCheck)
      fault(fmt::format("is larger than {} MB; no JSON of a check is",
                        kLargestEarlierCheck / 1'000'000));
    const Tree json = Tree::parse(bytes, nullptr, false);
    if (json.is_discarded())
      fault("is no JSON, or damaged; --against takes what `check --json` wrote");
    const Tree* schema = json.is_object() ? find(json, "schema") : nullptr;
    if (!schema || !schema->is_string() ||
        !schema->get<std::string>().starts_with("leastwall/check/"))
      fault("is not the JSON of a check; --against takes what `check --json` wrote");
    if (*schema != kCheckSchemaId)
      fault(fmt::format("was written by another version ({}, this one reads {}); check the earlier "
                        "job again",
                        schema->get<std::string>(), kCheckSchemaId));
    Told told;
    told.whole = wall(json, "");
    told.title = text(json, "title");
    told.setup = setup(json);
    told.meshes = meshes(json);
    told.stated = stated(json);
    told.left_out = left_out(json);
    told.walls = walls(json);
    return told;
  }

 private:
  [[noreturn]] void fault(const std::string& what) const {
    throw InputError(fmt::format("{}: {}", file_, what));
  }
  [[noreturn]] void damaged(const std::string& where, const char* kind) const {
    fault(fmt::format("{} is no {}; the file is damaged", where, kind));
  }

  static const Tree* find(const Tree& in, const char* key) {
    const auto found = in.find(key);
    return found == in.end() ? nullptr : &*found;
  }
  /// Null where it is not told.
  const Tree* object(const Tree& in, const char* key) const {
    const Tree* found = find(in, key);
    if (found && !found->is_object())
      damaged(key, "object");
    return found;
  }
  const Tree& list(const Tree& in, const char* key) const {
    static const Tree kNone = Tree::array();
    const Tree* found = find(in, key);
    if (found && !found->is_array())
      damaged(key, "list");
    if (found && found->size() > kMostItems)
      fault(fmt::format("{} holds {} items; no check has so many", key, found->size()));
    return found ? *found : kNone;
  }
  std::optional<double> number(const Tree& in, const char* key) const {
    const Tree* found = find(in, key);
    if (!found)
      return std::nullopt;
    constexpr double kMost = 1e9; // no report holds more of anything
    if (!found->is_number() || !(std::abs(found->get<double>()) <= kMost))
      damaged(key, "number");
    return found->get<double>();
  }
  double needed(const Tree& in, const char* key) const {
    const std::optional<double> value = number(in, key);
    if (!value)
      damaged(key, "number");
    return *value;
  }
  std::string text(const Tree& in, const char* key) const {
    const Tree* found = find(in, key);
    if (!found)
      return {};
    if (!found->is_string())
      damaged(key, "text");
    return plain_line(found->get_ref<const std::string&>(), kLongest);
  }
  const Tree& of_list(const Tree& item, const char* key) const {
    if (!item.is_object())
      damaged(fmt::format("an item of {}", key), "object");
    return item;
  }

  ComparedWall wall(const Tree& in, std::string name) const {
    ComparedWall out;
    out.name = std::move(name);
    out.verdict_before = text(in, "verdict");
    constexpr std::array<std::string_view, 5> kVerdicts{"safe", "at-risk", "thin", "cut-through",
                                                        "unproven"};
    if (std::ranges::find(kVerdicts, out.verdict_before) == kVerdicts.end())
      fault("a verdict is missing or no verdict; the file is damaged");
    if (const Tree* least = object(in, "least_wall")) {
      out.expected_mm.before = needed(*least, "expected_mm");
      out.worst_mm.before = needed(*least, "worst_mm");
    }
    if (const Tree* chance = object(in, "chance"))
      out.too_thin.before = needed(*chance, "under_limit");
    if (out.too_thin.before.value_or(0) < 0 || out.too_thin.before.value_or(0) > 1)
      damaged("under_limit", "chance");
    return out;
  }

  std::vector<ComparedWall> walls(const Tree& json) const {
    std::vector<ComparedWall> out;
    for (const Tree& part : list(json, "parts"))
      for (const Tree& one : list(of_list(part, "parts"), "walls")) {
        of_list(one, "walls");
        const std::string name = text(part, "name");
        out.push_back(wall(one, fmt::format("{}{}{} to {}", name, name.empty() ? "" : ": ",
                                            text(one, "outer"), text(one, "inner"))));
      }
    return out;
  }

  Words setup(const Tree& json) const {
    Words out;
    if (const auto limit = number(json, "limit_mm"))
      out.emplace_back("limit", fmt::format("{:.3f} mm", *limit));
    if (const std::string basis = text(json, "verdict_basis"); !basis.empty())
      out.emplace_back("basis", basis);
    for (const Tree& cause : list(json, "causes")) {
      of_list(cause, "causes");
      std::string name = text(cause, "name"), known = text(cause, "known");
      if (name.empty())
        damaged("name of a cause", "text");
      if (const std::string side = text(cause, "side"); !side.empty())
        name += ", side " + side;
      for (const char* more : {"set_up", "board"})
        if (const auto n = number(cause, more))
          name += fmt::format(", {} {:.0f}", *more == 's' ? "set-up" : "board", *n);
      if (known.starts_with("u "))
        known.replace(0, 1, "standard");
      if (known == "from readings") // which ones is not told, what they do is
        if (const auto mm = number(cause, "at_thinnest_mm"))
          known += fmt::format(", {:+.3f} mm at the thinnest place", *mm);
      out.emplace_back(std::move(name), std::move(known));
    }
    return out;
  }

  Words meshes(const Tree& json) const {
    Words out;
    const Tree* meshes = object(json, "meshes");
    if (!meshes)
      return out;
    for (const char* side : {"pocket", "skin"})
      if (const Tree* mesh = object(*meshes, side)) {
        out.emplace_back(fmt::format("{}, file", side), text(*mesh, "file"));
        if (const auto n = number(*mesh, "triangles"))
          out.emplace_back(fmt::format("{}, triangles", side), fmt::format("{:.0f}", *n));
      }
    if (const auto top = number(*meshes, "top_z_mm"))
      out.emplace_back("pocket face", fmt::format("z {:.3f} mm", *top));
    if (const Tree* box = object(*meshes, "box_mm"))
      out.emplace_back("size", size(*box));
    return out;
  }

  std::string size(const Tree& box) const {
    std::string out;
    const Tree &low = list(box, "low"), &high = list(box, "high");
    for (std::size_t k = 0; k < 3; ++k) {
      if (low.size() != 3 || high.size() != 3 || !low[k].is_number() || !high[k].is_number())
        damaged("box_mm", "box");
      out +=
          fmt::format("{}{:.3f}", k > 0 ? " x " : "", high[k].get<double>() - low[k].get<double>());
    }
    return out + " mm";
  }

  Words stated(const Tree& json) const {
    Words out;
    for (const Tree& one : list(json, "stated")) {
      of_list(one, "stated");
      std::string key = text(one, "key");
      if (key.empty())
        damaged("key of an item of stated", "text");
      out.emplace_back(std::move(key), text(one, "value"));
    }
    return out;
  }

  /// Keys that the job does not state (line_of in base/assumption.h).
  std::vector<std::string> left_out(const Tree& json) const {
    std::vector<std::string> out;
    for (const Tree& line : list(json, "assumptions")) {
      if (!line.is_string())
        damaged("an item of assumptions", "text");
      const auto& words = line.get_ref<const std::string&>();
      const std::size_t end = words.find(" is not stated; ");
      if (end != std::string::npos && words.substr(0, end).find(' ') == std::string::npos)
        out.push_back(words.substr(0, end));
    }
    return out;
  }

  const std::string& file_;
};

/// What follows from files and not from keys: the effect of readings.
bool from_readings(const std::string& known) {
  return known.starts_with("from readings");
}

/// The k-th of a name stands beside the k-th of that name.
std::vector<ComparedWords> differences(const Words& before, const Words& after) {
  std::unordered_map<std::string_view, std::deque<std::size_t>> places;
  for (std::size_t i = 0; i < after.size(); ++i)
    places[after[i].first].push_back(i);
  std::vector<unsigned char> taken(after.size(), 0);
  std::vector<ComparedWords> out;
  for (const auto& [what, value] : before) {
    const auto same = places.find(what);
    if (same == places.end() || same->second.empty()) {
      out.push_back({what, value, ""});
      continue;
    }
    const std::size_t i = same->second.front();
    same->second.pop_front();
    taken[i] = 1;
    if (after[i].second != value)
      out.push_back({what, value, after[i].second});
  }
  for (std::size_t i = 0; i < after.size(); ++i)
    if (taken[i] == 0)
      out.push_back({after[i].first, "", after[i].second});
  return out;
}

/// What the keys of two jobs tell, and what readings do.
std::vector<ComparedWords> setup_by_keys(const Told& then, const Told& now) {
  std::vector<ComparedWords> out = differences(then.stated, now.stated);
  for (ComparedWords& row : out)
    for (std::string* side : {&row.before, &row.after})
      if (side->empty())
        *side = "not stated";
  for (ComparedWords& row : differences(then.setup, now.setup))
    if (from_readings(row.before) || from_readings(row.after))
      out.push_back(std::move(row));
  return out;
}

std::vector<std::string> only_in(const std::vector<std::string>& some,
                                 const std::vector<std::string>& others) {
  const std::unordered_set<std::string_view> known(others.begin(), others.end());
  std::vector<std::string> out;
  for (const std::string& one : some)
    if (!known.contains(one))
      out.push_back(one);
  return out;
}

void put_beside(ComparedWall& wall, const ComparedWall& now) {
  wall.verdict_after = now.verdict_before;
  wall.expected_mm.after = now.expected_mm.before;
  wall.worst_mm.after = now.worst_mm.before;
  wall.too_thin.after = now.too_thin.before;
}

} // namespace

Comparison compared_checks(std::string_view before, const std::string& file,
                           std::string_view after) {
  const std::string own = "this check";
  Told then = Reader(file).read(before), now = Reader(own).read(after);
  Comparison out;
  out.file = file;
  out.whole = then.whole;
  put_beside(out.whole, now.whole);
  if (then.title != now.title) {
    out.title_before = then.title;
    out.title_after = now.title;
  }
  out.by_keys = !then.stated.empty() && !now.stated.empty();
  out.setup = out.by_keys ? setup_by_keys(then, now) : differences(then.setup, now.setup);
  out.meshes = differences(then.meshes, now.meshes);
  if (!out.by_keys) {
    out.stated_now = only_in(then.left_out, now.left_out);
    out.left_out_now = only_in(now.left_out, then.left_out);
  }
  const bool several = now.walls.size() > 1 || then.walls.size() > 1;
  for (ComparedWall& wall : then.walls) {
    const auto same = std::ranges::find(now.walls, wall.name, &ComparedWall::name);
    if (!several)
      continue;
    if (same == now.walls.end()) {
      ++out.walls_of_one;
      continue;
    }
    put_beside(wall, *same);
    now.walls.erase(same);
    out.walls.push_back(std::move(wall));
  }
  if (several)
    out.walls_of_one += now.walls.size();
  return out;
}

void require_earlier_check(std::string_view before, const std::string& file) {
  Reader(file).read(before);
}

} // namespace leastwall
