#include "job/read_tables.h"

namespace leastwall {

Bed read_bed(const TableReader& table) {
  Bed bed;
  table.not_both("flatness", "readings", "readings say more; remove the flatness");
  table.needs("origin", "readings");
  table.needs("reading_error", "readings");
  if (table.has("readings")) {
    bed.readings = read_map(table, "readings");
    bed.reading_error = table.uncertain("reading_error").value_or(Uncertain{});
    if (const auto origin = table.point2("origin"))
      bed.part_origin_mm = *origin;
    else
      table.source().assumptions.push_back(table.path_of("origin") +
                                           " is not stated; model 0, 0 lies at 0, 0 of the "
                                           "readings");
  } else {
    bed.flatness_mm = table.number("flatness");
  }
  switch (table.choice("seating").value_or(2)) {
  case 0:
    bed.seating = Seating::pressed;
    break;
  case 1:
    bed.seating = Seating::rigid;
    break;
  default:
    bed.seating = Seating::unknown;
  }
  return bed;
}

} // namespace leastwall
