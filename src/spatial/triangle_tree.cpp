#include "spatial/triangle_tree.h"

#include "base/maths/angles.h"
#include "base/maths/hypot.h"
#include "base/parallel.h"
#include "base/sum_of_blocks.h"

#include <algorithm>
#include <cmath>

namespace leastwall {
namespace {

constexpr std::size_t kLeaf = 4; ///< triangles a leaf, and children a node
constexpr std::size_t kAlone = 1 << 14;
constexpr std::size_t kTurned = 3;   ///< levels whose boxes are turned
constexpr double kPlaneShare = 0.05; ///< of the search's slack that a facet's plane may use up

struct Item {
  std::array<float, 3> middle;
  std::uint32_t triangle;
};

/// Along one axis; equal middles by number, so that the order is the only one.
struct Before {
  std::size_t axis;
  bool operator()(const Item& a, const Item& b) const {
    // Without branches: which way it goes is a coin toss.
    return static_cast<bool>(static_cast<int>(a.middle[axis] < b.middle[axis]) |
                             (static_cast<int>(a.middle[axis] == b.middle[axis]) &
                              static_cast<int>(a.triangle < b.triangle)));
  }
};

constexpr std::size_t kFew = 64;

/// For each of at most kFew items, how many come before it. Counting them all is quicker than
/// sorting, for there is nothing to guess.
void count_before(const Item* items, std::size_t count, std::size_t axis, std::int32_t* ranks) {
  std::array<float, kFew> key;
  std::array<std::int32_t, kFew> number; // there are fewer than 2^31 triangles
  for (std::size_t i = 0; i < count; ++i) {
    key[i] = items[i].middle[axis];
    number[i] = static_cast<std::int32_t>(items[i].triangle);
  }
  for (std::size_t i = 0; i < count; ++i) {
    std::int32_t before = 0;
    for (std::size_t k = 0; k < count; ++k)
      before += static_cast<std::int32_t>(key[k] < key[i]) |
                (static_cast<std::int32_t>(key[k] == key[i]) &
                 static_cast<std::int32_t>(number[k] < number[i]));
    ranks[i] = before;
  }
}

/// part_at() for at most kFew items.
void part_few(Item* items, std::size_t split, std::size_t count, std::size_t axis) {
  std::array<std::int32_t, kFew> rank;
  count_before(items, count, axis, rank.data());
  std::array<Item, kFew> after;
  std::size_t front = 0, back = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const Item item = items[i];
    const std::size_t first = static_cast<std::size_t>(rank[i]) < split ? 1 : 0;
    items[front] = item;
    after[back] = item;
    front += first;
    back += 1 - first;
  }
  std::copy_n(after.begin(), back, items + front);
}

/// Brings the items before `pivot` to the front and says how many they are. Both ends are emptied
/// first, and each item is then written to both free ends, of which one moves on: nothing waits for
/// the outcome of a comparison. For more than kFew items.
std::size_t bring_forward(Item* items, std::size_t count, const Item& pivot, Before before) {
  constexpr std::size_t kBlock = kFew / 2;
  std::array<Item, kFew> held; // from both ends
  std::copy_n(items, kBlock, held.begin());
  std::copy_n(items + count - kBlock, kBlock, held.begin() + kBlock);
  std::size_t front = 0, back = count;                      // written up to, and from
  std::size_t unread = kBlock, unread_end = count - kBlock; // not looked at yet
  const auto put = [&](const Item& item) {
    const Item copy = item;
    const std::size_t first = before(copy, pivot) ? 1 : 0;
    items[front] = copy;
    items[back - 1] = copy;
    front += first;
    back -= 1 - first;
  };
  // A block is taken from the end that has less room, so that either has a block's room to fill.
  while (unread_end - unread >= kBlock) {
    if (unread - front <= back - unread_end) {
      for (std::size_t i = 0; i < kBlock; ++i)
        put(items[unread + i]);
      unread += kBlock;
    } else {
      for (std::size_t i = 0; i < kBlock; ++i)
        put(items[unread_end - 1 - i]);
      unread_end -= kBlock;
    }
  }
  std::array<Item, kBlock> rest;
  const std::size_t left = unread_end - unread;
  std::copy_n(items + unread, left, rest.begin());
  for (std::size_t i = 0; i < left; ++i)
    put(rest[i]);
  for (const Item& item : held)
    put(item);
  return front;
}

/// Brings the `split` first items to the front, in no order: quickselect whose pivot is taken from
/// a sample a little beyond the split, so that nearly all of the longer part is put aside at once
/// (after Floyd and Rivest 1975).
void part_at(Item* items, std::size_t split, std::size_t count, Before before) {
  constexpr std::size_t kSample = kFew / 2;
  constexpr std::int32_t kOff = 2;  // about the deviation of a place in the sample
  constexpr int kMaxRounds = 40;    // twice what a thousand million items take
  std::uint64_t draw = count;       // from anywhere: rows of a grid would all show the same column
  bool beyond = split * 2 <= count; // the pivot: above the split, or under it
  for (int round = 0; count > kFew; ++round) {
    std::array<Item, kSample> sample;
    for (Item& item : sample) {
      draw = draw * 6364136223846793005u + 1442695040888963407u; // Knuth's linear congruence
      item = items[(draw >> 32) * count >> 32];
    }
    std::array<std::int32_t, kSample> rank;
    count_before(sample.data(), kSample, before.axis, rank.data());
    const auto place = static_cast<std::int32_t>(split * kSample / count);
    const std::int32_t wanted =
        std::clamp<std::int32_t>(beyond ? place + kOff : place - kOff, 0, kSample - 1);
    std::size_t at = 0;
    std::int32_t best = -1; // an item drawn twice leaves out a rank: then the one below
    for (std::size_t i = 0; i < kSample; ++i)
      if (rank[i] <= wanted && rank[i] > best) {
        at = i;
        best = rank[i];
      }
    const std::size_t under = bring_forward(items, count, sample[at], before);
    if (under == split)
      return;
    if (under == 0 || round == kMaxRounds) { // the pivot is the first of all, or luck is out
      std::nth_element(items, items + split, items + count, before);
      return;
    }
    if (under > split) {
      count = under;
    } else {
      items += under;
      split -= under;
      count -= under;
    }
    beyond = split * 2 <= count;
  }
  part_few(items, split, count, before.axis);
}

/// Along which the middles are spread widest; of many, as far as every eighth tells.
std::size_t longest_axis(const Item* items, std::size_t count) {
  std::array<float, 3> low = items[0].middle, high = low;
  const std::size_t step = count > kAlone ? 8 : 1;
  for (std::size_t i = 0; i < count; i += step)
    for (std::size_t k = 0; k < 3; ++k) {
      low[k] = std::min(low[k], items[i].middle[k]);
      high[k] = std::max(high[k], items[i].middle[k]);
    }
  std::size_t axis = 0;
  for (std::size_t k = 1; k < 3; ++k)
    if (high[k] - low[k] > high[axis] - low[axis])
      axis = k;
  return axis;
}

/// Orders items so that each aligned run of kLeaf^k of them is compact, for every k. `whole` is the
/// least such power that holds all items.
void arrange(Item* items, std::size_t count, std::size_t whole) {
  if (count <= kLeaf)
    return;
  const std::size_t quarter = whole / kLeaf;
  // The largest child boundary that leaves something on both sides, about the middle.
  const std::size_t quarters = (count + quarter - 1) / quarter;
  if (quarters > 1) {
    const std::size_t split = (quarters + 1) / 2 * quarter;
    part_at(items, split, count, {longest_axis(items, count)});
    // Two quarters are still `whole` as far as their own boundary goes.
    const auto part = [&](std::size_t from, std::size_t to) {
      arrange(items + from, to - from, to - from > quarter ? whole : quarter);
    };
    if (count < kAlone) {
      part(0, split);
      part(split, count);
    } else {
      both_at_once([&] { part(0, split); }, [&] { part(split, count); });
    }
    return;
  }
  arrange(items, count, quarter);
}

} // namespace

