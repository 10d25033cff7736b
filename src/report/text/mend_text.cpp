#include "report/text/mend_text.h"

#include "report/text/made_lines.h"
#include "report/words/number_text.h"
#include "report/words/verdict_text.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

std::string place(Vec3 at) {
  return fmt::format("x {:.1f} y {:.1f} z {:.1f}", at.x, at.y, at.z);
}

std::string walls(const MendReport::Least& least) {
  return fmt::format("{:.3f} mm as drawn, {:.3f} mm expected, {:.3f} mm at worst", least.design_mm,
                     least.expected_mm, least.worst_mm);
}

void add_verdict(const CheckReport& check, MadeLines& lines) {
  lines.add(fmt::format("The check of {}: {}.", check.walls.size() > 1 ? "the whole job" : "it",
                        headline_line(check)));
  for (const Notice& n : look_first(check))
    lines.add("LOOK FIRST: " + n.text);
}

} // namespace

std::string mend_text(const MendReport& made, const CheckReport& check, const std::string& file,
                      bool inch) {
  MadeLines lines(inch);
  lines.add(fmt::format("MENDED: {}", file));
  lines.add(fmt::format("{} changed only where its wall needs it.", made.pocket));
  add_verdict(check, lines);
  lines.add(fmt::format("Least wall before: {}, at {}.", walls(made.before), place(made.before.at)),
            "  - ");
  lines.add(fmt::format("Least wall now: {}, at {}; limit {:.3f} mm.", walls(made.after),
                        place(made.after.at), made.limit_mm),
            "  - ");
  lines.add(fmt::format("Changed: {:.1f} cm2 of its surface, {:.3f} cm3 less room, at most {:.3f} "
                        "mm, at {}.",
                        made.area_mm2 / 100, made.volume_mm3 / 1000, made.largest_mm,
                        place(made.largest_at)),
            "  - ");
  lines.add(fmt::format("{} of {} facets are new or changed; all others are as they were.",
                        made.changed, made.facets),
            "  - ");
  lines.add(fmt::format("Ball radius {:.2f} mm: it reaches all that was changed. Paths of the "
                        "cutter and what they leave standing are not in it.",
                        made.ball_radius_mm));
  lines.add("Advice, never a guarantee: look at the pocket in a modelling program before you cut.");
  return lines.take();
}

std::string nothing_to_mend_text(const std::string& pocket, const CheckReport& check, bool inch) {
  MadeLines lines(inch);
  lines.add("NOTHING TO MEND");
  lines.add(fmt::format("The walls of {} hold as they are; nothing was written.", pocket));
  add_verdict(check, lines);
  return lines.take();
}

} // namespace leastwall
