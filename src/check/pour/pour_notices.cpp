#include "check/pour/pour_notices.h"

#include <algorithm>
#include <fmt/format.h>

namespace leastwall {
namespace {

using Trouble = WetSurface::Trouble;

std::string ml(double mm3) {
  return fmt::format("{:.{}f} ml", mm3 / 1000, mm3 < 9995 ? 2 : 1);
}

std::string place(Vec3 at) {
  return fmt::format("x {:.1f} y {:.1f} z {:.1f}", at.x, at.y, at.z);
}

} // namespace

std::vector<Notice> wet_notices(const WetSurface& wet, double overlap_mm3) {
  std::vector<Notice> out;
  const auto say = [&](const char* code, std::string text, Severity severity) {
    out.push_back({code, std::move(text), severity, NoticeAbout::pocket_mesh});
  };
  switch (wet.trouble) {
  case Trouble::nothing_below:
    say("pour-nothing-below",
        "no part of its mesh lies under the pocket face, so it holds nothing. Check its placing "
        "and board.pocket_face_z.",
        Severity::unproven);
    break;
  case Trouble::tangled:
    say("pour-tangled",
        fmt::format("its volume is not told: at {} {} of its mesh no one can say which side is "
                    "air, first near {}. Mend that in a modelling program.",
                    wet.bad_edges, wet.bad_edges == 1 ? "edge" : "edges", place(wet.at)),
        Severity::unproven);
    break;
  case Trouble::open:
    if (wet.edge_below_mm > 0 && wet.holes == 0)
      say("pour-open",
          fmt::format("its volume is not told: its mesh is open up to {:.2f} mm under the pocket "
                      "face, lowest at {}, so it does not say what is cut above. Let it reach the "
                      "face, or correct board.pocket_face_z.",
                      wet.edge_below_mm, place(wet.at)),
          Severity::unproven);
    else
      say("pour-open",
          fmt::format("its volume is not told: its mesh has {} {} under the pocket face that may "
                      "hide more than a twentieth of it, the worst at {}. Close them in a "
                      "modelling program.",
                      wet.holes, wet.holes == 1 ? "hole" : "holes", place(wet.at)),
          Severity::unproven);
    break;
  case Trouble::none:
    if (overlap_mm3 > 0)
      say("pour-overlap",
          fmt::format("its volume is not told: its surface lies on itself, about {} are in it "
                      "twice. Join its pieces in a modelling program.",
                      ml(overlap_mm3)),
          Severity::unproven);
    if (wet.edge_below_mm > 0)
      say("pour-edge-below",
          fmt::format("its open edge lies up to {:.2f} mm under the pocket face; resin is taken to "
                      "stand straight above it.",
                      wet.edge_below_mm),
          Severity::warning);
    if (wet.holes > 0)
      say("pour-holes",
          fmt::format("its mesh has {} {}, which were closed, the largest at {}.", wet.holes,
                      wet.holes == 1 ? "hole" : "holes", place(wet.at)),
          Severity::warning);
    break;
  }
  return out;
}

Notice later_not_told() {
  return {"pour-later-not-told",
          "the mesh of a pocket that is cut into it does not tell its volume, so what is cut out "
          "again is only near."};
}

std::vector<Notice> lift_notices(const PourRow& row, const std::optional<Tilt>& tilt) {
  if (!tilt || !row.tilted || row.lifts.empty() || !row.resin.deepest_lift_mm)
    return {};
  // Filled to a level in its middle, a lift on the first floor is deeper by half the fall across.
  const double deeper = row.lifts.front().thickness_mm + row.tilted->short_mm / 2;
  if (deeper <= *row.resin.deepest_lift_mm + 1e-4)
    return {};
  return {{"pour-lift-too-deep",
           fmt::format("off level as stated, the first lift may stand up to {:.2f} mm deep at "
                       "its low side, over the {:.2f} mm that the data sheet allows. Level the "
                       "board, or make the lifts thinner.",
                       deeper, *row.resin.deepest_lift_mm),
           Severity::doubt}};
}

} // namespace leastwall
