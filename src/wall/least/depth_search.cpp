#include "wall/least/depth_search.h"

#include "base/parallel.h"
#include "base/work_count.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace leastwall {
namespace {

constexpr double kDepthTolerance_mm = 0.0005;
constexpr double kPoint_mm = 1e-5; // cells no wider hold nothing that their corners do not tell
constexpr std::size_t kRound = 256, kGrain = 8, kCellGrain = 1 << 14;

struct Corner {
  WallSample sample;
  std::uint32_t nearest;
};

struct Cell {
  std::array<Corner, 3> c;
  Vec3 normal;
};

/// The longest side, from corner `first` to the next one.
struct LongSide {
  double length = -1;
  std::size_t first = 0;
};

LongSide long_side(const std::array<Corner, 3>& c) {
  LongSide side;
  for (std::size_t k = 0; k < 3; ++k)
    if (const double l = distance(c[k].sample.at, c[(k + 1) % 3].sample.at); l > side.length)
      side = {l, k};
  return side;
}

/// No point of a cell with these corners is deeper than this: from a corner in the air the wall
/// changes by no more than the way walked. (Walls out of the air may be larger than they say, where
/// a field has bounded them.)
double rough_floor(const std::array<double, 3>& walls, double longest) {
  double floor = -1e300;
  for (const double wall : walls)
    if (wall <= 0)
      floor = std::max(floor, wall - longest);
  return floor;
}

/// No corner is in the air and the other surface does not pass through: nothing to find here.
bool outside(const std::array<double, 3>& walls, double longest2) {
  const double nearest = std::min({walls[0], walls[1], walls[2]});
  return nearest > 0 && distance_floor(nearest, longest2) > 0;
}

std::array<double, 3> walls_of(const std::array<Corner, 3>& c) {
  return {c[0].sample.wall_mm, c[1].sample.wall_mm, c[2].sample.wall_mm};
}

class Search {
 public:
  Search(const RefinedMap& refined, const WallProbe& probe, const RunContext& run)
      : map_(refined.map), nearest_(refined.nearest), probe_(probe), run_(run) {
    for (const WallSample& s : map_.samples)
      note(s);
  }

  Deepest go(std::uint64_t max_divided, std::uint64_t max_steps) {
    begin();
    Deepest result;
    while (!heap_.empty() && heap_.front().floor < best_ - kDepthTolerance_mm) {
      if (result.divided + kRound > max_divided || steps_.total() >= max_steps) {
        result.settled = false;
        result.floor_mm = heap_.front().floor;
        break;
      }
      result.divided += round();
      run_.check();
    }
    if (found_ && found_->wall_mm < 0)
      result.sample = found_;
    result.steps = steps_.total();
    return result;
  }

 private:
  /// A cell that may hold the deepest point: of the map, or one that a split has made.
  struct Entry {
    double floor;
    std::uint32_t cell;
    bool made;
    bool operator<(const Entry& o) const { // the most promising on top of the heap
      if (floor != o.floor)
        return floor > o.floor;
      return made != o.made ? made : cell > o.cell;
    }
  };

  void note(const WallSample& s) {
    if (s.wall_mm < best_ || (!found_ && s.wall_mm <= best_)) {
      best_ = s.wall_mm;
      found_ = s;
    }
  }

  Cell of_map(std::uint32_t k) const {
    const Tri& t = map_.cells[k];
    Cell cell;
    for (std::size_t i = 0; i < 3; ++i)
      cell.c[i] = {map_.samples[t[i]], nearest_[t[i]]};
    cell.normal =
        cross(cell.c[1].sample.at - cell.c[0].sample.at, cell.c[2].sample.at - cell.c[0].sample.at);
    return cell;
  }

  /// Cells that may hold something deeper than the deepest sample.
  void begin() {
    std::vector<std::vector<Entry>> parts((map_.cells.size() + kCellGrain - 1) / kCellGrain);
    for_blocks(map_.cells.size(), kCellGrain, run_, [&](std::size_t begin, std::size_t end) {
      for (std::size_t k = begin; k < end; ++k) {
        const Tri& t = map_.cells[k];
        const std::array<double, 3> walls = {map_.samples[t[0]].wall_mm, map_.samples[t[1]].wall_mm,
                                             map_.samples[t[2]].wall_mm};
        const double longest2 =
            std::max({length_squared(map_.samples[t[0]].at - map_.samples[t[1]].at),
                      length_squared(map_.samples[t[1]].at - map_.samples[t[2]].at),
                      length_squared(map_.samples[t[2]].at - map_.samples[t[0]].at)});
        if (outside(walls, longest2) ||
            rough_floor(walls, std::sqrt(longest2)) >= best_ - kDepthTolerance_mm)
          continue;
        const auto number = static_cast<std::uint32_t>(k);
        if (const auto floor = worth_splitting(of_map(number)))
          parts[begin / kCellGrain].push_back({*floor, number, false});
      }
    });
    for (const std::vector<Entry>& part : parts)
      heap_.insert(heap_.end(), part.begin(), part.end());
    std::make_heap(heap_.begin(), heap_.end());
  }