/// Which way the triangles of a node lie.
struct TriangleTree::Lie {
  Vec3 area;          ///< twice their vector area
  Vec3 square, mixed; ///< of all edges: sums of xx, yy, zz and of yz, zx, xy

  void add_edge(Vec3 e) {
    square += Vec3{e.x * e.x, e.y * e.y, e.z * e.z};
    mixed += Vec3{e.y * e.z, e.z * e.x, e.x * e.y};
  }
  void add(const Lie& other) {
    area += other.area;
    square += other.square;
    mixed += other.mixed;
  }
  /// Sum of (a . e) (b . e) over all edges e.
  double moment(Vec3 a, Vec3 b) const {
    return a.x * b.x * square.x + a.y * b.y * square.y + a.z * b.z * square.z +
           (a.y * b.z + a.z * b.y) * mixed.x + (a.z * b.x + a.x * b.z) * mixed.y +
           (a.x * b.y + a.y * b.x) * mixed.z;
  }
};

/// Three directions square to each other, as single numbers.
struct TriangleTree::Axes {
  std::array<std::array<float, 3>, 3> axis{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};

  Axes() = default;
  /// The third along the normal, the first as near as can be to x, y or z: triangles are parted
  /// along those. Or the first along the triangles, where they are long and narrow. Upright where
  /// there is no normal.
  explicit Axes(const Lie& lie) {
    const Vec3 n = unit(lie.area);
    if (!(length_squared(n) > 0.5))
      return;
    const Vec3 size{std::abs(n.x), std::abs(n.y), std::abs(n.z)};
    const Vec3 along = size.x <= size.y && size.x <= size.z ? Vec3{1, 0, 0}
                       : size.y <= size.z                   ? Vec3{0, 1, 0}
                                                            : Vec3{0, 0, 1};
    Vec3 u = unit(along - n * dot(along, n)), v = cross(n, u);
    // Principal axes of the edges: a grid's have moments of 3 to 1.
    constexpr double kNarrow = 8;
    const double half = (lie.moment(u, u) - lie.moment(v, v)) / 2, across = lie.moment(u, v);
    const double middle = (lie.moment(u, u) + lie.moment(v, v)) / 2;
    if (const double off = maths::hypot(half, across); middle + off > kNarrow * (middle - off)) {
      const double turn = maths::atan2(across, half) / 2;
      u = unit(u * maths::cos(turn) + v * maths::sin(turn));
      v = cross(n, u);
    }
    const std::array<Vec3, 3> all{u, v, n};
    for (std::size_t k = 0; k < 3; ++k)
      axis[k] = {direction_in_single(all[k].x), direction_in_single(all[k].y),
                 direction_in_single(all[k].z)};
  }

