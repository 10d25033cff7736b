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

/// A drill on this side: it touches the datum itself, does not sand and leaves nothing behind.
SideSetup with_a_drill(SideSetup side) {
  side.bit = {};
  side.roughing.reset();
  side.sanding_mm = 0;
  side.sanding = {};
  return side;
}

Hole read_hole(const TableReader& table, const CommonToParts& common) {
  Hole hole;
  hole.line = table.line("");
  hole.name = table.text("name").value_or("");
  hole.at = *table.point2("at");
  hole.diameter_mm = *table.number("diameter");
  hole.depth_mm = *table.number("depth");
  hole.from = *table.choice<Hole::From>(
      "from", {{"pocket face", Hole::From::pocket_face}, {"skin face", Hole::From::skin_face}});
  hole.flat = *table.choice<bool>("bottom", {{"drill point", false}, {"flat", true}});
  hole.through = *table.choice<bool>("ends", {{"in the wood", false}, {"through", true}});
  const std::optional<double> limit = table.has("limit") ? table.number("limit") : common.limit_mm;
  if (!limit)
    table.fail("at", "no limit for the wood around this hole; state limit = ... at the top of the "
                     "file, or in [[part.hole]]");
  hole.limit_mm = *limit;
  hole.dowel_clearance_mm =
      table.has("glue_up_clearance") ? table.number("glue_up_clearance") : std::nullopt;
  if (hole.dowel_clearance_mm && (hole.from == Hole::From::skin_face || hole.through))
    table.fail("glue_up_clearance", "a hole for a dowel of the glue-up is drilled from the pocket "
                                    "face and ends in the wood; correct from and ends, or remove "
                                    "part.hole.glue_up_clearance");
  hole.how = with_a_drill(hole.from == Hole::From::pocket_face ? common.side_a : common.side_b);
  return hole;
}

/// The number of the earlier thing with this name.
template <class Named>
std::optional<std::size_t> named(const std::vector<Named>& earlier, const std::string& name) {
  for (std::size_t i = 0; i < earlier.size(); ++i)
    if (earlier[i].name == name)
      return i;
  return std::nullopt;
}

std::uint32_t read_board_number(const TableReader& table) {
  return static_cast<std::uint32_t>(table.number("board").value_or(1)) - 1;
}

BoardPlacing read_on_board(const TableReader& table) {
  BoardPlacing placing;
  placing.turn_deg = table.number("turn").value_or(0);
  placing.place = table.point2("place").value_or(Point2{});
  return placing;
}

SideSetup::Stated stated_in(const TableReader& table) {
  return {.zero = table.has("zero"),
          .touch_point = table.has("touch_point"),
          .touch_off = table.has("touch_off"),
          .plate_error = table.has("plate_error"),
          .thickness = table.has("thickness"),
          .bit = table.has("bit"),
          .roughing = table.has("roughing")};
}

/// "skin" is what the skin is called in reports.
void require_free_name(const TableReader& row, const std::string& name) {
  if (name == "skin")
    row.fail("name", "\"skin\" is the name of the outer face; write another one");
}

/// The pocket that this one is cut into; it needs a set-up of its own.
std::optional<std::size_t> read_inside(const TableReader& row, const std::vector<Pocket>& earlier) {
  const std::optional<std::string> name = row.text("inside");
  if (!name)
    return std::nullopt;
  const std::optional<std::size_t> found = named(earlier, *name);
  if (!found || name->empty())
    row.fail("inside", fmt::format("part.pocket.inside = \"{}\" means nothing without an earlier "
                                   "pocket of that name; write the name of the one whose resin "
                                   "this one is cut into",
                                   *name));
  if (!row.has("side_a"))
    row.fail("inside", "a pocket inside another one is cut when its resin has cured, in a set-up "
                       "of its own; add [part.pocket.side_a], even if nothing in it differs");
  return found;
}

/// What the job's key of a pocket's own table begins with.
std::string pocket_key(const Pocket& pocket, std::size_t number, bool only_one) {
  if (only_one)
    return "part.pocket.";
  return pocket.name.empty() ? fmt::format("part.pocket[{}].", number + 1)
                             : fmt::format("part.pocket[{}].", pocket.name);
}

