#include "check/pour/pour_job.h"

#include "check/pour/pour_notices.h"
#include "job/job_walls.h"
#include "job/mesh_numbers.h"
#include "job/toml/job_error.h"
#include "parts/on_board.h"
#include "pour/columns.h"
#include "pour/lifts.h"
#include "pour/pour_times.h"
#include "pour/volume_below.h"
#include "pour/wet_surface.h"
#include "spatial/closest_surface.h"
#include "wall/surface/machined_surface.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <iterator>
#include <map>
#include <numeric>
#include <set>
#include <utility>

namespace leastwall {
namespace {

using Trouble = WetSurface::Trouble;

constexpr std::size_t kColumnsAcross = 300;
constexpr std::size_t kDepthSteps = 10;
/// Part of the volume under which columns call it none: a column on an edge may err.
constexpr double kNothing = 2e-4;

/// The pocket face of a part: stated, else the one that its skin and its first pocket show.
double face_of(const Job& job, const TriMesh& skin, const TriMesh& pocket) {
  if (job.pocket_face_z_mm)
    return *job.pocket_face_z_mm;
  const VerticalRayGrid skin_columns(skin), pocket_columns(pocket);
  return find_pocket_face(pocket, pocket_columns, skin, skin_columns).top_z_mm;
}

/// All that hangs together: the pockets of one part.
class PartPour {
 public:
  PartPour(const Job& job, std::size_t part, std::span<const LoadedMesh> meshes,
           const PourAsked& asked, const RunContext& run)
      : part_(job.parts[part]), asked_(asked), run_(run),
        skin_(meshes[MeshNumbers(job).of(part, {})].mesh) {
    const MeshNumbers numbers(job);
    const auto mesh = [&](std::size_t k) -> const TriMesh& {
      return meshes[numbers.of(part, {PartCut::Kind::pocket, k})].mesh;
    };
    face_ = face_of(job, skin_, mesh(0));
    for (std::size_t k = 0; k < part_.pockets.size(); ++k)
      wet_.push_back(wet_surface(mesh(k), face_));
    look_for_overlap();
  }

  PourRow row(std::size_t k, std::vector<Notice>& warnings) {
    const Pocket& pocket = part_.pockets[k];
    const WetSurface& wet = wet_[k];
    PourRow out;
    out.name.pocket = cut_name(part_, {PartCut::Kind::pocket, k});
    if (pocket.inside)
      out.name.inside = cut_name(part_, {PartCut::Kind::pocket, *pocket.inside});
    out.name.material = pocket.material.empty() ? "resin" : pocket.material;
    out.resin = pocket.resin.value_or(Resin{});
    if (asked_.thin_wall_mm)
      out.resin.thin_wall_mm = asked_.thin_wall_mm;
    if (wet.trouble != Trouble::nothing_below) {
      out.depth_mm = face_ - wet.deepest_z_mm;
      out.area_mm2 = wet.area_mm2;
    }
    for (Notice& n : wet_notices(wet, overlap_mm3_[k]))
      warnings.push_back(std::move(n));
    if (told(k))
      fill_volume(k, out, warnings);
    out.asked = keys_asked(out);
    return out;
  }

  PourDrawing drawing(std::size_t k, const PourRow& row) const {
    PourDrawing out;
    const WetSurface& wet = wet_[k];
    if (wet.mesh.triangles.empty())
      return out;
    const auto deepest =
        std::ranges::min_element(wet.mesh.vertices, {}, [](const Vec3& v) { return v.z; });
    const Vec3 size = wet.mesh.box().size();
    const bool along_x = size.x >= size.y;
    // Through the middle of what is deepest, not along an edge of it.
    Box floor;
    for (const Vec3& v : wet.mesh.vertices)
      if (v.z <= deepest->z + 1e-3 * size.z)
        floor.add(v);
    const Vec3 middle = floor.middle();
    const double dx = along_x ? 1 : 0, dy = along_x ? 0 : 1;
    const Vec3 plane = along_x ? Vec3{0, middle.y, 0} : Vec3{middle.x, 0, 0};
    PourSection& section = out.section;
    section.face_z_mm = face_;
    section.along_x = along_x;
    section.at_mm = along_x ? middle.y : middle.x;
    section.pocket = mesh_section(wet.mesh, {plane, dx, dy});
    section.skin = mesh_section(below_plane(skin_, face_), {plane, dx, dy});
    for (std::size_t later = k + 1; later < wet_.size(); ++later)
      if (descends(later, k))
        for (const auto& piece : mesh_section(wet_[later].mesh, {plane, dx, dy}))
          section.later.push_back(piece);
    if (part_.pockets[k].inside)
      section.around = mesh_section(wet_[*part_.pockets[k].inside].mesh, {plane, dx, dy});
    out.wet = wet.mesh;
    if (row.thin)
      out.thin = row.thin->thin;
    return out;
  }

