#include "report/sheet/drill_text.h"

#include "base/text/listed.h"
#include "report/sheet/sheet_text.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

/// "X 86.00   Y 58.00 and X ...", in program coordinates of the side.
std::string places_of_holes(const std::vector<Point2>& places, bool inch) {
  std::vector<std::string> out;
  for (const Point2& at : places)
    out.push_back(sheet_place(at, inch, 2));
  return listed(out);
}

/// Holes that one drill makes alike.
struct Group {
  const HoleMark* first;
  std::vector<std::string> names;
  std::vector<Point2> places;
};

std::vector<Group> groups_of(const SetupSheetInput& input, Side side) {
  std::vector<Group> groups;
  for (const HoleMark& hole : input.holes) {
    if (hole.side != side || (input.step && input.step->set_up != hole.set_up))
      continue;
    const auto alike = std::ranges::find_if(groups, [&hole](const Group& group) {
      const HoleMark& first = *group.first;
      return first.diameter_mm == hole.diameter_mm && first.depth_mm == hole.depth_mm &&
             first.flat == hole.flat && first.through == hole.through;
    });
    Group& group = alike != groups.end() ? *alike : groups.emplace_back(Group{&hole, {}, {}});
    if (std::ranges::find(group.names, hole.name) == group.names.end())
      group.names.push_back(hole.name);
    group.places.push_back(side_place(input.setup.flip, side, hole.at));
  }
  return groups;
}

} // namespace

std::vector<std::string> drill_text(const SetupSheetInput& input, Side side, bool inch) {
  const std::vector<Group> groups = groups_of(input, side);
  std::vector<std::string> out;
  for (const Group& group : groups) {
    const HoleMark& hole = *group.first;
    const std::string depth = hole.depth_mm > 0 ? fmt::format("{} deep under the {} face{}",
                                                              sheet_length(hole.depth_mm, inch, 2),
                                                              side == Side::a ? "pocket" : "skin",
                                                              hole.through ? ", through"
                                                              : hole.flat  ? ""
                                                                           : " to its tip")
                                                : std::string("its depth is not stated");
    const bool same_drill = std::ranges::any_of(groups, [&group](const Group& earlier) {
      return &earlier < &group && earlier.first->diameter_mm == group.first->diameter_mm &&
             earlier.first->flat == group.first->flat;
    });
    out.push_back(fmt::format("{} {} for {}: {}, at {}. {}", hole.flat ? "Flat drill" : "Drill",
                              sheet_length(hole.diameter_mm, inch, 2), listed(group.names), depth,
                              places_of_holes(group.places, inch),
                              same_drill ? "The same drill." : "Touches Z zero again."));
  }
  return out;
}

std::string drills_in_brief(const SetupSheetInput& input, Side side, bool inch) {
  std::vector<std::string> sizes;
  for (const Group& group : groups_of(input, side)) {
    std::string size = sheet_length(group.first->diameter_mm, inch, 2);
    if (std::ranges::find(sizes, size) == sizes.end())
      sizes.push_back(std::move(size));
  }
  return sizes.empty() ? std::string()
                       : fmt::format("{} of {}: {} Z zero again; the sheet has every hole.",
                                     sizes.size() == 1 ? "Drill" : "Drills", listed(sizes),
                                     sizes.size() == 1 ? "touches" : "touch");
}

} // namespace leastwall
