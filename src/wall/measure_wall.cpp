#include "wall/measure_wall.h"

#include "base/errors.h"
#include "base/parallel.h"
#include "base/sum_of_blocks.h"
#include "mesh/facet_area.h"
#include "mesh/inspect_mesh.h"
#include "wall/least/cut_through.h"
#include "wall/least/least_wall.h"
#include "wall/sampling/land.h"
#include "wall/sampling/map_sums.h"
#include "wall/sampling/measure_bounds.h"
#include "wall/sampling/measure_skin.h"
#include "wall/sampling/sample_spacing.h"
#include "wall/sampling/samples_at.h"
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

bool is_heap(const TriMesh& m) {
  return leastwall::is_heap(m.triangles.size(), m.vertices.size());
}

std::size_t max_cells(const TriMesh& m, std::size_t (*of_facets)(std::size_t)) {
  return is_heap(m) ? max_cells_of_heap(m.triangles.size()) : of_facets(m.triangles.size());
}

/// What is known of the open edges of a machined surface.
OpenEdgesKnown open_edges(const Machined& wall, bool sound, const PocketFace& face) {
  OpenEdgesKnown known{sound, std::nullopt};
  if (face.opens && wall.surface.left_out_mm2 > 0)
    known.rim_z_mm = face.top_z_mm;
  return known;
}

/// The least wall between what a stated rim leaves out and the pocket.
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

/// A map was made: what it took and what it left.
void add_map(const RefinedMap& map, WallMeasurement& result) {
  result.work.cells = std::max<std::uint64_t>(result.work.cells, map.map.cells.size());
  result.work.steps += map.steps;
  result.left_open.unsplit_mm = std::max(result.left_open.unsplit_mm, map.unsplit_mm);
}

/// Measures one pair of surfaces, step by step; each step uses what those before it found.
class Measuring {
 public:
  Measuring(const MeasureOptions& options, const RunContext& run) : options_(options), run_(run) {}

  WallMeasurement measure(TriMesh pocket, TriMesh skin) {
    order_facets(std::move(pocket), std::move(skin));
    build_trees();
    measure_skin_map();
    look_from_pocket();
    place_least();
    describe_fit();
    add_places();
    describe();
    return std::move(result_);
  }

 private:
  bool has_rim() const { return options_.rim_depth_mm > 0; }
  double rim_ends_z() const { return face_.top_z_mm - options_.rim_depth_mm; }
  const TriMesh& pocket_mesh() const { return pocket_wall_->surface.mesh; }
  const TriMesh& skin_mesh() const { return skin_wall_->surface.mesh; }
  /// Where a rim runs out, neither surface is asked.
  const TriMesh& pocket_asked() const { return has_rim() ? pocket_left_ : pocket_mesh(); }
  const TriMesh& skin_asked() const { return has_rim() ? skin_left_ : skin_mesh(); }
  const ClosestSurface& skin_tree() {
    if (!skin_tree_)
      skin_tree_.emplace(skin_mesh());
    return *skin_tree_;
  }

  void order_facets(TriMesh pocket, TriMesh skin);
  void build_trees();
  void require_facets() const;
  void measure_skin_map();
  void measure_higher(double exact_to_mm);
  void use_spacing();
  std::uint64_t steps_left(std::uint64_t now = 0) const;
  void look_from_pocket();
  void place_least();
  void describe_fit();
  void find_ends();
  void add_places();
  std::optional<double> land_top() const;
  LandOf land_under(double top);
  void add_land();
  void describe();

  const MeasureOptions& options_;
  const RunContext& run_;
  WallMeasurement result_;
  // The pocket is shared with the result, which answers straight-down questions later.
  std::shared_ptr<const Body> pocket_;
  std::unique_ptr<const Body> skin_;
  PocketFace face_;
  ShownFace shown_;
  std::optional<Machined> pocket_wall_, skin_wall_;
  std::optional<ClosestSurface> pocket_tree_, skin_tree_;
  TriMesh pocket_left_, skin_left_; ///< below a rim that runs out
  RefineStart start_;
  RefineOptions fine_, from_pocket_;
  std::uint64_t steps_ = 0; ///< that all stages may take together
  double nudge_ = 0, sign_top_ = 0;
  std::optional<SideClassifier> skin_side_, pocket_side_, over_land_, beside_land_;
  std::optional<WallProbe> skin_probe_, pocket_probe_;
  RefinedMap skin_map_, pocket_map_;
  std::optional<CellPair> pair_; ///< the two points nearest to each other
  std::uint32_t least_cell_ = 0; ///< of the skin's map, that has the least wall
  bool crossed_ = false, skin_cut_ = false;
};

