#include "wall/sampling/refine.h"

#include "base/parallel.h"
#include "base/sum_of_blocks.h"
#include "base/uninitialized_vector.h"
#include "base/work_count.h"
#include "mesh/edge_key.h"
#include "spatial/search_bounds.h"
#include "wall/sampling/flat_wall.h"
#include "wall/sampling/narrow_facets.h"
#include "wall/sampling/order_in_space.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <compare>
#include <numeric>

namespace leastwall {
namespace {

constexpr std::size_t kBlock = 512;
constexpr std::size_t kCellGrain = 1 << 14;
constexpr std::size_t kRound = 2 * kCellGrain; // cells between two looks at what has been paid
/// Steps that the questions for flat cells may take before they must have saved something, and the
/// readings of walls that each flat cell found saves (measured: a dozen, deeper cells fewer).
constexpr std::uint64_t kFlatTrial = 4'000'000, kSavedByFlat = 8;
constexpr std::uint32_t kNone = 0xffffffff;
constexpr std::size_t kMaxSamples = 0xfffffff0, kMaxCells = kNone / 3;

class Refiner {
 public:
  Refiner(RefineStart& start, const WallProbe& probe, const RefineOptions& options,
          const RunContext& run)
      : probe_(probe), options_(options), run_(run), cells_(std::move(start.first.map.cells)),
        middles_(std::move(start.middles)), normals_(std::move(start.normals)),
        out_(std::move(start.first)) {
    measure_corners(start.order);
    start.order = {};
    open_all();
  }

  RefinedMap take() {
    const double asked = options_.fine_spacing_mm;
    const bool may_widen =
        options_.max_fine_cells < kMaxCells && asked < options_.coarse_spacing_mm;
    if (may_widen || !middles_.empty()) {
      options_.fine_spacing_mm = options_.coarse_spacing_mm;
      split_all();
      middles_ = {};
      options_.fine_spacing_mm = asked;
      open_all();
      if (may_widen)
        options_.fine_spacing_mm =
            std::clamp(cells_to_cut().spacing_for(static_cast<double>(options_.max_fine_cells)),
                       asked, options_.coarse_spacing_mm);
    }
    split_all();
    out_.fine_spacing_mm = options_.fine_spacing_mm;
    out_.map.cells = std::move(cells_);
    out_.steps += steps_.total();
    return std::move(out_);
  }

 private:
  void open_all() {
    open_.resize(cells_.size());
    flat_.assign(cells_.size(), 0);
    for_blocks(open_.size(), 1 << 16, run_, [&](std::size_t begin, std::size_t end) {
      std::iota(open_.begin() + static_cast<std::ptrdiff_t>(begin),
                open_.begin() + static_cast<std::ptrdiff_t>(end),
                static_cast<std::uint32_t>(begin));
    });
  }

  void split_all() {
    while (split_once())
      run_.check();
  }

  /// The cells that the fine spacing will cut.
  CellsToCut cells_to_cut() {
    CellsToCut sum;
    for (std::size_t from = 0; from < cells_.size(); from += kRound)
      sum = cells_to_cut(from, std::min(kRound, cells_.size() - from), sum);
    return sum;
  }

  CellsToCut cells_to_cut(std::size_t from, std::size_t count, const CellsToCut& before) {
    ask_flat_ = flat_pays();
    return sum_of_blocks(
        count, kCellGrain, run_, before,
        [&](std::size_t begin, std::size_t end) {
          const StepCount::Span span(steps_);
          CellsToCut part;
          for (std::size_t k = from + begin; k < from + end; ++k) {
            const Tri& t = cells_[k];
            if ((split_wanted(t[0], t[1]) || split_wanted(t[1], t[2]) ||
                 split_wanted(t[2], t[0])) &&
                (flat_[k] = is_flat(t)) == 0)
              part.add(
                  {out_.map.samples[t[0]].at, out_.map.samples[t[1]].at, out_.map.samples[t[2]].at},
                  options_.fine_spacing_mm);
          }
          return part;
        },
        [](CellsToCut& sum, const CellsToCut& part) { sum.add(part); });
  }

