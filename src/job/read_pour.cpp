#include "job/read_tables.h"
#include "pour/resin_words.h"

namespace leastwall {

PourPlan read_pour(const TableReader& table) {
  PourPlan plan;
  if (const std::optional<std::string> start = table.text("start")) {
    plan.start = clock_time_from_text(*start);
    if (!plan.start)
      table.fail("start", fmt::format("pour.start = \"{}\" is no day and time; write year, month, "
                                      "day, hour and minute: start = \"2026-03-14 18:00\"",
                                      shown(*start)));
  }
  table.needs("tilt_towards", "tilt");
  if (const std::optional<std::string> words = table.text("tilt")) {
    const std::optional<double> slope = slope_from_text(*words);
    if (!slope)
      table.fail("tilt", fmt::format("pour.tilt = \"{}\" is no slope over 0 and up to 20 degrees; "
                                     "write \"2 mm/m\", \"0.25 in/ft\" or \"0.1 deg\"",
                                     shown(*words)));
    plan.tilt = {*slope, table.number("tilt_towards")};
  }
  return plan;
}

Resin read_resin(const TableReader& table) {
  Resin resin;
  table.needs("ratio", "ratio_by");
  table.needs("ratio_by", "ratio");
  if (const std::optional<std::string> words = table.text("ratio")) {
    const auto parts = ratio_from_text(*words);
    if (!parts)
      table.fail("ratio", fmt::format("part.pocket.resin.ratio = \"{}\" is no ratio; write two "
                                      "numbers over 0 with a colon between them: ratio = \"2:1\"",
                                      shown(*words)));
    resin.ratio = {parts->first, parts->second,
                   *table.choice<bool>("ratio_by", {{"volume", false}, {"weight", true}})};
  }
  resin.density_a = table.number("density_a");
  resin.density_b = table.number("density_b");
  resin.deepest_lift_mm = table.number("deepest_lift");
  resin.hours_between_lifts = table.number("hours_between_lifts");
  resin.hours_until_cut = table.number("hours_until_cut");
  resin.overage_percent = table.number("overage");
  resin.cup_ml = table.number("cup");
  resin.seal_coat_g_per_m2 = table.number("seal_coat");
  resin.thin_wall_mm = table.number("thin_wall");
  return resin;
}

} // namespace leastwall
