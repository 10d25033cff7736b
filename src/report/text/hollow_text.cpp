#include "report/text/hollow_text.h"

#include "report/text/paragraphs.h"
#include "report/words/number_text.h"
#include "report/words/verdict_text.h"

#include <fmt/format.h>

namespace leastwall {
namespace {

constexpr double kWithin_mm = 0.005; ///< "everywhere" is meant so

/// Share of the skin, and why it is thicker there.
void add_thick(double mm2, double all_mm2, const char* why, Paragraphs& lines) {
  if (mm2 > 0.005 * all_mm2)
    lines.para(
        fmt::format("{} % of the skin is thicker: {}.", fixed_text(100 * mm2 / all_mm2, 0), why),
        "  - ");
}

} // namespace

std::string hollow_text(const HollowReport& made, const CheckReport& check, const std::string& file,
                        bool inch) {
  Paragraphs lines(LengthText{inch});
  lines.para(fmt::format("MADE: {}", file));
  const WallReport::Least& least = check.wall.least_wall;
  const bool thinner = made.even_wall_mm && least.design_mm < *made.even_wall_mm - kWithin_mm;
  lines.para(made.even_wall_mm
                 ? fmt::format("A pocket that leaves {:.3f} mm {}.", *made.even_wall_mm,
                               thinner ? "where the skin has that much" : "everywhere")
                 : fmt::format("The largest pocket that leaves what the limit of {:.3f} mm and the "
                               "errors of this job need at each place.",
                               made.limit_mm));
  lines.para(
      fmt::format("Volume {:.1f} cm3, deepest {:.2f} mm under the pocket face, {} triangles.",
                  made.volume_mm3 / 1000, made.depth_mm, made.triangles));
  lines.para(fmt::format("The check of it: {}. Least wall {:.3f} mm as drawn, {:.3f} mm expected, "
                         "{:.3f} mm at worst.",
                         headline_line(check), least.design_mm, least.expected_mm, least.worst_mm));
  if (thinner)
    lines.para(
        fmt::format("Thinner than asked: down to {:.3f} mm, at {}. The skin comes as near to "
                    "the pocket face there, or no pocket leaves more.",
                    least.design_mm, place_text(least.at)));
  for (const Notice& n : look_first(check))
    lines.para("LOOK FIRST: " + n.text);
  const double all = made.as_asked_mm2 + made.ball_mm2 + made.undercut_mm2 + made.capped_mm2;
  if (all > 0) {
    lines.para(fmt::format("{} % of the skin has what was asked for, within 0.1 mm.",
                           fixed_text(100 * made.as_asked_mm2 / all, 0)),
               "  - ");
    add_thick(made.ball_mm2, all, "the ball does not reach, or no pocket lies beside it", lines);
    add_thick(made.undercut_mm2, all, "other skin lies above it, seen from the pocket face", lines);
    add_thick(made.capped_mm2, all, "the depth is capped", lines);
  }
  if (made.most_over_mm > 0)
    lines.para(fmt::format("Most above what was asked: {:.2f} mm at x {:.1f} y {:.1f} z {:.1f}.",
                           made.most_over_mm, made.most_over_at.x, made.most_over_at.y,
                           made.most_over_at.z),
               "  - ");
  lines.para(
      fmt::format("Ball radius {:.2f} mm; the bit was tried at places {:.2f} mm apart. Paths "
                  "of the cutter and what they leave standing are not in it.",
                  made.ball_radius_mm, made.lattice_mm));
  lines.para(
      "Advice, never a guarantee: look at the pocket in a modelling program before you cut.");
  return lines.take();
}

std::string no_pocket_text(const NoPocket& why, bool inch) {
  Paragraphs lines(LengthText{inch});
  lines.para("NO POCKET WAS WRITTEN");
  if (why.folds)
    lines.para(
        fmt::format("The change that the wall needs is too large there for the pocket's own "
                    "surface: it would lie on itself at x {:.1f} y {:.1f} z {:.1f}. Make the "
                    "pocket anew from the skin with leastwall hollow, or move its surface "
                    "there in a modelling program.",
                    why.at.x, why.at.y, why.at.z));
  else if (why.no_room)
    lines.para(
        fmt::format("No pocket leaves the wall that is needed: at the widest place of the "
                    "skin, x {:.1f} y {:.1f}, it is {:.2f} mm from there to the skin, and bit "
                    "and wall need {:.2f} mm. Use a smaller bit, lower the limit or the "
                    "errors, or make the skin wider.",
                    why.at.x, why.at.y, why.room_mm, why.needs_mm));
  else
    lines.para(fmt::format(
        "The check of the best one says \"{}\": least wall {:.3f} mm expected, "
        "{:.3f} mm at worst, limit {:.3f} mm, at x {:.1f} y {:.1f} z {:.1f}.{}",
        why.headline, why.expected_mm, why.worst_mm, why.limit_mm, why.at.x, why.at.y, why.at.z,
        why.finding.empty() || why.headline.find(why.finding) != why.headline.npos
            ? ""
            : " " + why.finding + "."));
  if (!why.folds && !why.no_room && why.at_face)
    lines.para(
        "That is at the pocket face: where the skin itself runs out to an edge no pocket leaves "
        "more wood. Make its side upright there, or state rim = \"runs out\" for it.");
  return lines.take();
}

} // namespace leastwall
