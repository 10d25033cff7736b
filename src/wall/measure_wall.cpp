#include "wall/measure_wall.h"

#include "base/errors.h"
#include "base/parallel.h"
#include "mesh/inspect_mesh.h"
#include "wall/least/depth_search.h"
#include "wall/least/least_wall.h"
#include "wall/sampling/land.h"
#include "wall/sampling/measure_bounds.h"
#include "wall/sampling/sample_spacing.h"
#include "wall/seen_from_pocket.h"
#include "wall/surface/flat_rim.h"
#include "wall/surface/machined_surface.h"
#include "wall/surface/stated_face.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>
#include <memory>
#include <utility>

namespace leastwall {
namespace {

/// One mesh with all that is asked of it.
struct Body {
  TriMesh whole;
  VerticalRayGrid columns;
  Body(TriMesh mesh, bool sound) : whole(oriented(std::move(mesh), sound)), columns(whole) {}
  static TriMesh oriented(TriMesh mesh, bool sound) {
    if (!sound)
      orient_facets(mesh);
    return mesh;
  }
};

/// The part of a body that is wall, and how sides of the body are told.
struct Machined {
  MachinedSurface surface; ///< when it has no facets, there is nothing below
  std::optional<InsideTest> air;
  std::optional<VerticalRayGrid> columns; ///< of the surface, where the rule asks for them