void Measuring::order_facets(TriMesh pocket, TriMesh skin) {
  run_.progress("ordering facets", 0);
  both_at_once(
      [&] { pocket_ = std::make_shared<const Body>(std::move(pocket), options_.pocket_sound); },
      [&] { skin_ = std::make_unique<const Body>(std::move(skin), options_.skin_sound); });
  face_ = find_pocket_face(pocket_->whole, pocket_->columns, skin_->whole, skin_->columns);
  shown_ = {face_, options_.pocket_sound ? std::nullopt : flat_rim(pocket_->whole)};
  if (options_.top_z_mm)
    face_ = stated_face(*options_.top_z_mm, shown_, result_.notices);
}

/// The pocket's tree and all that can be known of the skin without it.
void Measuring::build_trees() {
  run_.progress("building trees", 0.1);
  both_at_once(
      [&] {
        const TriMesh& wall =
            pocket_wall_.emplace(*pocket_, face_, CutFrom::above, options_.pocket_sound)
                .surface.mesh;
        if (!wall.triangles.empty())
          pocket_tree_.emplace(wall);
        result_.facts.pocket =
            surface_facts(wall, open_edges(*pocket_wall_, options_.pocket_sound, face_));
      },
      [&] {
        const TriMesh& wall =
            skin_wall_
                .emplace(*skin_, face_, options_.beside ? CutFrom::above : CutFrom::below,
                         options_.skin_sound)
                .surface.mesh;
        result_.facts.skin =
            surface_facts(wall, open_edges(*skin_wall_, options_.skin_sound, face_));
        if (has_rim())
          skin_left_ = below_plane(wall, rim_ends_z());
        fine_ = sample_spacing(options_, skin_asked());
        start_ = refine_start(skin_asked(), fine_, run_);
        fine_.max_cells = max_cells(skin_asked(), max_skin_cells);
      });
  steps_ = max_steps(skin_asked().triangles.size() + pocket_mesh().triangles.size());
  if (is_heap(skin_asked()) || is_heap(pocket_mesh()))
    steps_ /= 2;
  // A map that may have to be made anew leaves half of them to the second one.
  fine_.max_steps = options_.above_least_mm ? steps_ / 2 : steps_;
  require_facets();
  if (has_rim())
    pocket_left_ = below_plane(pocket_mesh(), rim_ends_z());
  nudge_ = 2 * std::max(plane_tolerance_mm(pocket_->columns.box()),
                        plane_tolerance_mm(skin_->columns.box()));
  sign_top_ = face_.opens ? face_.top_z_mm - nudge_ : 1e300;
  skin_side_.emplace(*pocket_wall_->air, sign_top_);
  pocket_side_.emplace(*skin_wall_->air, sign_top_);
}

void Measuring::require_facets() const {
  for (const auto& [wall, name] : {std::pair{&pocket_wall_, "pocket"}, {&skin_wall_, "skin"}})
    if ((*wall)->surface.mesh.triangles.empty())
      throw InputError(fmt::format("the {} has no facets below the pocket face at z = {:.3f} mm; "
                                   "check how the meshes lie, z must point up out of the pocket",
                                   name, face_.top_z_mm));
  if (has_rim() && skin_left_.triangles.empty())
    throw InputError(fmt::format("rim_depth = {:.3f} mm leaves no skin below it; state how far "
                                 "below the pocket face the rim runs out",
                                 options_.rim_depth_mm));
}

