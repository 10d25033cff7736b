#include "wall/fit/fit_findings.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <optional>
#include <utility>

namespace leastwall {
namespace {

Notice unproven(const char* code, std::string text) {
  return {code, std::move(text), Severity::unproven};
}

std::string size_text(Vec3 s) {
  return fmt::format("{:.1f} x {:.1f} x {:.1f} mm", s.x, s.y, s.z);
}

/// How far the two stay apart, as a share of the higher of both: a good pair comes near somewhere,
/// a bowl that was moved out of its skin, turned over or made smaller stays away by much of its
/// depth.
bool far_apart(const PieceFacts& f, const FitOptions& o) {
  constexpr double kFar = 0.4;
  return o.least_wall_mm > 2 * o.limit_mm &&
         o.least_wall_mm > kFar * std::max(f.pocket.box.size().z, f.skin.box.size().z);
}

/// The pocket ends above where the skin begins. In the back of a relief it may: then its floor
/// follows the relief by a wall.
std::optional<Notice> heights_apart(const PieceFacts& f, const FitOptions& o) {
  const double pocket_low = f.pocket.box.low.z, skin_high = f.skin.box.high.z;
  const double height = std::max(f.pocket.box.size().z, f.skin.box.size().z);
  // Between two flats the wall is the only height there is: far-over-limit asks about it.
  if (pocket_low < skin_high || height < 2 * o.limit_mm || !far_apart(f, o))
    return std::nullopt;
  return unproven("heights-apart",
                  fmt::format("The pocket lies wholly above the skin. Its lowest place is at z "
                              "{:.3f} mm, the highest of the skin at z {:.3f} mm, and they come no "
                              "nearer than {:.3f} mm: one of the two may have been moved up or "
                              "down; write both again with the same origin.",
                              pocket_low, skin_high, o.least_wall_mm));
}

/// A bulge counts where it is a quarter of what is drawn; a bowl bulges by two thirds, and a relief
/// by little of the depth of its pocket. Pocket up and skin down leave the thickest wall in the
/// middle, where a hollow has its floor; pocket down and skin up is a piece hollowed from both
/// faces, and doubted only when no wall is near the limit.
std::optional<Notice> upside_down(const PieceFacts& f, const FitOptions& o) {
  constexpr double kCounts = 0.25;
  const double p = f.pocket.bulge_mm, s = f.skin.bulge_mm;
  const double pocket_height = f.pocket.box.size().z, skin_height = f.skin.box.size().z;
  const double both = kCounts * std::max(pocket_height, skin_height);
  const bool lens = p > std::max(kCounts * pocket_height, o.limit_mm) &&
                    s < -std::max(kCounts * skin_height, o.limit_mm);
  const bool hollow = p < -both && s > both && std::min(-p, s) > o.limit_mm;
  if (!lens && !(hollow && far_apart(f, o)))
    return std::nullopt;
  return unproven("upside-down",
                  fmt::format("The {} looks upside down. It bulges up by {:.2f} mm where the {} "
                              "hangs down by {:.2f} mm; z must point up out of the pocket face in "
                              "both meshes.",
                              lens ? "pocket" : "skin", lens ? p : s, lens ? "skin" : "pocket",
                              lens ? -s : -p));
}

bool fills(const Box& pocket, const Box& skin, double scale, double share) {
  const Vec3 low = pocket.low * scale, high = pocket.high * scale, size = skin.size();
  const auto inside = [](double l, double h, double from, double to) {
    const double slack = 0.02 * (to - from);
    return l >= from - slack && h <= to + slack;
  };
  return inside(low.x, high.x, skin.low.x, skin.high.x) &&
         inside(low.y, high.y, skin.low.y, skin.high.y) && low.z >= skin.low.z - 0.02 * size.z &&
         high.x - low.x >= share * size.x && high.y - low.y >= share * size.y &&
         high.z - low.z >= share * size.z;
}

/// Another scale about the origin would make the pocket fill the skin as pockets do, and the one it
/// has leaves no wall near the limit.
std::optional<Notice> other_scale(const PieceFacts& f, const FitOptions& o) {
  if (o.least_wall_mm > 0 && !far_apart(f, o))
    return std::nullopt;
  constexpr double kFills = 0.75;
  if (fills(f.pocket.box, f.skin.box, 1, kFills))
    return std::nullopt;
  for (const double scale : {2.0, 0.5, 10.0, 0.1})
    if (fills(f.pocket.box, f.skin.box, scale, kFills))
      return unproven(
          "pocket-scale",
          fmt::format("The pocket would fit if it were {:g} times {}. Pocket {}, skin {}: one of "
                      "the two was written in another unit or scale; write it again.",
                      scale > 1 ? scale : 1 / scale, scale > 1 ? "larger" : "smaller",
                      size_text(f.pocket.box.size()), size_text(f.skin.box.size())));
  return std::nullopt;
}

std::optional<Notice> beyond_machine(const PieceFacts& f) {
  Box both = f.pocket.box;
  both.add(f.skin.box);
  const Vec3 s = both.size();
  if (std::max(s.x, s.y) <= kLongestPiece_mm && s.z <= kDeepestPiece_mm)
    return std::nullopt;
  return unproven("size-beyond",
                  fmt::format("The piece is {}, more than a small router holds. Check the unit in "
                              "which the meshes are read.",
                              size_text(s)));
}

std::optional<Notice> outside(const PieceFacts& f) {
  if (!(f.pocket_beyond_skin > 0.02))
    return std::nullopt;
  // A relief may be cut wider than its outline; then the skin lies in it.
  const bool both = f.pocket_beyond_skin > 0.5 && f.skin_beyond_pocket > 0.5;
  Notice notice{
      "pocket-outside",
      fmt::format("No skin lies under {:.0f} % of the pocket. Check that both meshes have "
                  "the same origin.",
                  100 * f.pocket_beyond_skin),
      both ? Severity::unproven : Severity::doubt};
  return notice;
}

std::optional<Notice> ends_below(const SurfaceFacts& f, const char* name, const FitOptions& o) {
  if (!f.ends_below || !hole_matters({{}, f.ends_below->by_mm, f.ends_below->wall_mm}, o))
    return std::nullopt;
  return unproven("ends-below-face",
                  fmt::format("The {} ends {:.3f} mm below the pocket face. No wall was measured "
                              "above its rim; draw it up to the face.",
                              name, f.ends_below->by_mm));
}

std::optional<Notice> above_face(const PieceFacts& f, const FitOptions& o) {
  if (!f.above_face)
    return std::nullopt;
  const double least = f.above_face->least_wall_mm;
  const bool thinner = least < o.least_wall_mm - 1e-3 && least < o.limit_mm + o.max_thinning_mm;
  return Notice{"face-below-flat",
                fmt::format("You said the pocket face is at z = {:.3f} mm, the meshes show it at z "
                            "= {:.3f} mm. The walls between the two, the thinnest {:.3f} mm, were "
                            "left out; that is right only where the meshes are drawn taller than "
                            "the board.",
                            f.above_face->stated_z_mm, f.above_face->shown_z_mm, least),
                thinner ? Severity::unproven : Severity::doubt};
}

std::optional<Notice> far_over_limit(const FitOptions& o) {
  if (!(o.least_wall_mm > 10 * o.limit_mm) || !(o.least_wall_mm > 5))
    return std::nullopt;
  return unproven("far-over-limit",
                  fmt::format("No wall is anywhere near the limit: the thinnest is {:.3f} mm. With "
                              "a limit of {:.3f} mm that is no thin wall; check unit, scale and "
                              "origin of both meshes, or state the limit that is meant.",
                              o.least_wall_mm, o.limit_mm));
}

void add_holes(const SurfaceFacts& f, const char* name, const FitOptions& o,
               std::vector<Notice>& out) {
  if (!f.holes_looked_at)
    out.push_back(unproven("open-everywhere",
                           fmt::format("The {} is open along too many edges to tell holes from "
                                       "seams. Close it in the modeller: weld its corners.",
                                       name)));
  const SurfaceHole* widest = nullptr;
  std::size_t count = 0;
  for (const SurfaceHole& hole : f.holes)
    if (hole_matters(hole, o)) {
      ++count;
      if (widest == nullptr)
        widest = &hole;
    }
  if (widest == nullptr)
    return;
  out.push_back(unproven(
      "hole",
      fmt::format("The {} has a hole of {:.{}f} mm round x {:.1f} y {:.1f}. No wall was "
                  "measured there; close it in the modeller{}.",
                  name, widest->across_mm, widest->across_mm < 1 ? 2 : 1, widest->at.x,
                  widest->at.y,
                  count == 1 ? std::string() : fmt::format(", and {} more like it", count - 1))));
}

} // namespace

bool hole_matters(const SurfaceHole& hole, const FitOptions& options) {
  return hole.wall_mm < options.limit_mm + options.max_thinning_mm + hole.across_mm;
}

std::vector<Notice> fit_findings(const PieceFacts& f, const FitOptions& o) {
  std::vector<Notice> out;
  const auto add = [&out](std::optional<Notice> notice) {
    if (notice)
      out.push_back(std::move(*notice));
  };
  if (o.pair != PairKind::beside && f.skin_in_air > 0.9)
    out.push_back(unproven("meshes-swapped",
                           "The skin lies in what the pocket cuts away. Pocket and skin may have "
                           "been swapped, or one of them moved up or down; give the inner surface "
                           "as the pocket, both with the same origin."));
  if (o.pair == PairKind::own) {
    add(heights_apart(f, o));
    add(upside_down(f, o));
    add(other_scale(f, o));
  }
  add(beyond_machine(f));
  if (o.pair != PairKind::beside)
    add(outside(f));
  add(ends_below(f.pocket, "pocket", o));
  add(ends_below(f.skin, "skin", o));
  if (o.pair != PairKind::beside) // the face is the job's: a flat bottom of a hole shows none
    add(above_face(f, o));
  // The last question, where no other finding says more.
  if ((o.pair == PairKind::own || o.pair == PairKind::fill) && !leaves_unproven(out))
    add(far_over_limit(o));
  add_holes(f.pocket, "pocket", o, out);
  add_holes(f.skin, "skin", o, out);
  if (o.pair == PairKind::own && f.pocket.plan_area_mm2 < 0.02 * f.skin.plan_area_mm2)
    out.push_back({"pocket-small",
                   fmt::format("The pocket covers only {:.2g} % of the skin. Check its unit and "
                               "whether it is the right file.",
                               100 * f.pocket.plan_area_mm2 / f.skin.plan_area_mm2),
                   Severity::doubt});
  return out;
}

} // namespace leastwall
