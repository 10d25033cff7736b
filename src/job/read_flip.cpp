#include "job/read_tables.h"
#include "setup/iso286.h"

#include <algorithm>

namespace leastwall {
namespace {

/// Largest clearance of a pin in a hole by measured diameters, mm.
double measured_clearance(const TableReader& table, std::string_view hole, double pin_mm) {
  const double clearance = *table.number(hole) - pin_mm;
  constexpr double kMax = 5;
  if (clearance < 0 || clearance > kMax)
    table.fail(hole, table.path_of(hole) +
                         (clearance < 0 ? " is smaller than pin_diameter, so the pin would not "
                                          "enter; check both values"
                                        : " is more than 5 mm larger than pin_diameter; check both "
                                          "values and their unit"));
  return clearance;
}

/// One number for each pin: the largest diametral play in board and bed together.
void read_clearance(const TableReader& table, Dowels& dowels) {
  table.not_both("clearance", "fit", "keep the measured play or the fit");
  table.not_both("clearance", "hole_diameter", "keep the measured play or the diameters");
  table.not_both("clearance", "pin_diameter", "keep the measured play or the diameters");
  table.not_both("clearance", "bed_fit", "the play counts board and bed together; remove the fit");
  table.not_both("clearance", "bed_hole_diameter",
                 "the play counts board and bed together; remove the diameter");
  table.not_both("fit", "hole_diameter", "keep the fit or the measured diameters");
  table.not_both("bed_fit", "bed_hole_diameter", "keep the fit or the measured diameter");
  if (const auto clearance = table.lengths("clearance")) {
    dowels.clearance_1_mm = clearance->front();
    dowels.clearance_2_mm = clearance->back();
    dowels.each_stated = clearance->size() == 2;
    return;
  }
  if (!table.has("fit") && !table.has("hole_diameter"))
    table.fail("clearance", "the play of the dowels is missing; state clearance, or pin_diameter "
                            "and hole_diameter, or pin_diameter and fit (e.g. \"H7/h6\")");
  table.needs("fit", "pin_diameter");
  table.needs("hole_diameter", "pin_diameter");
  const double pin_mm = *table.number("pin_diameter");
  const auto largest = [&](std::string_view name) {
    try {
      return std::max(0.0, fit_clearance(*table.text(name), pin_mm).largest_mm);
    } catch (const InputError& error) {
      table.fail(name, table.path_of(name) + ": " + error.what());
    }
  };
  double total =
      table.has("fit") ? largest("fit") : measured_clearance(table, "hole_diameter", pin_mm);
  if (table.has("bed_fit"))
    total += largest("bed_fit");
  else if (table.has("bed_hole_diameter"))
    total += measured_clearance(table, "bed_hole_diameter", pin_mm);
  else
    table.text("bed_fit"); // an assumption
  dowels.clearance_1_mm = dowels.clearance_2_mm = total;
  dowels.from_diameters = true;
}

Dowels read_dowels(const TableReader& table) {
  Dowels dowels;
  dowels.spacing_mm = *table.number("spacing");
  read_clearance(table, dowels);
  dowels.middle = table.point2("middle");
  dowels.along_flip_line =
      *table.choice<bool>("stand", {{"on the flip line", true}, {"across the flip line", false}});
  return dowels;
}

} // namespace

Flip read_flip(const TableReader& table) {
  Flip flip;
  flip.line = *table.choice<FlipLine>(
      "line", {{"along x", FlipLine::along_x}, {"along y", FlipLine::along_y}});
  flip.at_mm = table.number("at").value_or(0);
  flip.located_by = *table.choice<LocatedBy>(
      "located_by", {{"dowels", LocatedBy::dowels}, {"edges", LocatedBy::edges}});
  if (flip.located_by == LocatedBy::edges) {
    if (table.has("dowels"))
      table.fail("dowels", "the flip is located by edges, but dowels are stated too; write "
                           "located_by = \"dowels\" or remove [flip.dowels]");
    if (!table.has("line_error"))
      table.fail("located_by", "flip.line_error is missing; state how well the edges are found, "
                               "e.g. line_error = 0.05");
  } else {
    if (!table.has("dowels"))
      table.fail("located_by", "the flip is located by dowels, but [flip.dowels] is missing; add "
                               "it with spacing and clearance");
    flip.dowels = read_dowels(table.table("dowels"));
  }
  flip.line_error = table.uncertain("line_error").value_or(Uncertain{});
  flip.out_of_square_mm_per_m = table.number("out_of_square").value_or(0);
  return flip;
}

} // namespace leastwall