  /// All of them are needed: where that takes too long, whichever threads come first, it is told.
  void measure_corners(const std::vector<std::uint32_t>& order) {
    const std::uint64_t most =
        max_steps(probe_.there().mesh().triangles.size()) + 100 * order.size();
    std::vector<WallSample>& samples = out_.map.samples;
    for_blocks(order.size(), kBlock, run_, [&](std::size_t begin, std::size_t end) {
      const StepCount::Span span(steps_);
      std::optional<std::uint32_t> hint;
      const WallSample* beside = nullptr;
      const std::uint64_t before = steps_of_thread;
      for (std::size_t k = begin; k < end; ++k) {
        const std::uint32_t i = order[k];
        if (steps_.total() + (steps_of_thread - before) > most)
          throw_too_tangled();
        const WallProbe::Reading r = probe_.read(samples[i].at, normals_[i], hint, beside);
        samples[i] = r.sample;
        out_.nearest[i] = r.triangle;
        hint = r.triangle;
        beside = &samples[i];
      }
    });
  }

  bool split_wanted(std::uint32_t a, std::uint32_t b) const {
    const WallSample &p = out_.map.samples[a], &q = out_.map.samples[b];
    const double l2 = length_squared(p.at - q.at);
    if (l2 > options_.coarse_spacing_mm * options_.coarse_spacing_mm)
      return true;
    if (!middles_.empty() && middles_.contains(edge_key(a, b)))
      return true;
    if (l2 <= options_.fine_spacing_mm * options_.fine_spacing_mm)
      return false;
    // In the air as well: deep in it nothing is near the limit either. (Beside the rim of a sheet
    // the side changes where no surface is; to look for that place would never end.)
    const double nearest = std::min(std::abs(p.wall_mm), std::abs(q.wall_mm));
    // A triangle's longest edge is at most twice the longer of the two that meet in its thinnest
    // corner, so asking each edge for twice its own length clears the whole triangle.
    return distance_floor(nearest, 4 * l2) < options_.ceiling_mm;
  }

  /// An edge that asks to be split: its ends, smaller number first, and where the question came
  /// from (three places for each open cell).
  struct Wish {
    std::uint64_t ends;
    std::uint32_t place;
    auto operator<=>(const Wish&) const = default;
  };

  /// Do the questions for flat cells save more than they cost? Told after whole rounds of cells, so
  /// that it is the same on any number of threads.
  bool flat_pays() const {
    const std::uint64_t asking = flat_steps_.total();
    const std::uint64_t each = (steps_.total() - asking) / (out_.map.samples.size() + 1) + 1;
    return asking <= kFlatTrial + kSavedByFlat * each * flat_found_.load();
  }

  /// Is the wall known all over cell t? Longer cells than the coarse ones are not asked.
  bool is_flat(const Tri& t) {
    if (!options_.flat_cells || !ask_flat_)
      return false;
    const auto& samples = out_.map.samples;
    for (std::size_t i = 0; i < 3; ++i)
      if (length_squared(samples[t[i]].at - samples[t[(i + 1) % 3]].at) >
          options_.coarse_spacing_mm * options_.coarse_spacing_mm)
        return false;
    const StepCount::Span span(flat_steps_);
    const bool flat = flat_wall({{samples[t[0]], samples[t[1]], samples[t[2]]},
                                 {out_.nearest[t[0]], out_.nearest[t[1]], out_.nearest[t[2]]}},
                                probe_.there(), options_.only_thinner);
    if (flat)
      ++flat_found_;
    return flat;
  }

  /// Those of open cells from begin to end, and whether these are flat.
  void add_wishes(std::size_t begin, std::size_t end, std::vector<Wish>& mine) {
    const StepCount::Span span(steps_);
    for (std::size_t k = begin; k < end; ++k) {
      const Tri& t = cells_[open_[k]];
      const std::size_t before = mine.size();
      for (std::size_t i = 0; i < 3; ++i)
        if (split_wanted(t[i], t[(i + 1) % 3]))
          mine.push_back({edge_key(t[i], t[(i + 1) % 3]), static_cast<std::uint32_t>(3 * k + i)});
      if (mine.size() > before && flat_[k] == 0)
        flat_[k] = is_flat(t);
    }
  }