  Vec3 turned(Vec3 p) const {
    const auto along = [&](std::size_t k) {
      return double{axis[k][0]} * p.x + double{axis[k][1]} * p.y + double{axis[k][2]} * p.z;
    };
    return {along(0), along(1), along(2)};
  }
};

class TriangleTree::Builder {
 public:
  Builder(TriangleTree& tree, const TriMesh& mesh) : tree_(tree), mesh_(mesh) { order(); }

  std::size_t triangles() const { return order_.size(); }

  /// Fills leaves and nodes of a tree whose levels are laid out.
  void fill() {
    if (tree_.levels_.empty()) {
      fill_leaf(0);
      return;
    }
    // Up to this level boxes are turned; each of its nodes is filled by one thread, with all below.
    const std::size_t top = std::min(kTurned, tree_.levels_.size()) - 1;
    std::vector<Box> boxes(tree_.levels_[top].count); // upright, of that level's nodes
    for_blocks(boxes.size(), 16, {}, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) {
        fill_turned(top, i);
        boxes[i] = box_of(Axes(), triangles_of(top) * i, triangles_of(top));
      }
    });
    for (std::size_t level = top + 1; level < tree_.levels_.size(); ++level) {
      std::vector<Box> above(tree_.levels_[level].count);
      for (std::size_t i = 0; i < above.size(); ++i) {
        Node& node = start_node(level, i, Axes());
        for (std::size_t child = 0; child < kLeaf && kLeaf * i + child < boxes.size(); ++child) {
          const Box& box = boxes[kLeaf * i + child];
          set(node, child, box);
          above[i].add(box.low);
          above[i].add(box.high);
        }
      }
      boxes = std::move(above);
    }
  }

 private:
  void order() {
    UninitializedVector<Item> items(mesh_.triangles.size());
    for_blocks(items.size(), 1 << 14, {}, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) {
        Box box;
        for (const std::uint32_t v : mesh_.triangles[i])
          box.add(mesh_.vertices[v] - tree_.origin_);
        const Vec3 m = box.middle();
        items[i] = {{static_cast<float>(m.x), static_cast<float>(m.y), static_cast<float>(m.z)},
                    static_cast<std::uint32_t>(i)};
      }
    });
    std::size_t whole = kLeaf;
    while (whole < items.size())
      whole *= kLeaf;
    arrange(items.data(), items.size(), whole);
    order_.resize(items.size());
    for_blocks(items.size(), 1 << 16, {}, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i)
        order_[i] = items[i].triangle;
    });
  }

  std::array<Vec3, 3> corners(std::size_t place) const {
    const Tri& t = mesh_.triangles[order_[place]];
    return {mesh_.vertices[t[0]] - tree_.origin_, mesh_.vertices[t[1]] - tree_.origin_,
            mesh_.vertices[t[2]] - tree_.origin_};
  }

  Lie fill_leaf(std::size_t leaf) {
    Lie sum;
    Leaf& out = tree_.leaves_[leaf];
    for (std::size_t k = 0; k < kLeaf; ++k) {
      const std::size_t i = std::min(leaf * kLeaf + k, order_.size() - 1); // the last one repeats
      out.triangle[k] = order_[i];
      const std::array<Vec3, 3> c = corners(i);
      const Vec3 area = cross(c[1] - c[0], c[2] - c[0]), normal = unit(area);
      sum.area += area;
      for (std::size_t v = 0; v < 3; ++v)
        sum.add_edge(c[(v + 1) % 3] - c[v]);
      const auto plane = [&](std::size_t which, Vec3 n, Vec3 on) {
        out.planes[which][0][k] = direction_in_single(n.x);
        out.planes[which][1][k] = direction_in_single(n.y);
        out.planes[which][2][k] = direction_in_single(n.z);
        out.planes[which][3][k] = length_in_single(dot(n, on));
      };
      plane(0, normal, c[0]);
      double off = std::abs(dot(normal, c[1] - c[0])); // by which the planes fail to hold a corner
      for (std::size_t v = 0; v < 3; ++v) {
        const Vec3 next = c[(v + 1) % 3], third = c[(v + 2) % 3];
        const Vec3 outwards = unit(cross(next - c[v], normal));
        plane(v + 1, outwards, c[v]);
        off = std::max(off, dot(outwards, third - c[v]));
      }
      off = std::max(off, std::abs(dot(normal, c[2] - c[0])));
      // So thin or small that rounding turned its planes: as one without area.
      if (off > kPlaneShare * tree_.slack_ || length_squared(normal) > 1 + 1e-9)
        for (std::size_t which = 0; which < 4; ++which)
          plane(which, Vec3{}, Vec3{});
    }
    return sum;
  }

  /// Box of `count` triangles from `begin` on, or of as many as there are.
  Box box_of(const Axes& axes, std::size_t begin, std::size_t count) const {
    Box box;
    for (std::size_t i = begin; i < std::min(order_.size(), begin + count); ++i)
      for (const Vec3 c : corners(i))
        box.add(axes.turned(c));
    return box;
  }

  Node& start_node(std::size_t level, std::size_t index, const Axes& axes) {
    Node& node = tree_.nodes_[tree_.levels_[level].first + index];
    node.low.fill(all(1e30f)); // absent children are far away
    node.high.fill(all(-1e30f));
    for (std::size_t from = 0; from < 3; ++from)
      for (std::size_t to = 0; to < 3; ++to)
        node.turn[from][to] = axes.axis[to][from];
    return node;
  }

  /// That a node of the level holds, but for the last one.
  static std::size_t triangles_of(std::size_t level) {
    std::size_t count = kLeaf * kLeaf;
    for (; level > 0; --level)
      count *= kLeaf;
    return count;
  }

  /// Fills a node and all below it.
  Lie fill_turned(std::size_t level, std::size_t index) {
    const std::size_t children = level == 0 ? tree_.leaves_.size() : tree_.levels_[level - 1].count;
    Lie lie;
    for (std::size_t child = kLeaf * index; child < std::min(children, kLeaf * (index + 1));
         ++child)
      lie.add(level == 0 ? fill_leaf(child) : fill_turned(level - 1, child));
    const Axes axes(lie);
    Node& node = start_node(level, index, axes);
    const std::size_t per_child = triangles_of(level) / kLeaf;
    for (std::size_t child = 0; child < kLeaf; ++child) {
      const std::size_t begin = (kLeaf * index + child) * per_child;
      if (begin < order_.size())
        set(node, child, box_of(axes, begin, per_child));
    }
    return lie;
  }

  static void set(Node& node, std::size_t child, const Box& b) {
    const std::array<double, 3> low{b.low.x, b.low.y, b.low.z}, high{b.high.x, b.high.y, b.high.z};
    for (std::size_t k = 0; k < 3; ++k) {
      node.low[k][child] = length_in_single(low[k]);
      node.high[k][child] = length_in_single(high[k]);
    }
  }

  TriangleTree& tree_;
  const TriMesh& mesh_;
  UninitializedVector<std::uint32_t> order_; // triangles by their place in the tree
};

TriangleTree::TriangleTree(const TriMesh& mesh) {
  const Box box = sum_of_blocks(
      mesh.triangles.size(), 1 << 14, {}, Box(),
      [&mesh](std::size_t begin, std::size_t end) {
        Box part;
        for (std::size_t i = begin; i < end; ++i)
          for (const std::uint32_t v : mesh.triangles[i])
            part.add(mesh.vertices[v]);
        return part;
      },
      [](Box& sum, const Box& part) { sum.add(part); });
  origin_ = box.middle();
  slack_ = 1e-6 * std::max({box.size().x, box.size().y, box.size().z, 1e-3});
  Builder builder(*this, mesh);
  const std::size_t leaves = (builder.triangles() + kLeaf - 1) / kLeaf;
  leaves_.resize(leaves);
  std::size_t nodes = 0;
  for (std::size_t n = leaves; n > 1;) {
    n = (n + kLeaf - 1) / kLeaf;
    levels_.push_back({nodes, n});
    nodes += n;
  }
  nodes_.resize(nodes);
  builder.fill();
}

} // namespace leastwall