 private:
  bool told(std::size_t k) const {
    return wet_[k].trouble == Trouble::none && !(overlap_mm3_[k] > 0);
  }

  bool descends(std::size_t later, std::size_t from) const {
    for (std::optional<std::size_t> k = part_.pockets[later].inside; k;
         k = part_.pockets[*k].inside)
      if (*k == from)
        return true;
    return false;
  }

  AirColumns columns(std::size_t k, const ColumnLattice& at) const {
    return air_columns(wet_[k].mesh, face_, at, run_);
  }

  void look_for_overlap() {
    for (std::size_t k = 0; k < wet_.size(); ++k) {
      overlap_mm3_.push_back(0);
      if (wet_[k].trouble != Trouble::none)
        continue;
      const ColumnLattice at = column_lattice(wet_[k].mesh.box(), kColumnsAcross, {&wet_[k].mesh});
      const AirColumns air = columns(k, at);
      if (air.overlap_mm > kNothing * air.length_mm)
        overlap_mm3_.back() = air.overlap_mm * at.cell_mm2();
    }
  }

  /// What later pockets take out of this one's resin.
  void take_out(std::size_t k, PourVolume& volume, std::vector<Notice>& warnings) {
    std::vector<std::size_t> later;
    for (std::size_t m = k + 1; m < wet_.size(); ++m)
      if (wet_[m].trouble != Trouble::nothing_below &&
          wet_[m].mesh.box().plan_gap(wet_[k].mesh.box()) <= 0)
        later.push_back(m);
    if (later.empty())
      return;
    // A lattice over all of them sees what leaves the resin.
    Box box = wet_[k].mesh.box();
    std::vector<const TriMesh*> meshes{&wet_[k].mesh};
    for (const std::size_t m : later) {
      box.add(wet_[m].mesh.box());
      meshes.push_back(&wet_[m].mesh);
    }
    const ColumnLattice at = column_lattice(box, 2 * kColumnsAcross, meshes);
    const AirColumns from = columns(k, at);
    std::vector<AirColumns> air;
    for (const std::size_t m : later)
      air.push_back(columns(m, at));
    std::vector<const AirColumns*> all, direct;
    double exact = 0;
    bool told_all = true;
    for (std::size_t i = 0; i < later.size(); ++i) {
      all.push_back(&air[i]);
      told_all = told_all && told(later[i]);
      if (part_.pockets[later[i]].inside == k) {
        direct.push_back(&air[i]);
        exact += volume_below(wet_[later[i]].mesh, face_, run_);
      }
    }
    const double nothing = kNothing * from.length_mm;
    const TakenOut sum = taken_out(from, all), children = taken_out(from, direct);
    if (!(sum.taken_mm > nothing))
      return;
    // Those cut into this resin lie wholly in it, apart from one another, and all others in them.
    volume.later_exact = told_all && children.outside_mm <= kNothing * children.taken_mm &&
                         children.shared_mm <= kNothing * children.taken_mm &&
                         std::abs(sum.taken_mm - children.taken_mm) <= nothing;
    volume.later_mm3 = volume.later_exact ? exact : sum.taken_mm * at.cell_mm2();
    if (!told_all)
      warnings.push_back(later_not_told());
  }