  /// All wishes of the open cells, by their ends. A flat cell agrees to what a neighbour wishes, so
  /// that no edge is split on one side alone, but has no wish of its own.
  std::vector<Wish> wishes() {
    std::vector<std::vector<Wish>> parts((open_.size() + kCellGrain - 1) / kCellGrain);
    for (std::size_t from = 0; from < open_.size(); from += kRound) {
      ask_flat_ = flat_pays();
      for_blocks(std::min(kRound, open_.size() - from), kCellGrain, run_,
                 [&](std::size_t begin, std::size_t end) {
                   add_wishes(from + begin, from + end, parts[(from + begin) / kCellGrain]);
                 });
    }
    std::vector<Wish> all;
    std::size_t count = 0;
    for (const std::vector<Wish>& part : parts)
      count += part.size();
    all.reserve(count);
    for (std::vector<Wish>& part : parts) {
      all.insert(all.end(), part.begin(), part.end());
      part = {};
    }
    sort_in_parallel(all.begin(), all.end());
    drop_of_flat_cells(all);
    return all;
  }

  /// Drops the wishes for edges that only flat cells share.
  void drop_of_flat_cells(std::vector<Wish>& all) const {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < all.size();) {
      std::size_t end = i;
      bool wanted = !middles_.empty(); // then nothing is asked for but what must be
      for (; end < all.size() && all[end].ends == all[i].ends; ++end)
        wanted = wanted || flat_[all[end].place / 3] == 0;
      for (; i < end; ++i)
        if (wanted)
          all[kept++] = all[i];
    }
    all.resize(kept);
  }

  /// Leaves the wishes for the longest edges, as many as make at most `room` more cells, and notes
  /// the longest of the others.
  void keep_longest(std::vector<Wish>& all, std::size_t room) {
    struct Edge {
      double length2;
      std::size_t first, count; // of its wishes
    };
    std::vector<Edge> edges;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (i > 0 && all[i].ends == all[i - 1].ends) {
        ++edges.back().count;
        continue;
      }
      const auto& samples = out_.map.samples;
      edges.push_back({length_squared(samples[all[i].ends >> 32].at -
                                      samples[static_cast<std::uint32_t>(all[i].ends)].at),
                       i, 1});
    }
    std::sort(edges.begin(), edges.end(), [](const Edge& a, const Edge& b) {
      return a.length2 != b.length2 ? a.length2 > b.length2 : a.first < b.first;
    });
    std::vector<Wish> kept;
    for (const Edge& e : edges) {
      if (kept.size() + e.count > room) {
        out_.unsplit_mm = std::sqrt(e.length2);
        break;
      }
      for (std::size_t i = e.first; i < e.first + e.count; ++i)
        kept.push_back(all[i]);
    }
    std::sort(kept.begin(), kept.end());
    all = std::move(kept);
  }

  /// How many more cells there may be: also no more than searches can be paid for at the price of
  /// those until now.
  std::size_t room_left() const {
    const std::uint64_t steps = steps_.total();
    if (steps >= options_.max_steps || cells_.size() >= options_.max_cells)
      return 0;
    const std::uint64_t each = steps / (out_.map.samples.size() + 1) + 1;
    // A split edge is one search and mostly two more cells.
    const std::uint64_t paid = (options_.max_steps - steps) / each;
    return static_cast<std::size_t>(
        std::min<std::uint64_t>(options_.max_cells - cells_.size(), 2 * paid));
  }