void Measuring::measure_skin_map() {
  skin_probe_.emplace(*pocket_tree_, *skin_side_, true);
  run_.progress("measuring the skin", 0.2);
  MeasuredSkin measured =
      measure_skin(skin_asked(), std::move(start_), *skin_probe_, options_, fine_, run_);
  skin_map_ = std::move(measured.map);
  run_.progress("finding the least wall", 0.6);
  const LeastPair least =
      least_pair(skin_map_.map, *pocket_tree_, steps_left(skin_map_.steps), run_);
  pair_ = least.pair;
  result_.left_open.least_floor_mm = least.floor_mm;
  result_.work.pairs = least.cells_asked;
  result_.work.steps += least.steps;
  result_.measured_to_mm = options_.ceiling_mm;
  if (options_.above_least_mm && pair_ &&
      pair_->pair.distance + *options_.above_least_mm > options_.ceiling_mm)
    measure_higher(measured.exact_to_mm);
  add_map(skin_map_, result_);
  use_spacing();
  crossed_ = pair_ && !(pair_->pair.distance > 0);
}

/// Walls about the least one are measured finely too. Spacing grows with the ceiling: a thick plate
/// does not come out in more cells than a thin one.
void Measuring::measure_higher(double exact_to_mm) {
  MeasureOptions higher = options_;
  higher.ceiling_mm = result_.measured_to_mm = pair_->pair.distance + *options_.above_least_mm;
  const std::size_t max_cells = fine_.max_cells;
  fine_ = sample_spacing(higher, skin_asked());
  fine_.max_cells = max_cells;
  fine_.max_steps = steps_left(skin_map_.steps);
  if (higher.ceiling_mm < exact_to_mm) {
    skin_map_ = refine_further(std::move(skin_map_), *skin_probe_, fine_, run_);
  } else {
    result_.work.steps += skin_map_.steps;
    skin_map_ = refine(refine_start(skin_asked(), fine_, run_), *skin_probe_, fine_, run_);
  }
  pair_->cell = cell_at(skin_map_.map, pair_->pair.on_first, run_);
}

/// The spacing as the map has it. Where all is thin it was widened; by much, that is told.
void Measuring::use_spacing() {
  constexpr double kTold = 3;
  const double asked = fine_.fine_spacing_mm, used = skin_map_.fine_spacing_mm;
  result_.fine_spacing_mm = used > kTold * asked ? asked : used;
  if (used > kTold * asked)
    result_.left_open.unsplit_mm = std::max(result_.left_open.unsplit_mm, used);
  fine_.fine_spacing_mm = used;
  fine_.max_fine_cells = RefineOptions().max_fine_cells;
}

/// What is left for the next stage, `now` taken off, or a sixteenth of all.
std::uint64_t Measuring::steps_left(std::uint64_t now) const {
  const std::uint64_t done = result_.work.steps + now;
  return std::max(steps_ - std::min(steps_, done), steps_ / 16);
}

void Measuring::look_from_pocket() {
  run_.progress("looking from the pocket", 0.8);
  skin_cut_ = crossed_ || thinnest_sample(skin_map_.map, run_) <= 0;
  const bool pocket_cut =
      !skin_cut_ && !options_.pocket_map &&
      pocket_side_->any_in_air(pocket_asked(), pair_ ? pair_->pair.distance : 0.0,
                               fine_.coarse_spacing_mm, steps_left(), run_);
  // A pocket that is larger than the skin is cut no finer than its own size asks for.
  from_pocket_ = fine_;
  from_pocket_.coarse_spacing_mm =
      std::max(fine_.coarse_spacing_mm, sample_spacing(options_, pocket_mesh()).coarse_spacing_mm);
  from_pocket_.max_cells = max_cells(pocket_mesh(), max_pocket_cells);
  from_pocket_.max_steps = steps_left();
  if (!skin_cut_ && !pocket_cut && !options_.pocket_map)
    return;
  pocket_probe_.emplace(skin_tree(), *pocket_side_, false);
  RefineOptions coarse = from_pocket_;
  coarse.fine_spacing_mm = coarse.coarse_spacing_mm;
  pocket_map_ = refine(refine_start(pocket_asked(), coarse, run_), *pocket_probe_, coarse, run_);
  // A coarse map of the pocket rules nothing out: it only begins the search for the depth.
  result_.work.cells = std::max<std::uint64_t>(result_.work.cells, pocket_map_.map.cells.size());
  result_.work.steps += pocket_map_.steps;
}