Pocket read_pocket(const TableReader& row, const Part& part, const CommonToParts& common) {
  Pocket pocket;
  pocket.line = row.line("");
  pocket.name = row.text("name").value_or("");
  if (!pocket.name.empty() && named(part.pockets, pocket.name))
    row.fail("name", fmt::format("a second pocket of this part is called \"{}\"; give each a name "
                                 "of its own",
                                 pocket.name));
  require_free_name(row, pocket.name);
  pocket.inside = read_inside(row, part.pockets);
  pocket.mesh = common.pockets_needed ? *row.file("mesh")
                                      : row.file_if_any("mesh").value_or(std::filesystem::path());
  for (const Pocket& other : part.pockets)
    if (other.mesh == pocket.mesh && !pocket.mesh.empty())
      row.fail("mesh", "part.pocket.mesh is the file of an earlier pocket as well; two pockets are "
                       "two meshes");
  if (pocket.mesh == part.skin)
    row.fail("mesh", "part.pocket.mesh is the file of part.skin as well; a pocket and its skin "
                     "are two meshes");
  pocket.placing = row.has("placing") ? read_placing(row.table("placing")) : part.placing;
  pocket.material = row.text("material").value_or("");
  if (row.has("resin"))
    pocket.resin = read_resin(row.table("resin"));
  const std::optional<double> limit = row.has("limit") ? row.number("limit") : common.limit_mm;
  if (!limit)
    row.fail("mesh", "no limit for this pocket; state limit = ... at the top of the file, or "
                     "in [[part.pocket]]");
  pocket.limit_mm = *limit;
  const bool runs_out = *row.choice<bool>("rim", {{"is a wall", false}, {"runs out", true}});
  pocket.rim_depth_mm = row.has("rim_depth") ? row.number("rim_depth") : std::nullopt;
  if (runs_out && !pocket.rim_depth_mm)
    row.fail("rim", "part.pocket.rim = \"runs out\" needs rim_depth: how far below the pocket face "
                    "the wall need not hold");
  if (!runs_out && pocket.rim_depth_mm)
    row.fail("rim_depth",
             "part.pocket.rim_depth means nothing without rim = \"runs out\"; state both or "
             "none");
  pocket.side_a = common.side_a;
  pocket.side_b = common.side_b;
  read_side(row.table("side_a", true), pocket.side_a);
  read_side(row.table("side_b", true), pocket.side_b);
  pocket.side_a.moisture_gain_percent = row.number("moisture_gain");
  if (part.pockets.empty() && row.has("moisture_gain"))
    row.fail("moisture_gain", "part.pocket.moisture_gain means nothing without an earlier pocket: "
                              "what the wood gains is counted from the first cut");
  if (row.has("moisture_gain") && !part.pockets.empty() && !row.has("side_a"))
    row.fail("moisture_gain", "part.pocket.moisture_gain means nothing without "
                              "[part.pocket.side_a]: this pocket is cut in the first set-up");
  if (row.has("moisture_gain") && !common.wood_gains)
    row.fail("moisture_gain", "part.pocket.moisture_gain needs board.moisture_gain, what the wood "
                              "has gained when side B is cut; state it, 0.001 if it is nothing");
  if (!part.pockets.empty() && common.wood_gains && row.has("side_a") && !row.has("moisture_gain"))
    row.fail("",
             "the wood gains moisture (board.moisture_gain) and this pocket is cut later than "
             "the first; state moisture_gain in its [[part.pocket]], what it has gained by then");
  pocket.own_side_a = row.has("side_a");
  pocket.own_side_b = row.has("side_b");
  pocket.side_a.stated = stated_in(row.table("side_a", true));
  pocket.side_b.stated = stated_in(row.table("side_b", true));
  return pocket;
}

/// The other half of an earlier part.
Part read_mirrored(const TableReader& table, const std::string& of,
                   const std::vector<Part>& earlier) {
  const std::string name = table.text("name").value_or("");
  if (of == name)
    table.fail("mirror_of",
               "part.mirror_of names the part itself; it needs the name of another one");
  const std::optional<std::size_t> found = named(earlier, of);
  if (!found || of.empty())
    table.fail("mirror_of", fmt::format("part.mirror_of = \"{}\" means nothing without an "
                                        "earlier part of that name; write the name of the one "
                                        "that this one mirrors",
                                        of));
  for (const char* own : {"skin", "placing", "pocket", "hole"})
    if (table.has(own))
      table.fail(own, fmt::format("part.{} is stated, but this part is the mirror image of \"{}\" "
                                  "and has all of it from there; remove one of the two",
                                  own, of));
  Part part = earlier[*found];
  part.name = name;
  part.mirror_of = found;
  part.board = read_board_number(table);
  part.on_board = read_on_board(table);
  part.on_board.mirrored = !earlier[*found].on_board.mirrored;
  part.line = table.line("");
  return part;
}

} // namespace

Part read_part(const TableReader& table, const CommonToParts& common,
               const std::vector<Part>& earlier) {
  if (const std::optional<std::string> of = table.text("mirror_of"))
    return read_mirrored(table, *of, earlier);
  Part part;
  part.line = table.line("");
  part.name = table.text("name").value_or("");
  const std::optional<std::filesystem::path> skin = table.file("skin");
  if (!skin)
    table.fail("", "part.skin is missing; name the mesh of the outer face, or the part that this "
                   "one mirrors with mirror_of");
  part.skin = *skin;
  part.placing = read_placing(table.table("placing"));
  part.board = read_board_number(table);
  part.on_board = read_on_board(table);
  const std::vector<TableReader> rows = table.tables("pocket");
  if (rows.empty())
    table.fail("pocket", "no pocket; add [[part.pocket]] with its mesh");
  for (const TableReader& row : rows) {
    part.pockets.push_back(read_pocket(row, part, common));
    Pocket& pocket = part.pockets.back();
    const std::string key = pocket_key(pocket, part.pockets.size() - 1, rows.size() == 1);
    pocket.side_a.pocket_key = pocket.own_side_a ? key : "";
    pocket.side_b.pocket_key = pocket.own_side_b ? key : "";
    if (pocket.own_side_b && rows.size() > 1)
      row.fail("side_b", "part.pocket.side_b: the skin of this part is cut once for all of its "
                         "pockets; state it in [side_b]");
  }
  for (const TableReader& row : table.tables("hole")) {
    Hole hole = read_hole(row, common);
    if (!hole.name.empty() && (named(part.holes, hole.name) || named(part.pockets, hole.name)))
      row.fail("name", fmt::format("a second pocket or hole of this part is called \"{}\"; give "
                                   "each a name of its own",
                                   hole.name));
    require_free_name(row, hole.name);
    if (hole.depth_mm <= 0)
      row.fail("depth", "part.hole.depth is 0; state how deep the tip goes under the face");
    if (!hole.through && hole.depth_mm >= common.thickness_mm)
      row.fail("depth",
               fmt::format("part.hole.depth is {:.6g} mm in a board of {:.6g} mm: the hole "
                           "comes out on the other side; make it shallower, or write "
                           "ends = \"through\"",
                           hole.depth_mm, common.thickness_mm));
    part.holes.push_back(std::move(hole));
  }
  return part;
}

} // namespace leastwall
