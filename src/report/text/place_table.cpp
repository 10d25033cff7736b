#include "report/text/place_table.h"

#include "base/text/wrap_text.h"
#include "base/units.h"
#include "report/text/paragraphs.h"
#include "report/text/text_table.h"
#include "report/words/cause_text.h"
#include "report/words/number_text.h"

#include <algorithm>
#include <fmt/format.h>
#include <span>

namespace leastwall {
namespace {

constexpr std::size_t kMostPlaces = 10, kMostPlacesShort = 5;
constexpr int kPlaceColumns = 64; // of a thin place, without its cause

std::string short_area(double mm2) {
  return mm2 > 0 && mm2 < 0.05 ? "<0.1" : fixed_text(mm2, 1);
}

std::string worst_cause_of(const RegionRow& row) {
  return row.worst_cause ? cause_text_short(*row.worst_cause) : std::string();
}

class Writer : Paragraphs {
 public:
  Writer(const WallReport& wall, const TextOptions& options)
      : Paragraphs(LengthText{options.show_inch}, std::max(40, options.width)), wall_(wall),
        shown_(listed_places(wall, options)) {}

  std::string text() {
    if (wall_.regions.empty())
      para("No thin places: the wall stays above the limit everywhere, also in the worst case.");
    else
      table();
    return take();
  }

 private:
  void table() {
    const bool inch = words_.inch;
    para(inch ? "Thin places, numbered as in the picture (walls and x, y, z in inches, areas in "
                "square inches; below them mm and mm2):"
              : "Thin places, numbered as in the picture (walls and x, y, z in mm, areas in mm2):");
    const std::span<const RegionRow> rows(wall_.regions.data(), shown_);
    if (std::ranges::any_of(rows, [](const RegionRow& row) { return row.worst_mm <= 0; }))
      para("A wall under 0 is a hole, so much too deep.", "  ");
    // Millimetres beside inches and causes go into lines of their own where one line has no room
    // for them.
    bool wide = !inch;
    for (const RegionRow& row : rows)
      wide = wide && text_columns(worst_cause_of(row)) <= width_ - kPlaceColumns;
    TextTable table{
        {"no", "expected", "worst", "too thin", "at risk", "x", "y", "z", wide ? "mostly by" : ""},
        {false, false, false, false, false, false, false, false, true},
        {}};
    for (const RegionRow& row : rows) {
      table.rows.push_back({std::to_string(&row - rows.data() + 1), length(row.least_wall_mm),
                            length(row.worst_mm), shown_area(row.area_under_limit_mm2),
                            shown_area(row.area_mm2), words_.number(row.at.x, 1),
                            words_.number(row.at.y, 1), words_.number(row.at.z, 1),
                            wide ? worst_cause_of(row) : ""});
      table.below.push_back(wide ? "" : below(row));
    }
    out_ += text_table(table, width_);
    if (wall_.regions.size() > shown_)
      out_ += fmt::format("  and {} more\n", wall_.regions.size() - shown_);
  }

  std::string length(double mm) const { return words_.wall_number(mm, wall_.limit_mm); }

  std::string shown_area(double mm2) const {
    if (!words_.inch)
      return short_area(mm2);
    const double in2 = mm2 / (kMillimetresPerInch * kMillimetresPerInch);
    return in2 > 0 && in2 < 0.00005 ? "<0.0001" : fixed_text(in2, 4);
  }

  /// What has no room in the line of a place.
  std::string below(const RegionRow& row) const {
    std::string out;
    if (words_.inch)
      out = fmt::format(
          "({}, worst {} mm; {}, {} mm2; {} mm) ", wall_text(row.least_wall_mm, wall_.limit_mm),
          wall_text(row.worst_mm, wall_.limit_mm), short_area(row.area_under_limit_mm2),
          short_area(row.area_mm2), place_text(row.at));
    return row.worst_cause ? out + "mostly by " + worst_cause_of(row) : out;
  }

  const WallReport& wall_;
  std::size_t shown_;
};

} // namespace

std::size_t listed_places(const WallReport& wall, const TextOptions& options) {
  return std::min(options.all ? kMostPlaces : kMostPlacesShort, wall.regions.size());
}

std::string place_table(const WallReport& wall, const TextOptions& options) {
  return Writer(wall, options).text();
}

} // namespace leastwall