  /// One round: splits every edge that asks for it. False when none did.
  bool split_once() {
    if (out_.unsplit_mm > 0)
      return false; // what was not split before is no longer open: to go on would tear the cells
    std::vector<Wish> all = wishes();
    if (all.empty())
      return false;
    const std::size_t room = room_left();
    if (all.size() > room)
      keep_longest(all, room);
    if (all.empty())
      return false;
    // Edges worth splitting, once each, and for each place the number of its middle.
    const auto first = static_cast<std::uint32_t>(out_.map.samples.size());
    std::vector<std::uint32_t> middle(3 * open_.size(), kNone);
    std::vector<std::uint64_t> wanted;
    std::uint32_t number = kNone;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (i == 0 || all[i].ends != all[i - 1].ends) {
        const auto known = middles_.find(all[i].ends);
        number = known != middles_.end() ? known->second
                                         : static_cast<std::uint32_t>(first + wanted.size());
        if (known == middles_.end()) {
          wanted.push_back(all[i].ends);
          if (!middles_.empty()) // a cell beside may come to this edge later
            middles_.emplace(all[i].ends, number);
        }
      }
      middle[all[i].place] = number;
    }
    const std::size_t total = first + wanted.size();
    if (total > kMaxSamples || cells_.size() + 2 * all.size() > kMaxCells)
      throw RunError("too many samples; use a larger sample spacing");
    out_.map.samples.resize(total);
    out_.nearest.resize(total);
    normals_.resize(total);
    for_blocks(wanted.size(), kBlock, run_, [&](std::size_t begin, std::size_t end) {
      const StepCount::Span span(steps_);
      for (std::size_t k = begin; k < end; ++k) {
        const auto a = static_cast<std::uint32_t>(wanted[k] >> 32);
        const auto b = static_cast<std::uint32_t>(wanted[k]);
        const std::size_t i = first + k;
        normals_[i] = normals_[a] + normals_[b];
        const Vec3 at = (out_.map.samples[a].at + out_.map.samples[b].at) * 0.5;
        const WallProbe::Reading r =
            probe_.read(at, normals_[i], out_.nearest[a], &out_.map.samples[a]);
        out_.map.samples[i] = r.sample;
        out_.nearest[i] = r.triangle;
      }
    });
    divide_open(middle, cells_.size() + all.size());
    return true;
  }

  /// Puts the parts of each divided cell in its place; only they stay open, for a cell none of
  /// whose edges was split will never ask. (Edges that ask and are not split have flat cells on all
  /// sides, and parts of flat cells are flat.)
  void divide_open(const std::vector<std::uint32_t>& middle, std::size_t most) {
    std::vector<Tri> next;
    UninitializedVector<std::uint32_t> open;
    std::vector<unsigned char> flat;
    next.reserve(most);
    open.reserve(2 * (most - cells_.size()));
    flat.reserve(2 * (most - cells_.size()));
    std::size_t done = 0; // cells taken over
    const auto take_to = [&](std::size_t cell) {
      next.insert(next.end(), cells_.begin() + static_cast<std::ptrdiff_t>(done),
                  cells_.begin() + static_cast<std::ptrdiff_t>(cell));
      done = cell;
    };
    for (std::size_t k = 0; k < open_.size(); ++k) {
      const Tri m{middle[3 * k], middle[3 * k + 1], middle[3 * k + 2]};
      if (m[0] == kNone && m[1] == kNone && m[2] == kNone)
        continue;
      take_to(open_[k]);
      const std::size_t from = next.size();
      divide(cells_[done++], m, next);
      for (std::size_t c = from; c < next.size(); ++c) {
        open.push_back(static_cast<std::uint32_t>(c));
        flat.push_back(flat_[k]);
      }
    }
    take_to(cells_.size());
    cells_ = std::move(next);
    open_ = std::move(open);
    flat_ = std::move(flat);
  }

  /// Cell t with middles m[i] of edge i -> i+1 (kNone: not split). Shorter diagonals are preferred.
  void divide(const Tri& t, const Tri& m, std::vector<Tri>& next) const {
    const int count = (m[0] != kNone) + (m[1] != kNone) + (m[2] != kNone);
    if (count == 3) {
      next.push_back({t[0], m[0], m[2]});
      next.push_back({m[0], t[1], m[1]});
      next.push_back({m[2], m[1], t[2]});
      next.push_back({m[0], m[1], m[2]});
      return;
    }
    for (std::size_t i = 0; i < 3; ++i) {
      const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
      if (count == 1 && m[i] != kNone) {
        next.push_back({t[i], m[i], t[k]});
        next.push_back({m[i], t[j], t[k]});
        return;
      }
      if (count == 2 && m[i] == kNone) { // edges j and k are split; corner k sits between them
        next.push_back({m[k], m[j], t[k]});
        const auto& s = out_.map.samples;
        if (distance(s[t[i]].at, s[m[j]].at) <= distance(s[t[j]].at, s[m[k]].at)) {
          next.push_back({t[i], t[j], m[j]});
          next.push_back({t[i], m[j], m[k]});
        } else {
          next.push_back({t[i], t[j], m[k]});
          next.push_back({t[j], m[j], m[k]});
        }
        return;
      }
    }
  }

  const WallProbe& probe_;
  RefineOptions options_;
  const RunContext& run_;
  std::vector<Tri> cells_;
  UninitializedVector<std::uint32_t> open_; // cells whose edges may ask, ascending
  std::vector<unsigned char> flat_; // of each open cell: known all over, as its parts will be
  // Of edges split beforehand, and then until all edges are down to the coarse spacing: only after
  // that the cells beside an edge come to it in the same round.
  std::unordered_map<std::uint64_t, std::uint32_t> middles_;
  std::vector<Vec3> normals_;
  RefinedMap out_;
  StepCount steps_, flat_steps_; // the second ones are among the first
  std::atomic<std::uint64_t> flat_found_{0};
  bool ask_flat_ = true;
};

} // namespace

