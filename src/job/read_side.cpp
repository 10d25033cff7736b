#include "job/read_tables.h"

namespace leastwall {
namespace {

template <class T, class U> void set(T& target, const std::optional<U>& stated) {
  if (stated)
    target = *stated;
}

void read_bit(const TableReader& table, FinishingBit& bit) {
  table.needs("radius_error", "ball_radius");
  set(bit.tip_height, table.uncertain("tip_height"));
  set(bit.ball_radius_mm, table.number("ball_radius"));
  if (bit.ball_radius_mm)
    set(bit.radius, table.uncertain("radius_error"));
  set(bit.runout_mm, table.number("runout"));
  set(bit.zero, table.choice<BitZero>("length_from", {{"datum", BitZero::retouched},
                                                      {"tool setter", BitZero::tool_setter}}));
  if (bit.zero == BitZero::retouched && table.has("setter_error"))
    table.fail("setter_error", table.path_of("setter_error") +
                                   " is stated, but the bit touches the datum itself; "
                                   "write length_from = \"tool setter\" or remove it");
  if (bit.zero == BitZero::tool_setter && table.has("length_from") && !table.has("setter_error"))
    table.fail("length_from", table.path_of("length_from") +
                                  " = \"tool setter\" needs setter_error; state the error of one "
                                  "reading of the setter");
  set(bit.setter, table.uncertain("setter_error"));
  if (bit.ball_radius_mm && bit.radius.size_mm >= *bit.ball_radius_mm)
    table.fail("radius_error", table.path_of("radius_error") +
                                   " is as large as the ball itself; check value and unit");
}

} // namespace

void read_side(const TableReader& table, SideSetup& side) {
  set(side.zero, table.choice<ZeroFrom>("zero", {{"top", ZeroFrom::top}, {"bed", ZeroFrom::bed}}));
  set(side.touch_point, table.point2("touch_point"));
  set(side.touch_off, table.uncertain("touch_off"));
  set(side.plate_error_mm, table.number("plate_error"));
  set(side.assumed_thickness_mm, table.number("thickness"));
  set(side.sanding_mm, table.number("sanding"));
  set(side.sanding, table.uncertain("sanding_error"));
  table.needs("sanding_length", "sanding_error");
  set(side.sanding_length_mm, table.number("sanding_length"));
  if (side.sanding.knowledge == Knowledge::limits && side.sanding.size_mm > side.sanding_mm)
    table.fail(table.has("sanding_error") ? "sanding_error" : "sanding",
               table.path_of("sanding_error") + " is larger than sanding, which would add wood; "
                                                "check both values");
  read_bit(table.table("bit"), side.bit);
  const TableReader roughing = table.table("roughing");
  if (table.has("roughing")) {
    if (!side.roughing)
      side.roughing.emplace();
    set(side.roughing->allowance_mm, roughing.number("allowance"));
    set(side.roughing->touch_off, roughing.uncertain("touch_off"));
  }
  if (!side.roughing || side.roughing->touch_off)
    return;
  const std::string path = table.path_of("roughing") + ".touch_off";
  if (side.bit.zero == BitZero::retouched)
    table.fail("roughing", path + " is missing; state the error of the roughing bit's touch on the "
                                  "datum, e.g. touch_off = 0.05");
  table.source().assumptions.push_back(
      {"the roughing bit is the one that touches the datum", path});
}

} // namespace leastwall
