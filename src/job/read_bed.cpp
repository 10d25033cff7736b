#include "job/read_tables.h"

namespace leastwall {
namespace {

Resurfacing read_resurfacing(const TableReader& table) {
  for (const char* key : {"tram_reading", "tram_swing"})
    table.not_both("residual", key, "the dial's reading stands for the residual; keep one");
  for (const char* key : {"tram_swing", "cutter", "stepover"})
    table.needs("tram_reading", key);
  table.needs("tram_swing", "tram_reading");
  table.needs("stepover", "cutter");
  table.needs("spoilboard_least", "spoilboard");
  table.needs("dowel_hole_least", "dowel_hole");
  Resurfacing r;
  r.residual_mm = table.number("residual");
  r.tram_reading_mm = table.number("tram_reading");
  r.tram_swing_mm = table.number("tram_swing");
  r.cutter_mm = table.number("cutter");
  r.stepover_mm = table.number("stepover");
  r.depth_per_pass_mm = table.number("depth_per_pass").value_or(r.depth_per_pass_mm);
  r.spoilboard_mm = table.number("spoilboard");
  r.spoilboard_least_mm = table.number("spoilboard_least");
  r.screw_depth_mm = table.number("screw_depth");
  r.dowel_hole_mm = table.number("dowel_hole");
  r.dowel_hole_least_mm = table.number("dowel_hole_least");
  if (r.stepover_mm && *r.stepover_mm > *r.cutter_mm)
    table.fail("stepover", table.path_of("stepover") +
                               " is more than the cutter's diameter; passes would leave ribs");
  if (r.tram_reading_mm && *r.tram_reading_mm > *r.tram_swing_mm)
    table.fail("tram_reading",
               table.path_of("tram_reading") + " is more than the swing; check value and unit");
  return r;
}

} // namespace

Bed read_bed(const TableReader& table) {
  Bed bed;
  table.not_both("flatness", "readings", "readings say more; remove the flatness");
  if (table.has("origin") && !table.has("readings") && !table.has("size") && !table.has("corner"))
    table.fail("origin", "bed.origin means nothing without bed.readings or bed.size; state one of "
                         "them, or remove it");
  table.needs("size", "origin");
  table.needs("reading_error", "readings");
  bed.extent = read_rectangle(table);
  if (table.has("readings")) {
    bed.readings = read_map(table, "readings");
    bed.reading_error = table.uncertain("reading_error").value_or(Uncertain{});
    const auto origin = table.point2("origin");
    bed.part_origin_mm = origin.value_or(Point2{});
    bed.part_origin_stated = origin.has_value();
    if (!origin)
      table.source().assumptions.push_back(
          {"model 0, 0 lies at 0, 0 of the readings", table.path_of("origin")});
  } else {
    bed.flatness_mm = table.number("flatness");
    bed.part_origin_stated = table.has("origin");
    bed.part_origin_mm = table.point2("origin").value_or(Point2{});
  }
  bed.seating = *table.choice<Seating>(
      "seating",
      {{"pressed", Seating::pressed}, {"rigid", Seating::rigid}, {"unknown", Seating::unknown}});
  if (table.has("resurface"))
    bed.resurfacing = read_resurfacing(table.table("resurface"));
  return bed;
}

} // namespace leastwall