void CellsToCut::add(const std::array<Vec3, 3>& cell, double spacing_mm) {
  const Vec3 a = cell[1] - cell[0], b = cell[2] - cell[1], c = cell[0] - cell[2];
  const double area = length(cross(a, b)) / 2;
  const double longest =
      std::sqrt(std::max({length_squared(a), length_squared(b), length_squared(c)}));
  if (4 * area < spacing_mm * longest)
    narrow_mm += longest;
  else
    area_mm2 += area;
}

double CellsToCut::spacing_for(double cells) const {
  constexpr double kCellsOfLength = 3; // of a narrow cell, as long as the spacing (measured)
  return std::max(std::sqrt(kCellsOfSquare * area_mm2 / cells), kCellsOfLength * narrow_mm / cells);
}

double distance_floor(double nearest_mm, double longest2) {
  return std::sqrt(std::max(0.0, nearest_mm * nearest_mm - longest2 / 3));
}

RefineStart refine_start(const TriMesh& whole, const RefineOptions& options,
                         const RunContext& run) {
  RefineStart start;
  CutAcross cut;
  const double rungs = std::max(options.coarse_spacing_mm, options.rung_spacing_mm);
  if (has_narrow_facets(whole, rungs))
    cut = cut_narrow_facets(whole, rungs);
  start.middles = std::move(cut.middles);
  const TriMesh& surface = cut.mesh.triangles.empty() ? whole : cut.mesh;
  WallMap& map = start.first.map;
  const std::size_t n = surface.vertices.size();
  // Few meshes need more than a quarter as many samples again; those that do pay for moving.
  const std::size_t room = n + n / 4;
  both_at_once(
      [&] {
        map.cells = surface.triangles;
        start.normals.reserve(room);
        start.normals.resize(n);
        for (const Tri& t : surface.triangles) {
          const Vec3 a = surface.vertices[t[0]];
          const Vec3 normal = cross(surface.vertices[t[1]] - a, surface.vertices[t[2]] - a);
          for (const std::uint32_t v : t)
            start.normals[v] += normal;
        }
      },
      [&] {
        start.order = order_in_space(surface, run);
        map.samples.reserve(room);
        map.samples.resize(n);
        for (std::size_t i = 0; i < n; ++i)
          map.samples[i].at = surface.vertices[i];
        start.first.nearest.reserve(room);
        start.first.nearest.resize(n, kNone);
      });
  return start;
}

RefinedMap refine(RefineStart start, const WallProbe& probe, const RefineOptions& options,
                  const RunContext& run) {
  return Refiner(start, probe, options, run).take();
}

RefinedMap refine_further(RefinedMap map, const WallProbe& probe, const RefineOptions& options,
                          const RunContext& run) {
  RefineStart start; // in no order: nothing is measured again
  start.normals.resize(map.map.samples.size());
  for (const Tri& t : map.map.cells) {
    const Vec3 a = map.map.samples[t[0]].at;
    const Vec3 normal = cross(map.map.samples[t[1]].at - a, map.map.samples[t[2]].at - a);
    for (const std::uint32_t v : t)
      start.normals[v] += normal;
  }
  start.first = std::move(map);
  return Refiner(start, probe, options, run).take();
}

} // namespace leastwall