void Measuring::place_least() {
  if (skin_cut_ || (pocket_probe_ && thinnest_sample(pocket_map_.map, run_) <= 0)) {
    const CutThrough cut = cut_through(skin_map_, *skin_probe_, pocket_map_, *pocket_probe_, pair_,
                                       steps_left(), run_);
    result_.least = cut.deepest;
    least_cell_ = cut.cell;
    result_.work.divided = cut.divided;
    result_.work.steps += cut.steps;
    if (cut.at_most_mm)
      result_.left_open.depth_most_mm =
          std::max(result_.left_open.depth_most_mm.value_or(0), *cut.at_most_mm);
    result_.intersects = crossed_;
    result_.left_open.least_floor_mm.reset(); // it is a cut-through, and how deep was looked for
  } else if (pair_) {
    result_.least = {pair_->pair.on_first,
                     pair_->pair.on_second,
                     unit(pair_->pair.on_first - pair_->pair.on_second),
                     pair_->pair.distance,
                     {}};
    least_cell_ = pair_->cell;
  }
  result_.straight_down_mm = [body = pocket_](Vec3 p) -> std::optional<double> {
    const auto floor = body->columns.lowest(p.x, p.y);
    return floor ? std::optional(*floor - p.z) : std::nullopt;
  };
  result_.least.straight_down_mm = result_.straight_down_mm(result_.least.skin);
  result_.pocket_section = [body = pocket_](const SectionPlane& plane) {
    return mesh_section(body->whole, plane);
  };
}

/// What shows whether pocket and skin belong together.
void Measuring::describe_fit() {
  result_.skin_area_mm2 = area_of(skin_map_.map, false, run_);
  if (skin_cut_ && result_.skin_area_mm2 > 0)
    result_.facts.skin_in_air = area_of(skin_map_.map, true, run_) / result_.skin_area_mm2;
  find_ends();
  result_.facts.pocket_beyond_skin = beyond(pocket_->columns, skin_->columns, face_.top_z_mm);
  result_.facts.skin_beyond_pocket = beyond(skin_->columns, pocket_->columns, face_.top_z_mm);
  if (const auto z = shown_.z_mm(); z && options_.top_z_mm && face_.top_z_mm < *z - kSameFace_mm)
    result_.facts.above_face = {face_.top_z_mm, *z,
                                least_above(*pocket_, *skin_, shown_, face_, run_)};
}

void Measuring::find_ends() {
  // What is left of a body without its lid ends in a flat rim too, whatever else is lost of it.
  const auto asked_of = [this](const Machined& wall, const std::optional<double>& rim,
                               const TriMesh& other) {
    OpenRunsAsked asked{face_.top_z_mm,
                        rim.has_value() || (face_.opens && wall.air->test() != InsideMethod::sheet),
                        false, &other};
    if (rim.has_value() && rim.value() < face_.top_z_mm)
      asked.top_z_mm = rim.value();
    return asked;
  };
  std::optional<double> skin_ends, pocket_ends;
  if (!options_.skin_sound) {
    skin_ends = flat_rim(skin_mesh());
    find_holes(result_.facts.skin, skin_mesh(), asked_of(*skin_wall_, skin_ends, pocket_mesh()),
               [&]() -> const ClosestSurface& { return *pocket_tree_; });
  }
  if (!options_.pocket_sound) {
    pocket_ends = flat_rim(pocket_mesh());
    OpenRunsAsked asked = asked_of(*pocket_wall_, pocket_ends, skin_mesh());
    asked.pocket = true;
    find_holes(result_.facts.pocket, pocket_mesh(), asked,
               [this]() -> const ClosestSurface& { return skin_tree(); });
  }
  const auto ends_under = [this](std::optional<double> one, std::optional<double> other) {
    const double at = face_.opens ? face_.top_z_mm : other.value_or(-1e300);
    return one && at - *one > kSeam_mm ? std::optional(at) : std::nullopt;
  };
  if (const auto at = ends_under(pocket_ends, skin_ends))
    result_.facts.pocket.ends_below = ends_below_by(pocket_mesh(), *pocket_ends, *at, skin_tree());
  if (const auto at = ends_under(skin_ends, pocket_ends))
    result_.facts.skin.ends_below = ends_below_by(skin_mesh(), *skin_ends, *at, *pocket_tree_);
}