  void fill_volume(std::size_t k, PourRow& out, std::vector<Notice>& warnings) {
    const WetSurface& wet = wet_[k];
    const Resin& resin = out.resin;
    PourVolume volume;
    volume.mm3 = volume_below(wet.mesh, face_, run_);
    volume.less_mm3 = wet.less_mm3;
    volume.more_mm3 = wet.more_mm3;
    for (std::size_t i = 1; i <= kDepthSteps; ++i) {
      const double under =
          out.depth_mm * static_cast<double>(kDepthSteps - i) / static_cast<double>(kDepthSteps);
      volume.by_depth.push_back(
          {under, i == kDepthSteps ? volume.mm3 : volume_below(wet.mesh, face_ - under, run_)});
    }
    take_out(k, volume, warnings);
    const double over = 1 + resin.overage_percent.value_or(0) / 100;
    out.mix_mm3 = volume.mm3 * over;
    out.amounts = components(out.mix_mm3, resin);
    if (resin.deepest_lift_mm) {
      const std::size_t count = lift_count(out.depth_mm, *resin.deepest_lift_mm);
      if (count > kMaxLifts)
        throw InputError(fmt::format(
            "part.pocket.resin.deepest_lift gives {} lifts in {}, at most {} are reckoned with: "
            "check value and unit",
            count, shown(out.name.pocket, 60), kMaxLifts));
      for (const Lift& lift : lifts_of(wet, count, run_)) {
        PourLift l;
        l.thickness_mm = lift.to_z_mm - lift.from_z_mm;
        l.under_face_mm = std::max(0.0, face_ - lift.to_z_mm);
        l.volume_mm3 = lift.volume_mm3;
        l.mix_mm3 = lift.volume_mm3 * over;
        l.amounts = components(l.mix_mm3, resin);
        l.pools = std::max<std::size_t>(1, lift.pools);
        if (resin.cup_ml)
          l.cups = static_cast<std::size_t>(
              std::max(1.0, std::ceil(l.mix_mm3 / (1000 * *resin.cup_ml * kCupFilled) - 1e-9)));
        out.lifts.push_back(l);
      }
    }
    if (asked_.tilt)
      out.tilted = tilted_pour(wet, *asked_.tilt, run_);
    if (!part_.pockets[k].inside) {
      if (resin.seal_coat_g_per_m2)
        out.seal_g = out.area_mm2 * 1e-6 * *resin.seal_coat_g_per_m2;
      if (resin.thin_wall_mm)
        if (const ClosestSurface* skin = skin_near())
          out.thin = thin_floor(wet.mesh, *skin, *resin.thin_wall_mm, run_);
    }
    out.volume = std::move(volume);
    for (Notice& n : lift_notices(out, asked_.tilt))
      warnings.push_back(std::move(n));
  }

  const ClosestSurface* skin_near() {
    if (!near_ && cut_skin_.triangles.empty()) {
      cut_skin_ = machined_surface(skin_, {face_, true, {}, false}).mesh;
      if (!cut_skin_.triangles.empty())
        near_.emplace(cut_skin_);
    }
    return near_ ? &*near_ : nullptr;
  }

  static std::vector<std::string> keys_asked(const PourRow& row) {
    std::vector<std::string> out;
    const Resin& r = row.resin;
    if (!r.ratio) {
      out.emplace_back("ratio");
      out.emplace_back("ratio_by");
    }
    if (!r.density_a)
      out.emplace_back("density_a");
    if (!r.density_b)
      out.emplace_back("density_b");
    if (!r.deepest_lift_mm)
      out.emplace_back("deepest_lift");
    if (!r.hours_between_lifts && row.lifts.size() != 1)
      out.emplace_back("hours_between_lifts");
    if (!r.hours_until_cut)
      out.emplace_back("hours_until_cut");
    return out;
  }

