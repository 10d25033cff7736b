#include "job/job_walls.h"

#include "setup/number_data.h"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <utility>

namespace leastwall {
namespace {

/// The part and the pocket that a table stands under; both absent: the job's own table.
using Table = std::optional<std::pair<std::size_t, std::size_t>>;

/// The part whose tables hold: of a pair the first half.
std::size_t first_half(const Job& job, std::size_t part) {
  while (job.parts[part].mirror_of)
    part = *job.parts[part].mirror_of;
  return part;
}

Table table_of(const Job& job, std::size_t part, std::size_t pocket, bool own) {
  return own ? Table({first_half(job, part), pocket}) : std::nullopt;
}

/// Numbers in the order in which they are asked for.
class Numbers {
 public:
  std::uint32_t of(const Table& table) {
    return numbers_.try_emplace(table, static_cast<std::uint32_t>(numbers_.size())).first->second;
  }
  std::uint32_t count() const { return static_cast<std::uint32_t>(numbers_.size()); }

 private:
  std::map<Table, std::uint32_t> numbers_;
};

using Kind = PartCut::Kind;

/// Builds the walls part by part.
class Walls {
 public:
  Walls(const Job& job, double top_z_mm) : job_(job), top_z_mm_(top_z_mm) {
    // Set-ups of pockets come first; the touches of drills are numbered behind theirs.
    for (std::size_t p = 0; p < job.parts.size(); ++p)
      for (std::size_t k = 0; k < job.parts[p].pockets.size(); ++k)
        set_ups_a_.of(pocket_table(p, k));
    for (const Part& part : job.parts)
      for (const Hole& hole : part.holes)
        (hole.from == Hole::From::pocket_face ? set_ups_a_ : set_ups_b_).of(std::nullopt);
  }

  std::vector<JobWall> build() {
    for (part_ = 0; part_ < job_.parts.size(); ++part_) {
      const Part& part = job_.parts[part_];
      for (std::size_t k = 0; k < part.pockets.size(); ++k)
        add_pocket(k);
      for (std::size_t h = 0; h < part.holes.size(); ++h)
        add_hole(h);
    }
    number();
    return std::move(walls_);
  }

 private:
  const Part& part() const { return job_.parts[part_]; }

  Table pocket_table(std::size_t p, std::size_t k) const {
    return table_of(job_, p, k, job_.parts[p].pockets[k].own_side_a);
  }

  const SideSetup& how(const PartCut& cut) const {
    switch (cut.kind) {
    case Kind::pocket:
      return part().pockets[cut.number].side_a;
    case Kind::hole:
      return part().holes[cut.number].how;
    case Kind::skin:
      break;
    }
    return part().pockets[0].side_b;
  }

  CutId id(const PartCut& cut) {
    CutId id;
    id.board = part().board;
    switch (cut.kind) {
    case Kind::skin:
      id.side = Side::b;
      id.set_up = id.bit = id.touch =
          set_ups_b_.of(table_of(job_, part_, 0, part().pockets[0].own_side_b));
      break;
    case Kind::pocket:
      id.set_up = id.touch = set_ups_a_.of(pocket_table(part_, cut.number));
      id.bit = bits_a_.of(
          table_of(job_, part_, cut.number, part().pockets[cut.number].side_a.stated.bit));
      break;
    case Kind::hole: {
      const bool on_a = part().holes[cut.number].from == Hole::From::pocket_face;
      id.side = on_a ? Side::a : Side::b;
      id.set_up = (on_a ? set_ups_a_ : set_ups_b_).of(std::nullopt);
      // Each drill touches the datum once, for all its holes of a side.
      id.touch = id.bit = (on_a ? set_ups_a_.count() : kDrillsOfSideB) + drill(cut.number);
      break;
    }
    }
    return id;
  }

  /// One for each diameter, in the order of the job.
  std::uint32_t drill(std::size_t hole) {
    const double diameter = part().holes[hole].diameter_mm;
    const auto place = std::find(drills_.begin(), drills_.end(), diameter) - drills_.begin();
    if (place == std::ssize(drills_))
      drills_.push_back(diameter);
    return static_cast<std::uint32_t>(place);
  }

