#include "setup/wood_table.h"

#include "base/errors.h"

#include <array>
#include <cmath>
#include <fmt/format.h>
#include <string>

namespace leastwall {
namespace {

constexpr std::nullopt_t kNone = std::nullopt;
constexpr std::string_view kMemory = "specific gravity and stiffness from memory";

// name, C_R, C_T, shrinkage R T V, G12, E, density = 1120 G12 (Eq. 4-10 at 12 %), remark
constexpr std::array<WoodSpecies, 10> kSpecies = {{
    {"sugar maple", .00165, .00353, 4.8, 9.9, 14.7, .63, 12600.0, 705.6, ""},
    {"black walnut", .00190, .00274, 5.5, 7.8, 12.8, .55, 11600.0, 616.0, kMemory},
    {"black cherry", .00126, .00248, 3.7, 7.1, 11.5, .50, 10300.0, 560.0, ""},
    {"white oak", .00180, .00365, 5.6, 10.5, 16.3, .68, 12300.0, 761.6,
     "coefficients are those of the trade group, shrinkage that of the species"},
    {"red oak", .00158, .00369, kNone, kNone, kNone, kNone, kNone, kNone, "trade group"},
    {"American beech", .00190, .00431, 5.5, 11.9, 17.2, .64, 11900.0, 716.8, ""},
    {"American basswood", .00230, .00330, 6.6, 9.3, 15.8, .37, 10100.0, 414.4, ""},
    {"yellow-poplar", .00158, .00289, 4.6, 8.2, 12.7, .42, 10900.0, 470.4, ""},
    {"mahogany", .00172, .00238, 3.0, 4.1, 7.8, kNone, 10300.0, kNone,
     "stiffness from memory; the Handbook's coefficients and shrinkage disagree"},
    {"white fir", .00112, .00245, kNone, kNone, kNone, kNone, kNone, kNone, "Handbook example"},
}};

std::string plain(std::string_view text) {
  std::string out;
  for (char c : text)
    out += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c == '-' || c == '_' ? ' ' : c;
  return out;
}

} // namespace

std::span<const WoodSpecies> wood_species() {
  return kSpecies;
}

const WoodSpecies& find_wood(std::string_view name) {
  const std::string wanted = plain(name);
  std::string known;
  const WoodSpecies* part = nullptr;
  bool several = false;
  for (const WoodSpecies& s : kSpecies) {
    const std::string full = plain(s.name);
    if (full == wanted)
      return s;
    // "maple" for "sugar maple": the last word, when only one species ends with it.
    if (!wanted.empty() && full.size() > wanted.size() &&
        full.compare(full.size() - wanted.size() - 1, std::string::npos, " " + wanted) == 0) {
      several = several || part != nullptr;
      part = &s;
    }
    known += (known.empty() ? "" : ", ") + std::string(s.name);
  }
  if (part != nullptr && !several)
    return *part;
  throw InputError(
      fmt::format("wood: \"{}\" is {}; known are {}; or state the swelling per percent", name,
                  several ? "more than one species" : "not in the table", known));
}

} // namespace leastwall
