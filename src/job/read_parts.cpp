#include "job/read_tables.h"

namespace leastwall {
namespace {

MeshPlacing read_placing(const TableReader& table) {
  MeshPlacing placing;
  placing.units =
      table.choice<LengthUnit>("units", {{"mm", LengthUnit::mm}, {"inch", LengthUnit::inch}});
  placing.mirror =
      *table.choice<Mirror>("mirror", {{"none", Mirror::none}, {"x", Mirror::x}, {"y", Mirror::y}});
  placing.up = *table.choice<UpAxis>("up", {{"z", UpAxis::plus_z},
                                            {"-z", UpAxis::minus_z},
                                            {"x", UpAxis::plus_x},
                                            {"-x", UpAxis::minus_x},
                                            {"y", UpAxis::plus_y},
                                            {"-y", UpAxis::minus_y}});
  placing.turn_deg = table.number("turn").value_or(0);
  placing.shift_mm = table.point3("shift").value_or(Vec3{});
  placing.line = table.line("shift");
  return placing;
}

Hole read_hole(const TableReader& table) {
  Hole hole;
  hole.name = table.text("name").value_or("");
  hole.at = *table.point2("at");
  hole.diameter_mm = *table.number("diameter");
  hole.depth_mm = *table.number("depth");
  hole.from = *table.choice<Hole::From>(
      "from", {{"pocket face", Hole::From::pocket_face}, {"skin face", Hole::From::skin_face}});
  hole.limit_mm = table.number("limit");
  return hole;
}

} // namespace

Part read_part(const TableReader& table, const SideSetup& side_a, const SideSetup& side_b,
               std::optional<double> limit_mm) {
  Part part;
  part.name = table.text("name").value_or("");
  part.skin = *table.file("skin");
  part.placing = read_placing(table.table("placing"));
  for (const TableReader& row : table.tables("pocket")) {
    Pocket pocket;
    pocket.name = row.text("name").value_or("");
    pocket.mesh = *row.file("mesh");
    if (pocket.mesh == part.skin)
      row.fail("mesh", "part.pocket.mesh is the file of part.skin as well; a pocket and its skin "
                       "are two meshes");
    pocket.placing = row.has("placing") ? read_placing(row.table("placing")) : part.placing;
    pocket.material = row.text("material").value_or("");
    const std::optional<double> limit = row.has("limit") ? row.number("limit") : limit_mm;
    if (!limit)
      row.fail("mesh", "no limit for this pocket; state limit = ... at the top of the file, or "
                       "in [[part.pocket]]");
    pocket.limit_mm = *limit;
    const bool runs_out = *row.choice<bool>("rim", {{"is a wall", false}, {"runs out", true}});
    pocket.rim_depth_mm = row.has("rim_depth") ? row.number("rim_depth") : std::nullopt;
    if (runs_out && !pocket.rim_depth_mm)
      row.fail("rim",
               "part.pocket.rim = \"runs out\" needs rim_depth: how far below the pocket face "
               "the wall need not hold");
    if (!runs_out && pocket.rim_depth_mm)
      row.fail("rim_depth",
               "part.pocket.rim_depth means nothing without rim = \"runs out\"; state both or "
               "none");
    pocket.side_a = side_a;
    pocket.side_b = side_b;
    read_side(row.table("side_a", true), pocket.side_a);
    read_side(row.table("side_b", true), pocket.side_b);
    pocket.side_a.of_pocket = row.has("side_a");
    pocket.side_b.of_pocket = row.has("side_b");
    part.pockets.push_back(std::move(pocket));
  }
  for (const TableReader& row : table.tables("hole"))
    part.holes.push_back(read_hole(row));
  return part;
}

} // namespace leastwall