  /// Its floor, where the cell may hold a deeper point than the best so far.
  std::optional<double> worth_splitting(const Cell& cell) const {
    const double longest = long_side(cell.c).length;
    const double floor = floor_of(cell.c, longest);
    if (floor >= best_ - kDepthTolerance_mm || longest < kPoint_mm ||
        outside(walls_of(cell.c), longest * longest))
      return std::nullopt;
    return floor;
  }

  /// Splits the most promising cells, all against the same best. Returns how many.
  std::size_t round() {
    struct Task {
      Cell cell;
      std::array<Cell, 2> half;
      std::array<std::optional<double>, 2> floor;
    };
    std::vector<Task> tasks;
    while (tasks.size() < kRound && !heap_.empty() &&
           heap_.front().floor < best_ - kDepthTolerance_mm) {
      std::pop_heap(heap_.begin(), heap_.end());
      const Entry entry = heap_.back();
      heap_.pop_back();
      tasks.push_back({entry.made ? made_[entry.cell] : of_map(entry.cell), {}, {}});
      if (entry.made)
        free_.push_back(entry.cell);
    }
    for_blocks(tasks.size(), kGrain, run_, [&](std::size_t begin, std::size_t end) {
      const StepCount::Span span(steps_);
      for (std::size_t k = begin; k < end; ++k) {
        const Cell& cell = tasks[k].cell;
        const std::size_t i = long_side(cell.c).first, j = (i + 1) % 3, l = (i + 2) % 3;
        const Vec3 at = (cell.c[i].sample.at + cell.c[j].sample.at) * 0.5;
        const WallProbe::Reading r = probe_.read(at, cell.normal, cell.c[i].nearest);
        const Corner middle{r.sample, r.triangle};
        tasks[k].half = {Cell{{cell.c[i], middle, cell.c[l]}, cell.normal},
                         Cell{{middle, cell.c[j], cell.c[l]}, cell.normal}};
      }
    });
    for (const Task& task : tasks)
      note(task.half[0].c[1].sample);
    for_blocks(tasks.size(), kGrain, run_, [&](std::size_t begin, std::size_t end) {
      for (std::size_t k = begin; k < end; ++k)
        for (std::size_t h = 0; h < 2; ++h)
          tasks[k].floor[h] = worth_splitting(tasks[k].half[h]);
    });
    for (const Task& task : tasks)
      for (std::size_t h = 0; h < 2; ++h)
        if (task.floor[h])
          push(*task.floor[h], task.half[h]);
    return tasks.size();
  }

  void push(double floor, const Cell& cell) {
    std::uint32_t place;
    if (free_.empty()) {
      place = static_cast<std::uint32_t>(made_.size());
      made_.push_back(cell);
    } else {
      place = free_.back();
      free_.pop_back();
      made_[place] = cell;
    }
    heap_.push_back({floor, place, true});
    std::push_heap(heap_.begin(), heap_.end());
  }

  /// No point of the cell is deeper than this. In the air the wall is minus the distance to the
  /// other surface, which is at most the distance to any one facet of it, and that is largest at a
  /// corner (the distance to a convex set is convex). The way walked bounds it too.
  double floor_of(const std::array<Corner, 3>& c, double longest) const {
    double floor = rough_floor(walls_of(c), longest);
    for (const Corner& facet : c) {
      const TriangleCorners t = probe_.there().corners(facet.nearest);
      double far = 0;
      for (const Corner& corner : c)
        far = std::max(far, distance(corner.sample.at, closest_point(corner.sample.at, t)));
      floor = std::max(floor, -far);
    }
    return floor;
  }

  const WallMap& map_;
  const std::vector<std::uint32_t>& nearest_;
  const WallProbe& probe_;
  const RunContext& run_;
  StepCount steps_;
  double best_ = 0;
  std::optional<WallSample> found_;
  std::vector<Entry> heap_;
  std::vector<Cell> made_; // cells that splits have made; free_ names places to use again
  std::vector<std::uint32_t> free_;
};

} // namespace

Deepest deepest(const RefinedMap& refined, const WallProbe& probe, std::uint64_t max_divided,
                std::uint64_t max_steps, const RunContext& run) {
  return Search(refined, probe, run).go(max_divided, max_steps);
}

} // namespace leastwall