  void add(const PartCut& outer, const PartCut& inner, bool beside, double limit_mm) {
    JobWall wall;
    wall.part = part_;
    wall.outer = outer;
    wall.inner = inner;
    wall.beside = beside;
    wall.limit_mm = limit_mm;
    wall.setup = setup_of(job_, part().pockets[0], top_z_mm_);
    wall.setup.inner = how(inner);
    wall.setup.inner_cut = id(inner);
    wall.setup.outer = how(outer);
    wall.setup.outer_cut = id(outer);
    wall.setup.of_fill = outer.kind == Kind::pocket && !beside;
    wall.setup.outer_in_fill =
        wall.setup.of_fill && part().pockets[outer.number].inside.has_value();
    if (part().mirror_of)
      for (std::size_t w = 0; w < walls_.size() && !wall.same_as; ++w)
        if (walls_[w].part == *part().mirror_of && walls_[w].outer == outer &&
            walls_[w].inner == inner)
          wall.same_as = walls_[w].same_as.value_or(w);
    walls_.push_back(std::move(wall));
  }

  void add_pocket(std::size_t k) {
    const std::vector<Pocket>& pockets = part().pockets;
    const PartCut own{Kind::pocket, k};
    const double limit = pockets[k].limit_mm;
    if (pockets[k].inside)
      add({Kind::pocket, *pockets[k].inside}, own, false, limit);
    else
      add({}, own, false, limit);
    for (std::size_t other = 0; other < k; ++other)
      if (pockets[other].inside == pockets[k].inside)
        add({Kind::pocket, other}, own, true, std::max(limit, pockets[other].limit_mm));
  }

  void add_hole(std::size_t h) {
    const std::vector<Hole>& holes = part().holes;
    const PartCut own{Kind::hole, h};
    const double limit = holes[h].limit_mm;
    const bool on_a = holes[h].from == Hole::From::pocket_face;
    if (on_a && !holes[h].through)
      add({}, own, false, limit);
    const auto beside = [&](const PartCut& other, bool other_on_a, double other_limit) {
      const double larger = std::max(limit, other_limit);
      // Side A's cut is the inner one.
      on_a || !other_on_a ? add(other, own, true, larger) : add(own, other, true, larger);
    };
    for (std::size_t k = 0; k < part().pockets.size(); ++k)
      if (!part().pockets[k].inside)
        beside({Kind::pocket, k}, true, part().pockets[k].limit_mm);
    for (std::size_t other = 0; other < h; ++other)
      beside({Kind::hole, other}, holes[other].from == Hole::From::pocket_face,
             holes[other].limit_mm);
  }

  void number() {
    std::vector<Setup> setups;
    for (const JobWall& wall : walls_)
      setups.push_back(wall.setup);
    number_data(setups);
    for (std::size_t w = 0; w < walls_.size(); ++w)
      walls_[w].setup = std::move(setups[w]);
  }

  static constexpr std::uint32_t kDrillsOfSideB = 1000; ///< behind all set-ups of side B

  const Job& job_;
  double top_z_mm_;
  std::size_t part_ = 0;
  Numbers set_ups_a_, set_ups_b_, bits_a_;
  std::vector<double> drills_; // diameters
  std::vector<JobWall> walls_;
};

} // namespace

std::vector<JobWall> walls_of(const Job& job, double top_z_mm) {
  return Walls(job, top_z_mm).build();
}

std::uint32_t set_up_of(std::span<const JobWall> walls, std::size_t part, const PartCut& cut) {
  for (const JobWall& wall : walls)
    if (wall.part == part && (wall.inner == cut || wall.outer == cut))
      return (wall.inner == cut ? wall.setup.inner_cut : wall.setup.outer_cut).set_up;
  return 0;
}

std::string cut_name(const Part& part, const PartCut& cut) {
  const auto name_or = [&](const std::string& name, const char* kind, std::size_t of) {
    return !name.empty() ? name : of == 1 ? kind : fmt::format("{} {}", kind, cut.number + 1);
  };
  switch (cut.kind) {
  case Kind::pocket:
    return name_or(part.pockets[cut.number].name, "pocket", part.pockets.size());
  case Kind::hole:
    return name_or(part.holes[cut.number].name, "hole", part.holes.size());
  case Kind::skin:
    break;
  }
  return "skin";
}

std::vector<Assumption> what_set_ups_share(const Job& job) {
  std::vector<Assumption> lines;
  for (const Part& part : job.parts) {
    if (part.mirror_of)
      continue;
    for (const Pocket& pocket : part.pockets)
      if (pocket.own_side_a && (part.pockets.size() > 1 || job.parts.size() > 1))
        lines.push_back({fmt::format(
            "{} is cut in a set-up of its own: its touch-off{} and its seat on the pins are drawn "
            "anew, bed, board and touch plate are those of the other set-ups{}",
            pocket.name.empty() ? "a pocket" : "\"" + pocket.name + "\"",
            pocket.side_a.stated.bit ? ", its bit" : "",
            pocket.side_a.stated.bit ? "" : ", and so are radius and runout of the bit")});
  }
  return lines;
}

} // namespace leastwall