/// Places that no sample of a corner shows: minima inside cells, the land, what only the pocket
/// sees.
void Measuring::add_places() {
  result_.skin = std::move(skin_map_.map);
  if (options_.pocket_map)
    result_.pocket = std::move(pocket_map_.map);
  MinimaAdded minima;
  if (!options_.samples_alone)
    minima = add_minima(result_.skin, *skin_probe_, result_.measured_to_mm, steps_left(), run_);
  result_.left_open.unsplit_mm = std::max(result_.left_open.unsplit_mm, minima.unasked_mm);
  result_.work.steps += minima.steps;
  // A sample of its own, so that nothing computed from samples misses it.
  result_.skin.minima.push_back(
      {static_cast<std::uint32_t>(result_.skin.samples.size()), least_cell_});
  result_.skin.samples.push_back({result_.least.skin, result_.least.n, result_.least.wall_mm});
  add_samples_at(result_.skin, options_.also_at, *skin_probe_, result_.measured_to_mm,
                 options_.land ? land_top() : std::nullopt, run_);
  add_land();
  from_pocket_.max_steps = steps_left();
  SeenFromPocket seen;
  if (!options_.samples_alone)
    seen = add_seen_from_pocket(result_.skin, pocket_mesh(), *pocket_side_, from_pocket_, run_);
  result_.left_open.unsplit_mm = std::max(result_.left_open.unsplit_mm, seen.unsplit_mm);
  result_.work.cells = std::max(result_.work.cells, seen.max_cells);
  result_.work.steps += seen.steps;
}

std::optional<double> Measuring::land_top() const {
  return lower_of(face_.opens ? std::optional(face_.top_z_mm) : std::nullopt, shown_.rim_z_mm);
}

/// With classifiers of its own: what is unclear beside the land is not counted.
LandOf Measuring::land_under(double top) {
  over_land_.emplace(*pocket_wall_->air, sign_top_);
  beside_land_.emplace(*skin_wall_->air, sign_top_);
  return {top, nudge_, &*over_land_, &*beside_land_, &skin_->columns};
}

void Measuring::add_land() {
  if (!options_.land)
    return;
  const auto top = land_top();
  if (!top) {
    result_.assumptions.push_back({"No pocket face was found or stated: wood beside the pocket was "
                                   "not measured up to it."});
    return;
  }
  const auto land = measure_land(result_.skin, land_under(*top), run_);
  if (land && land->place.wall_mm < result_.least.wall_mm)
    result_.least = land->place;
}

/// How inside and outside are told.
Assumption told_by(const InsideTest& air) {
  return {air.words(), {}, {}, air.test() == InsideMethod::body};
}

void Measuring::describe() {
  if (has_rim()) {
    const TriMesh rim = above_plane(skin_mesh(), rim_ends_z());
    if (!rim.triangles.empty())
      result_.rim = {area_of(rim), least_of_rim(rim, *pocket_tree_, run_)};
    if (const auto top = land_top(); top && result_.rim)
      if (const auto land = least_land(rim, land_under(*top), run_))
        result_.rim->least_wall_mm = std::min(result_.rim->least_wall_mm, *land);
  }
  result_.top_z_mm = face_.top_z_mm;
  result_.left_out_area_mm2 = pocket_wall_->surface.left_out_mm2 + skin_wall_->surface.left_out_mm2;
  result_.ambiguous_points = skin_side_->ambiguous_points() + pocket_side_->ambiguous_points();
  result_.assumptions.insert(
      result_.assumptions.begin(),
      {Assumption{face_.why}, told_by(*pocket_wall_->air), told_by(*skin_wall_->air)});
  if (result_.ambiguous_points > 0)
    result_.notices.push_back(
        {"side-unclear",
         fmt::format("For {} points inside and outside could not be told clearly; close the gaps "
                     "in the meshes and check again.",
                     result_.ambiguous_points)});
}

} // namespace

WallMeasurement measure_wall(TriMesh pocket, TriMesh skin, const MeasureOptions& options,
                             const RunContext& run) {
  return Measuring(options, run).measure(std::move(pocket), std::move(skin));
}

} // namespace leastwall
