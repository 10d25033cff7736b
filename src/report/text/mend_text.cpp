#include "report/text/mend_text.h"

#include "report/text/paragraphs.h"
#include "report/words/verdict_text.h"
#include "report/words/wall_name.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kLeftStanding_mm = 0.1;

std::string place(Vec3 at) {
  return fmt::format("x {:.1f} y {:.1f} z {:.1f}", at.x, at.y, at.z);
}

std::string walls(const MendReport::Least& least) {
  return fmt::format("{:.3f} mm as drawn, {:.3f} mm expected, {:.3f} mm at worst", least.design_mm,
                     least.expected_mm, least.worst_mm);
}

void add_verdict(const CheckReport& check, Paragraphs& lines) {
  lines.para(fmt::format("The check of {}: {}.", check.walls.size() > 1 ? "the whole job" : "it",
                         headline_line(check)));
  for (const Notice& n : look_first(check))
    lines.para("LOOK FIRST: " + n.text);
}

} // namespace

std::string mend_text(const MendReport& made, const CheckReport& check, const std::string& file,
                      bool inch) {
  Paragraphs lines(LengthText{inch});
  lines.para(fmt::format("MENDED: {}", file));
  lines.para(fmt::format("{} changed only where its wall needs it.", made.pocket));
  add_verdict(check, lines);
  for (const NamedWall& wall : check.walls)
    if (check.walls.size() > 1 && wall.wall.verdict != Verdict::safe)
      lines.para(fmt::format("{} holds now; {} does not.", made.pocket, wall_name(wall)));
  lines.para(
      fmt::format("Least wall before: {}, at {}.", walls(made.before), place(made.before.at)),
      "  - ");
  lines.para(fmt::format("Least wall now: {}, at {}; limit {:.3f} mm.", walls(made.after),
                         place(made.after.at), made.limit_mm),
             "  - ");
  lines.para(fmt::format("Changed: {:.1f} mm2 of its surface, {:.2f} mm3 less room, at most {:.3f} "
                         "mm, at {}.",
                         made.area_mm2, made.volume_mm3, made.largest_mm, place(made.largest_at)),
             "  - ");
  lines.para(fmt::format("{} of {} facets are new or changed; all others are as they were.",
                         made.changed, made.facets),
             "  - ");
  if (made.left_out > 0)
    lines.para(
        fmt::format("{} facets of the old file that have no area or are there twice were left "
                    "out; {} edges of the new one are open.",
                    made.left_out, made.open_edges),
        "  - ");
  lines.para(
      made.unreached_mm > kLeftStanding_mm
          ? fmt::format("A ball of radius {:.2f} mm does not reach all of it: where it did "
                        "not fit before either, it leaves up to {:.2f} mm more wood standing, "
                        "most at {}.",
                        made.ball_radius_mm, made.unreached_mm, place(made.unreached_at))
          : fmt::format("A ball of radius {:.2f} mm reaches all that was changed.",
                        made.ball_radius_mm));
  lines.para("Paths of the cutter and what they leave standing are not in it.");
  lines.para(
      "Advice, never a guarantee: look at the pocket in a modelling program before you cut.");
  return lines.take();
}

std::string nothing_to_mend_text(const std::string& pocket, const CheckReport& check, bool inch) {
  Paragraphs lines(LengthText{inch});
  lines.para("NOTHING TO MEND");
  lines.para(fmt::format("The walls of {} hold as they are; nothing was written.", pocket));
  add_verdict(check, lines);
  return lines.take();
}

} // namespace leastwall
