// Everything a job holds, as text: two jobs with the same digest say the same.
#pragma once

#include "bed/bed_map.h"
#include "job/job.h"

#include <fmt/format.h>
#include <string>

namespace leastwall::test {

inline std::string words(double v) {
  return fmt::format("{:.12g}", v);
}
inline std::string words(const std::string& text) {
  return text;
}
inline std::string words(Point2 p) {
  return fmt::format("({:.12g}, {:.12g})", p.x, p.y);
}
inline std::string words(Uncertain u) {
  return fmt::format("{}{:.12g}", u.knowledge == Knowledge::limits ? "+-" : "u=", u.size_mm);
}
template <class T> std::string words(const std::optional<T>& v) {
  return v ? words(*v) : std::string("absent");
}
inline std::string words(const std::shared_ptr<const BedMap>& map) {
  std::string out = map ? "map" : "none";
  if (map)
    for (const Vec3& p : map->points())
      out += fmt::format(" ({:.12g}, {:.12g}, {:.12g})", p.x, p.y, p.z);
  return out;
}
inline std::string words(const SideSetup& s) {
  std::string out = fmt::format(
      "zero {} touch {} off {} plate {} thick {} sand {} {}\n  tip {} ball {} radius {} runout {} "
      "from {} setter {}\n",
      static_cast<int>(s.zero), words(s.touch_point), words(s.touch_off), words(s.plate_error_mm),
      words(s.assumed_thickness_mm), words(s.sanding_mm),
      words(s.sanding) + words(s.sanding_length_mm), words(s.bit.tip_height),
      words(s.bit.ball_radius_mm), words(s.bit.radius), words(s.bit.runout_mm),
      static_cast<int>(s.bit.zero), words(s.bit.setter));
  if (s.roughing)
    out += fmt::format("  roughing {} {}\n", words(s.roughing->allowance_mm),
                       words(s.roughing->touch_off.value_or(Uncertain{})));
  return out;
}
inline std::string words(const MeshPlacing& p) {
  return fmt::format("units {} mirror {} up {} turn {} shift {} {} {}\n",
                     p.units ? static_cast<int>(*p.units) : -1, static_cast<int>(p.mirror),
                     static_cast<int>(p.up), words(p.turn_deg), words(p.shift_mm.x),
                     words(p.shift_mm.y), words(p.shift_mm.z));
}

inline std::string words(const Resin& r) {
  return fmt::format("{} {} {} {} {} {} {} {} {} {} {} {}\n",
                     r.ratio ? words(r.ratio->a) : "absent", r.ratio ? words(r.ratio->b) : "absent",
                     r.ratio ? r.ratio->by_weight : false, words(r.density_a), words(r.density_b),
                     words(r.deepest_lift_mm), words(r.hours_between_lifts),
                     words(r.hours_until_cut), words(r.overage_percent), words(r.cup_ml),
                     words(r.seal_coat_g_per_m2), words(r.thin_wall_mm));
}

inline std::string digest(const Job& job) {
  const Board& b = job.board;
  std::string out = fmt::format("{} units {} chance {} trials {} seed {} face {}\n", job.title,
                                static_cast<int>(job.units), words(job.accepted_chance), job.trials,
                                job.seed, words(job.pocket_face_z_mm));
  out += fmt::format("board {} {} {} {} {} {}..{} {} {} {} {} {}\n", words(b.assumed_thickness_mm),
                     words(b.measured_thickness_mm), words(b.thickness_error),
                     words(b.variation_mm) + words(b.variation_length_mm),
                     words(b.thickness_readings), b.footprint ? words(b.footprint->low) : "",
                     b.footprint ? words(b.footprint->high) : "", words(b.species),
                     b.grain ? static_cast<int>(*b.grain) : -1, words(b.moisture_change_percent),
                     words(b.swelling_per_percent), words(b.resin_cup_mm));
  out += fmt::format("bed {} {} {} {} {} {}..{}\n", words(job.bed.flatness_mm),
                     words(job.bed.readings), words(job.bed.part_origin_mm),
                     words(job.bed.reading_error), static_cast<int>(job.bed.seating),
                     job.bed.extent ? words(job.bed.extent->low) : "",
                     job.bed.extent ? words(job.bed.extent->high) : "");
  const Resurfacing& r = job.bed.resurfacing;
  out += fmt::format("resurface {} {} {} {} {} {} {} {} {} {} {}\n", words(r.residual_mm),
                     words(r.tram_reading_mm), words(r.tram_swing_mm), words(r.cutter_mm),
                     words(r.stepover_mm), words(r.depth_per_pass_mm), words(r.spoilboard_mm),
                     words(r.spoilboard_least_mm), words(r.screw_depth_mm), words(r.dowel_hole_mm),
                     words(r.dowel_hole_least_mm));
  if (job.flip) {
    const Flip& f = *job.flip;
    out += fmt::format("flip {} {} {} {} {}\n", static_cast<int>(f.line), words(f.at_mm),
                       static_cast<int>(f.located_by), words(f.line_error),
                       words(f.out_of_square_mm_per_m));
    if (f.dowels)
      out += fmt::format("dowels {} {} {} {} {}\n", words(f.dowels->clearance_1_mm),
                         words(f.dowels->clearance_2_mm), words(f.dowels->spacing_mm),
                         words(f.dowels->middle), f.dowels->along_flip_line);
  }
  out +=
      fmt::format("pour {} {} {}\n", job.pour.start ? clock_time_text(*job.pour.start) : "absent",
                  job.pour.tilt ? words(job.pour.tilt->slope) : "absent",
                  job.pour.tilt ? words(job.pour.tilt->towards_deg) : "absent");
  for (const Part& part : job.parts) {
    out += fmt::format("part {} of board {}: {} {} on board {} {} {}\n", part.name, part.board,
                       part.skin.string(), words(part.placing), part.on_board.mirrored,
                       words(part.on_board.turn_deg), words(part.on_board.place));
    for (const Pocket& pocket : part.pockets)
      out += fmt::format("pocket {} {} {} {} {} resin {} {}A {}B {}", pocket.name,
                         pocket.mesh.string(), words(pocket.limit_mm), words(pocket.rim_depth_mm),
                         pocket.material, pocket.resin ? words(*pocket.resin) : "absent\n",
                         words(pocket.placing), words(pocket.side_a), words(pocket.side_b));
  }
  return out;
}

} // namespace leastwall::test