  Machined(const Body& body, const PocketFace& face, CutFrom from, bool sound)
      : surface(machined_surface(body.whole, face)) {
    if (surface.mesh.triangles.empty())
      return;
    air.emplace(body.whole, body.columns, from, sound);
    if (face.opens && air->test() == InsideMethod::sheet)
      air->use_machined(columns.emplace(surface.mesh));
  }
  Machined(const Machined&) = delete;
  Machined& operator=(const Machined&) = delete;
};

constexpr std::size_t kGrain = 1 << 14;
constexpr double kTouching_mm = 1e-6;

double area_of(const TriMesh& mesh) {
  double sum = 0;
  for (const Tri& t : mesh.triangles) {
    const Vec3 a = mesh.vertices[t[0]];
    sum += 0.5 * length(cross(mesh.vertices[t[1]] - a, mesh.vertices[t[2]] - a));
  }
  return sum;
}

/// Of all cells, or of those that lie in the air with all their corners, deeper than touching.
double area_of(const WallMap& map, bool only_in_air, const RunContext& run) {
  return sum_of_blocks(
      map.cells.size(), kGrain, run, 0.0,
      [&map, only_in_air](std::size_t begin, std::size_t end) {
        double sum = 0;
        for (std::size_t i = begin; i < end; ++i) {
          const Tri& c = map.cells[i];
          if (only_in_air && !std::all_of(c.begin(), c.end(), [&map](std::uint32_t k) {
                return map.samples[k].wall_mm < -kTouching_mm;
              }))
            continue;
          const Vec3 a = map.samples[c[0]].at;
          sum += 0.5 * length(cross(map.samples[c[1]].at - a, map.samples[c[2]].at - a));
        }
        return sum;
      },
      [](double& sum, double part) { sum += part; });
}

double thinnest_sample(const WallMap& map, const RunContext& run) {
  return sum_of_blocks(
      map.samples.size(), kGrain, run, 1e300,
      [&map](std::size_t begin, std::size_t end) {
        double t = 1e300;
        for (std::size_t i = begin; i < end; ++i)
          t = std::min(t, map.samples[i].wall_mm);
        return t;
      },
      [](double& least, double part) { least = std::min(least, part); });
}

/// Is most of the skin so far from the pocket that a field pays? Asks a few hundred corners.
bool mostly_beyond(const TriMesh& skin, const WallProbe& probe, double beyond_mm) {
  constexpr std::size_t kWorthIt = 20000, kAsked = 400;
  if (skin.vertices.size() < kWorthIt)
    return false;
  std::size_t beyond = 0;
  const std::size_t step = skin.vertices.size() / kAsked;
  for (std::size_t i = 0; i < skin.vertices.size(); i += step)
    beyond += probe.there().nearest(skin.vertices[i]).distance > beyond_mm;
  return beyond > kAsked / 2;
}

struct MeasuredSkin {
  RefinedMap map;
  /// Walls from here on are only known to be at least as large as they say.
  double exact_to_mm = std::numeric_limits<double>::infinity();
};

/// A guide with more voxels takes longer than what it guides; its memory is counted on
/// (memory_need.cpp).
constexpr double kMaxVoxels = 3e6;

/// Measures the skin; where a distance field shows it to be thick, without asking the triangles.
MeasuredSkin measure_skin(const TriMesh& skin, RefineStart start, WallProbe& probe,
                          const MeasureOptions& options, const RefineOptions& spacing,
                          const RunContext& run) {
  const double beyond = std::max(4.0, 2.5 * options.ceiling_mm);
  FieldOptions field;
  field.voxel_mm = options.voxel_mm > 0 ? options.voxel_mm : beyond / 4;
  field.band_mm = beyond + 2 * field.voxel_mm;
  const TriMesh& pocket = probe.there().mesh();
  const bool pays = DistanceField::expected_voxels(pocket, field) <=
                        kMaxVoxels + 2 * static_cast<double>(skin.vertices.size()) &&
                    length(pocket.box().size()) < 1e5 * field.voxel_mm;
  if (options.voxel_mm > 0 || (pays && mostly_beyond(skin, probe, beyond))) {
    const DistanceField guide(
        probe.there(), [&probe](Vec3 p) { return probe.in_air(p); }, field, run);
    probe.set_guide(&guide, beyond);
    MeasuredSkin guided{refine(std::move(start), probe, spacing, run), beyond};
    probe.set_guide(nullptr, 0);
    if (thinnest_sample(guided.map.map, run) < beyond)
      return guided;
    // Nothing is thin: the least wall must then be found among walls that were only bounded.
    start = refine_start(skin, run);
  }
  return {refine(std::move(start), probe, spacing, run)};
}

/// What is known of the open edges of a machined surface.
OpenEdgesKnown open_edges(const Machined& wall, bool sound, const PocketFace& face) {
  OpenEdgesKnown known{sound, std::nullopt};
  if (face.opens && wall.surface.left_out_mm2 > 0)
    known.rim_z_mm = face.top_z_mm;
  return known;
}

/// The least wall of what a stated rim leaves out: to the pocket, or to the pocket face over it.
double least_of_rim(const TriMesh& rim, const ClosestSurface& pocket, const RunContext& run) {
  return sum_of_blocks(
      rim.triangles.size(), 1 << 12, run, std::numeric_limits<double>::max(),
      [&](std::size_t begin, std::size_t end) {
        double least = std::numeric_limits<double>::max();
        for (std::size_t i = begin; i < end; ++i) {
          const Tri& t = rim.triangles[i];
          const auto pair = pocket.nearest_to_triangle(
              {rim.vertices[t[0]], rim.vertices[t[1]], rim.vertices[t[2]]}, least);
          if (pair)
            least = pair->distance;
        }
        return least;
      },
      [](double& least, double part) { least = std::min(least, part); });
}

std::optional<double> lower_of(std::optional<double> a, std::optional<double> b) {
  return a && b ? std::optional(std::min(*a, *b)) : a ? a : b;
}

/// The least wall between a face that was stated and the one that is shown above it.
double least_above(const Body& pocket, const Body& skin, const ShownFace& shown,
                   const PocketFace& stated, const RunContext& run) {
  const PocketFace face =
      shown.found.opens ? shown.found : PocketFace{*shown.rim_z_mm, true, {}, false};
  const TriMesh above = machined_surface(pocket.whole, face).mesh;
  if (above.triangles.empty())
    return std::numeric_limits<double>::max();
  return least_of_rim(above_plane(machined_surface(skin.whole, face).mesh, stated.top_z_mm),
                      ClosestSurface(above), run);
}

/// The deeper of what either surface reaches into the other's air.
WallPlace cut_through_place(const RefinedMap& skin, const WallProbe& skin_probe,
                            const RefinedMap& pocket, const WallProbe& pocket_probe,
                            const std::optional<CellPair>& touch, WallMeasurement& result,
                            const RunContext& run) {
  const std::uint64_t most = max_divided(skin_probe.there().mesh().triangles.size() +
                                         pocket_probe.there().mesh().triangles.size());
  const Deepest from_skin = deepest(skin, skin_probe, most, run);
  const Deepest from_pocket = deepest(pocket, pocket_probe, most, run);
  result.work.divided = from_skin.divided + from_pocket.divided;
  for (const Deepest* found : {&from_skin, &from_pocket})
    if (!found->settled)
      result.left_open.depth_most_mm =
          std::max(result.left_open.depth_most_mm.value_or(0), -found->floor_mm);
  WallPlace place;
  if (from_skin.sample &&
      (!from_pocket.sample || from_skin.sample->wall_mm <= from_pocket.sample->wall_mm)) {
    const WallSample& s = *from_skin.sample;
    place = {s.at, skin_probe.there().nearest(s.at).point, s.n, s.wall_mm, {}};
  } else if (from_pocket.sample) {
    const WallSample& s = *from_pocket.sample;
    place = {pocket_probe.there().nearest(s.at).point, s.at, s.n, s.wall_mm, {}};
  } else if (touch) { // they touch and no more
    place = {touch->pair.on_first, touch->pair.on_second, Vec3{0, 0, -1}, 0.0, {}};
  }
  return place;
}

/// A map was made: what it took and what it left.
void add_map(const RefinedMap& map, WallMeasurement& result) {
  result.work.cells = std::max<std::uint64_t>(result.work.cells, map.map.cells.size());
  result.work.steps += map.steps;
  result.left_open.unsplit_mm = std::max(result.left_open.unsplit_mm, map.unsplit_mm);
}

} // namespace

WallMeasurement measure_wall(TriMesh pocket_mesh, TriMesh skin_mesh, const MeasureOptions& options,
                             const RunContext& run) {
  run.progress("ordering facets", 0);
  // The pocket is shared with the result, which answers straight-down questions later.
  std::shared_ptr<const Body> pocket_body;
  std::unique_ptr<const Body> skin_body;
  both_at_once(
      [&] {
        pocket_body = std::make_shared<const Body>(std::move(pocket_mesh), options.pocket_sound);
      },
      [&] { skin_body = std::make_unique<const Body>(std::move(skin_mesh), options.skin_sound); });
  const Body& pocket = *pocket_body;
  const Body& skin = *skin_body;
  PocketFace face = find_pocket_face(pocket.whole, pocket.columns, skin.whole, skin.columns);
  WallMeasurement result;
  const ShownFace shown{face, options.pocket_sound ? std::nullopt : flat_rim(pocket.whole)};
  if (options.top_z_mm)
    face = stated_face(*options.top_z_mm, shown, result.notices);
  run.progress("building trees", 0.1);
  std::optional<Machined> pocket_wall, skin_wall;
  std::optional<ClosestSurface> pocket_tree_made;
  TriMesh skin_left; // where a rim runs out
  RefineStart start;
  RefineOptions fine;
  // The pocket's tree and all that can be known of the skin without it.
  both_at_once(
      [&] {
        const TriMesh& wall =
            pocket_wall.emplace(pocket, face, CutFrom::above, options.pocket_sound).surface.mesh;
        if (!wall.triangles.empty())
          pocket_tree_made.emplace(wall);
        result.facts.pocket =
            surface_facts(wall, open_edges(*pocket_wall, options.pocket_sound, face));
      },
      [&] {
        const TriMesh& wall =
            skin_wall.emplace(skin, face, CutFrom::below, options.skin_sound).surface.mesh;
        result.facts.skin = surface_facts(wall, open_edges(*skin_wall, options.skin_sound, face));
        if (options.rim_depth_mm > 0)
          skin_left = below_plane(wall, face.top_z_mm - options.rim_depth_mm);
        const TriMesh& asked = options.rim_depth_mm > 0 ? skin_left : wall;
        start = refine_start(asked, run);
        fine = sample_spacing(options, asked);
        fine.max_cells = max_skin_cells(asked.triangles.size());
        fine.max_steps = max_steps(asked.triangles.size());
      });
  for (const auto& [wall, name] : {std::pair{&pocket_wall, "pocket"}, {&skin_wall, "skin"}})
    if ((*wall)->surface.mesh.triangles.empty())
      throw InputError(fmt::format("the {} has no facets below the pocket face at z = {:.3f} mm; "
                                   "check how the meshes lie, z must point up out of the pocket",
                                   name, face.top_z_mm));
  if (options.rim_depth_mm > 0 && skin_left.triangles.empty())
    throw InputError(fmt::format("rim_depth = {:.3f} mm leaves no skin below it; state how far "
                                 "below the pocket face the rim runs out",
                                 options.rim_depth_mm));
  const ClosestSurface& pocket_tree = *pocket_tree_made;
  const TriMesh& skin_asked = options.rim_depth_mm > 0 ? skin_left : skin_wall->surface.mesh;
  // Where the rim runs out, neither surface is asked.
  TriMesh pocket_left;
  if (options.rim_depth_mm > 0)
    pocket_left = below_plane(pocket_wall->surface.mesh, face.top_z_mm - options.rim_depth_mm);
  const TriMesh& pocket_asked = options.rim_depth_mm > 0 ? pocket_left : pocket_wall->surface.mesh;
  const double nudge = 2 * std::max(plane_tolerance_mm(pocket.columns.box()),
                                    plane_tolerance_mm(skin.columns.box()));
  const double sign_top = face.opens ? face.top_z_mm - nudge : 1e300;
  const SideClassifier skin_side(*pocket_wall->air, sign_top);
  WallProbe skin_probe(pocket_tree, skin_side, true);

  run.progress("measuring the skin", 0.2);
  MeasuredSkin measured =
      measure_skin(skin_asked, std::move(start), skin_probe, options, fine, run);
  RefinedMap& skin_map = measured.map;
  run.progress("finding the least wall", 0.6);
  const LeastPair least = least_pair(skin_map.map, pocket_tree, fine.max_steps, run);
  std::optional<CellPair> pair = least.pair;
  result.left_open.least_floor_mm = least.floor_mm;
  result.work.pairs = least.cells_asked;
  result.work.steps += least.steps;
  result.measured_to_mm = options.ceiling_mm;
  if (options.above_least_mm && pair &&
      pair->pair.distance + *options.above_least_mm > options.ceiling_mm) {
    // Spacing grows with the ceiling: a thick plate does not come out in more cells than a thin
    // one.
    MeasureOptions higher = options;
    higher.ceiling_mm = result.measured_to_mm = pair->pair.distance + *options.above_least_mm;
    const RefineOptions bounds = fine;
    fine = sample_spacing(higher, skin_asked);
    fine.max_cells = bounds.max_cells;
    fine.max_steps = bounds.max_steps;
    const bool exact = higher.ceiling_mm < measured.exact_to_mm;
    skin_map = exact ? refine_further(std::move(skin_map), skin_probe, fine, run)
                     : refine(refine_start(skin_asked, run), skin_probe, fine, run);
    pair->cell = cell_at(skin_map.map, pair->pair.on_first, run);
  }
  add_map(skin_map, result);
  const bool crossed = pair && !(pair->pair.distance > 0);
  run.progress("looking from the pocket", 0.8);
  const SideClassifier pocket_side(*skin_wall->air, sign_top);
  const bool skin_cut = crossed || thinnest_sample(skin_map.map, run) <= 0;
  const bool pocket_cut = !skin_cut && !options.pocket_map &&
                          pocket_side.any_in_air(pocket_asked, pair ? pair->pair.distance : 0.0,
                                                 fine.coarse_spacing_mm, run);
  std::optional<ClosestSurface> skin_tree;
  std::optional<WallProbe> pocket_probe;
  RefinedMap pocket_map;
  // A pocket that is larger than the skin is cut no finer than its own size asks for.
  RefineOptions from_pocket = fine;
  from_pocket.coarse_spacing_mm = std::max(
      fine.coarse_spacing_mm, sample_spacing(options, pocket_wall->surface.mesh).coarse_spacing_mm);
  from_pocket.max_cells = max_pocket_cells(pocket_wall->surface.mesh.triangles.size());
  from_pocket.max_steps = max_steps(pocket_wall->surface.mesh.triangles.size());
  if (skin_cut || pocket_cut || options.pocket_map) {
    skin_tree.emplace(skin_wall->surface.mesh);
    pocket_probe.emplace(*skin_tree, pocket_side, false);
    RefineOptions coarse = from_pocket;
    coarse.fine_spacing_mm = coarse.coarse_spacing_mm;
    pocket_map = refine(refine_start(pocket_asked, run), *pocket_probe, coarse, run);
    // A coarse map of the pocket rules nothing out: it only begins the search for the depth.
    result.work.cells = std::max<std::uint64_t>(result.work.cells, pocket_map.map.cells.size());
    result.work.steps += pocket_map.steps;
  }
  if (skin_cut || (pocket_probe && thinnest_sample(pocket_map.map, run) <= 0)) {
    result.least =
        cut_through_place(skin_map, skin_probe, pocket_map, *pocket_probe, pair, result, run);
    result.intersects = crossed;
    result.left_open.least_floor_mm.reset(); // it is a cut-through, and how deep was looked for
  } else if (pair) {
    result.least = {pair->pair.on_first,
                    pair->pair.on_second,
                    unit(pair->pair.on_first - pair->pair.on_second),
                    pair->pair.distance,
                    {}};
  }
  result.straight_down_mm = [pocket_body](Vec3 p) -> std::optional<double> {
    const auto floor = pocket_body->columns.lowest(p.x, p.y);
    return floor ? std::optional(*floor - p.z) : std::nullopt;
  };
  result.least.straight_down_mm = result.straight_down_mm(result.least.skin);

  result.skin_area_mm2 = area_of(skin_map.map, false, run);
  if (skin_cut && result.skin_area_mm2 > 0)
    result.facts.skin_in_air = area_of(skin_map.map, true, run) / result.skin_area_mm2;
  const TriMesh &pocket_mesh_wall = pocket_wall->surface.mesh,
                &skin_mesh_wall = skin_wall->surface.mesh;
  const auto skin_tree_now = [&]() -> const ClosestSurface& {
    if (!skin_tree)
      skin_tree.emplace(skin_mesh_wall);
    return *skin_tree;
  };
  // What is left of a body without its lid ends in a flat rim too, whatever else is lost of it.
  const auto asked_of = [&face](const Machined& wall, const std::optional<double>& rim,
                                const TriMesh& other) {
    OpenRunsAsked asked{face.top_z_mm,
                        rim.has_value() || (face.opens && wall.air->test() != InsideMethod::sheet),
                        false, &other};
    if (rim.has_value() && rim.value() < face.top_z_mm)
      asked.top_z_mm = rim.value();
    return asked;
  };
  std::optional<double> skin_ends, pocket_ends;
  if (!options.skin_sound) {
    skin_ends = flat_rim(skin_mesh_wall);
    find_holes(result.facts.skin, skin_mesh_wall, asked_of(*skin_wall, skin_ends, pocket_mesh_wall),
               [&]() -> const ClosestSurface& { return pocket_tree; });
  }
  if (!options.pocket_sound) {
    pocket_ends = flat_rim(pocket_mesh_wall);
    OpenRunsAsked asked = asked_of(*pocket_wall, pocket_ends, skin_mesh_wall);
    asked.pocket = true;
    find_holes(result.facts.pocket, pocket_mesh_wall, asked, skin_tree_now);
  }
  result.facts.pocket_beyond_skin = beyond(pocket.columns, skin.columns, face.top_z_mm);
  result.facts.skin_beyond_pocket = beyond(skin.columns, pocket.columns, face.top_z_mm);
  const auto ends_under = [&face](std::optional<double> one, std::optional<double> other) {
    const double at = face.opens ? face.top_z_mm : other.value_or(-1e300);
    return one && at - *one > kSeam_mm ? std::optional(at) : std::nullopt;
  };
  if (const auto at = ends_under(pocket_ends, skin_ends))
    result.facts.pocket.ends_below =
        ends_below_by(pocket_mesh_wall, *pocket_ends, *at, skin_tree_now());
  if (const auto at = ends_under(skin_ends, pocket_ends))
    result.facts.skin.ends_below = ends_below_by(skin_mesh_wall, *skin_ends, *at, pocket_tree);
  if (const auto z = shown.z_mm(); z && options.top_z_mm && face.top_z_mm < *z - kSameFace_mm)
    result.facts.above_face = {face.top_z_mm, *z, least_above(pocket, skin, shown, face, run)};
  result.skin = std::move(skin_map.map);
  if (options.pocket_map)
    result.pocket = std::move(pocket_map.map);
  add_minima(result.skin, skin_probe, result.measured_to_mm, run);
  // The thinnest place is a sample of its own, so that nothing computed from samples misses it.
  result.skin.minima.push_back(
      {static_cast<std::uint32_t>(result.skin.samples.size()), pair ? pair->cell : 0});
  result.skin.samples.push_back({result.least.skin, result.least.n, result.least.wall_mm});
  const std::optional<double> land_top =
      lower_of(face.opens ? std::optional(face.top_z_mm) : std::nullopt, shown.rim_z_mm);
  if (options.land && land_top) {
    const SideClassifier pocket_air(*pocket_wall->air, sign_top),
        outside(*skin_wall->air, sign_top);
    const auto land =
        measure_land(result.skin, {*land_top, nudge, &pocket_air, &outside, &skin.columns}, run);
    if (land && land->place.wall_mm < result.least.wall_mm)
      result.least = land->place;
  }
  const SeenFromPocket seen =
      add_seen_from_pocket(result.skin, pocket_wall->surface.mesh, pocket_side, from_pocket, run);
  result.left_open.unsplit_mm = std::max(result.left_open.unsplit_mm, seen.unsplit_mm);
  result.work.cells = std::max(result.work.cells, seen.max_cells);
  result.work.steps += seen.steps;
  if (options.rim_depth_mm > 0) {
    const TriMesh rim = above_plane(skin_wall->surface.mesh, face.top_z_mm - options.rim_depth_mm);
    if (!rim.triangles.empty())
      result.rim = {area_of(rim), least_of_rim(rim, pocket_tree, run)};
  }
  result.top_z_mm = face.top_z_mm;
  result.left_out_area_mm2 = pocket_wall->surface.left_out_mm2 + skin_wall->surface.left_out_mm2;
  result.fine_spacing_mm = fine.fine_spacing_mm;
  result.ambiguous_points = skin_side.ambiguous_points() + pocket_side.ambiguous_points();
  if (options.land && !land_top)
    result.assumptions.push_back("No pocket face was found or stated: wood beside the pocket was "
                                 "not measured up to it.");
  result.assumptions.insert(result.assumptions.begin(),
                            {face.why, pocket_wall->air->words(), skin_wall->air->words()});
  if (result.ambiguous_points > 0)
    result.notices.push_back(
        {"side-unclear",
         fmt::format("For {} points inside and outside could not be told clearly; close the gaps "
                     "in the meshes and check again.",
                     result.ambiguous_points)});
  return result;
}

} // namespace leastwall