  const Part& part_;
  const PourAsked& asked_;
  const RunContext& run_;
  const TriMesh& skin_;
  double face_ = 0;
  std::vector<WetSurface> wet_;
  std::vector<double> overlap_mm3_; ///< 0: its surface does not lie on itself
  TriMesh cut_skin_;
  std::optional<ClosestSurface> near_;
};

/// A part that has this pocket, where it lies on its board.
void add_part(PourRow& row, const Part& part) {
  row.name.parts.push_back(part.name);
  row.on_board.push_back(
      {part.board, row.thin ? OnBoard(part.on_board).place(row.thin->at) : Vec3{}});
}

/// What is cut in a later set-up is cut when all before it has cured.
void add_stages(PourReport& report) {
  std::set<std::uint32_t> set_ups;
  for (const PourRow& row : report.rows)
    set_ups.insert(row.set_up);
  for (PourRow& row : report.rows)
    row.stage = static_cast<std::size_t>(std::distance(set_ups.begin(), set_ups.find(row.set_up)));
}

/// In the order of work: stage by stage.
void put_in_order(Pour& pour) {
  std::vector<PourRow>& rows = pour.report.rows;
  std::vector<std::size_t> order(rows.size()), place(rows.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return rows[i].stage; });
  std::vector<PourRow> sorted;
  std::vector<PourDrawing> drawings;
  for (const std::size_t i : order) {
    place[i] = sorted.size();
    sorted.push_back(std::move(rows[i]));
    if (!pour.drawings.empty())
      drawings.push_back(std::move(pour.drawings[i]));
  }
  rows = std::move(sorted);
  pour.drawings = std::move(drawings);
  for (PourWarning& warning : pour.report.warnings)
    warning.row = place[warning.row];
}

void add_times(PourReport& report) {
  std::vector<PourTask> tasks;
  for (const PourRow& row : report.rows)
    tasks.push_back({row.stage, row.lifts.empty() ? std::nullopt : std::optional(row.lifts.size()),
                     row.resin.hours_between_lifts, row.resin.hours_until_cut});
  const std::vector<PourTimes> times = pour_times(tasks);
  std::optional<double> last = 0.0;
  for (std::size_t i = 0; i < report.rows.size(); ++i) {
    PourRow& row = report.rows[i];
    row.starts_h = times[i].starts_h;
    row.may_be_cut_h = times[i].may_be_cut_h;
    for (std::size_t k = 0; k < row.lifts.size(); ++k)
      row.lifts[k].after_h = times[i].lift_h[k];
    last =
        last && row.may_be_cut_h ? std::optional(std::max(*last, *row.may_be_cut_h)) : std::nullopt;
  }
  report.side_b_h = last;
}

void add(std::optional<double>& sum, const std::optional<double>& part, double times) {
  sum = sum && part ? std::optional(*sum + times * *part) : std::nullopt;
}

/// By material, ratio and densities, in the order of work.
void add_totals(PourReport& report) {
  std::vector<const PourRow*> firsts;
  for (const PourRow& row : report.rows) {
    if (!row.volume)
      continue;
    const auto same = [&row](const PourRow* first) {
      return first->name.material == row.name.material && first->resin.ratio == row.resin.ratio &&
             first->resin.density_a == row.resin.density_a &&
             first->resin.density_b == row.resin.density_b;
    };
    const auto found = std::ranges::find_if(firsts, same);
    const auto i = static_cast<std::size_t>(found - firsts.begin());
    if (found == firsts.end()) {
      firsts.push_back(&row);
      report.totals.push_back({row.name.material, 0, {0.0, 0.0, 0.0, 0.0}});
    }
    PourTotal& total = report.totals[i];
    const auto times = static_cast<double>(row.count());
    total.mix_mm3 += times * row.mix_mm3;
    add(total.amounts.a_mm3, row.amounts.a_mm3, times);
    add(total.amounts.b_mm3, row.amounts.b_mm3, times);
    add(total.amounts.a_g, row.amounts.a_g, times);
    add(total.amounts.b_g, row.amounts.b_g, times);
  }
}

} // namespace

bool states_resin(const Job& job) {
  for (const Part& part : job.parts)
    for (const Pocket& pocket : part.pockets)
      if (pocket.resin)
        return true;
  return false;
}

Pour pour_job(const Job& job, const std::string& job_file, std::span<const LoadedMesh> meshes,
              const PourAsked& asked, const RunContext& run) {
  Pour out;
  out.report.title = job.title.empty() ? job.parts.front().skin.stem().string() : job.title;
  PourAsked given = asked;
  out.report.start = given.start = asked.start ? asked.start : job.pour.start;
  out.report.tilt = given.tilt = asked.tilt ? asked.tilt : job.pour.tilt;
  std::map<std::pair<std::size_t, std::size_t>, std::size_t> row_of; // part, pocket
  const std::vector<JobWall> walls = walls_of(job, 0);
  for (std::size_t p = 0; p < job.parts.size(); ++p) {
    const Part& part = job.parts[p];
    if (part.mirror_of) {
      // A mirror of a mirror is alike, too.
      std::size_t of = *part.mirror_of;
      while (job.parts[of].mirror_of)
        of = *job.parts[of].mirror_of;
      for (std::size_t k = 0; k < part.pockets.size(); ++k)
        add_part(out.report.rows[row_of.at({of, k})], part);
      continue;
    }
    run.progress("resin", static_cast<double>(p) / static_cast<double>(job.parts.size()));
    PartPour pour(job, p, meshes, given, run);
    for (std::size_t k = 0; k < part.pockets.size(); ++k) {
      run.check();
      const std::size_t number = row_of[{p, k}] = out.report.rows.size();
      std::vector<Notice> warnings;
      try {
        out.report.rows.push_back(pour.row(k, warnings));
      } catch (const InputError& error) {
        throw job_error(job_file, part.pockets[k].line, error.what());
      }
      for (Notice& n : warnings)
        out.report.warnings.push_back({number, std::move(n)});
      PourRow& row = out.report.rows.back();
      row.set_up = set_up_of(walls, p, {PartCut::Kind::pocket, k});
      if (asked.drawn)
        out.drawings.push_back(pour.drawing(k, row));
      add_part(row, part);
      if (row.thin)
        row.thin->thin.clear();
    }
  }
  add_stages(out.report);
  put_in_order(out);
  add_times(out.report);
  add_totals(out.report);
  return out;
}

} // namespace leastwall
