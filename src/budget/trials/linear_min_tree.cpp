#include "budget/trials/linear_min_tree.h"

#include "base/parallel.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kLeaf = 16;
constexpr std::size_t kInCache = 4096;  // rows
constexpr std::size_t kAsked = 127;     // rows for a middle
constexpr std::size_t kFewColumns = 32; // kept off the heap

} // namespace

/// Cuts rows into boxes. Large nodes are cut one level after the other, side by side; what fits
/// into a core's cache is then finished in one go.
class LinearMinTree::Builder {
 public:
  Builder(const std::vector<double>& w, const std::vector<double>& c, std::size_t columns,
          const ErrorReach& reach)
      : w_(w), c_(c), g_(columns), reach_(reach) {
    middle_.resize(g_);
    for (std::size_t j = 0; j < g_ && bounded(); ++j)
      middle_[j] = (reach.low[j] + reach.high[j]) / 2;
  }

  void fill(LinearMinTree& tree, const RunContext& run) {
    std::vector<std::uint32_t> all(w_.size());
    std::iota(all.begin(), all.end(), 0u);
    // Nodes by level; those of `large` are cut into the two next ones of `level`.
    tree.nodes_.emplace_back();
    std::vector<Work> level(1);
    level[0].rows = std::move(all);
    std::vector<Work> small;
    while (!level.empty()) {
      tree.box_.resize(tree.nodes_.size() * 2 * g_);
      std::vector<std::array<Work, 2>> children(level.size());
      for_blocks(level.size(), 1, run, [&](std::size_t begin, std::size_t end) {
        for (std::size_t k = begin; k < end; ++k) {
          Work& work = level[k];
          if (work.rows.size() <= kInCache)
            continue;
          double* box = tree.box_.data() + work.node * 2 * g_;
          const Source source{w_.data(), c_.data(), 1, g_};
          tree.nodes_[work.node].w =
              cut(source, work.rows, box, children[k][0].rows, children[k][1].rows);
        }
      });
      std::vector<Work> next;
      for (std::size_t k = 0; k < level.size(); ++k) {
        if (level[k].rows.size() <= kInCache) {
          small.push_back(std::move(level[k]));
          continue;
        }
        if (children[k][1].rows.empty()) { // hardly any were kept
          small.push_back({level[k].node, std::move(children[k][0].rows)});
          continue;
        }
        tree.nodes_[level[k].node].left = static_cast<std::uint32_t>(tree.nodes_.size());
        for (Work& child : children[k]) {
          child.node = tree.nodes_.size();
          tree.nodes_.emplace_back();
          next.push_back(std::move(child));
        }
      }
      level = std::move(next);
    }
    std::vector<Branch> branches(small.size());
    for_blocks(small.size(), 1, run, [&](std::size_t begin, std::size_t end) {
      for (std::size_t k = begin; k < end; ++k)
        branches[k] = branch(std::move(small[k].rows));
    });
    join(tree, small, branches);
  }

 private:
  struct Work {
    std::size_t node = 0;
    std::vector<std::uint32_t> rows;
  };
  /// Where rows are found: w at every `step`, c at every `stride`.
  struct Source {
    const double *w, *c;
    std::size_t step, stride;
    double wall(std::uint32_t i) const { return w[i * step]; }
    const double* row(std::uint32_t i) const { return c + i * stride; }
  };
  struct Branch {
    std::vector<Node> nodes;
    std::vector<double> box, w, c;
  };

  bool bounded() const { return !reach_.low.empty(); }

  /// Fills `box`, drops rows that the most promising one undercuts everywhere, and parts the others
  /// at about the middle of the widest direction.
  /// Few rows are a leaf: all on the left. Returns the least w.
  double cut(const Source& from, const std::vector<std::uint32_t>& rows, double* box,
             std::vector<std::uint32_t>& left, std::vector<std::uint32_t>& right) const {
    double w_low = std::numeric_limits<double>::infinity(), w_high = -w_low;
    double *low = box, *high = box + g_;
    std::fill_n(low, g_, w_low);
    std::fill_n(high, g_, w_high);
    double best = w_low;
    std::uint32_t champion = rows[0];
    for (const std::uint32_t i : rows) {
      const double w = from.wall(i);
      const double* row = from.row(i);
      w_low = std::min(w_low, w);
      w_high = std::max(w_high, w);
      double usual = w;
      for (std::size_t j = 0; j < g_; ++j) {
        low[j] = std::min(low[j], row[j]);
        high[j] = std::max(high[j], row[j]);
        usual += row[j] * middle_[j];
      }
      if (usual < best) {
        best = usual;
        champion = i;
      }
    }
    // Cut where the wall is spread most: by w itself or by the cause that spreads it.
    std::size_t along = g_;
    double widest = w_high - w_low;
    for (std::size_t j = 0; j < g_; ++j) {
      const double width = (high[j] - low[j]) * reach_.usual[j];
      if (width > widest) {
        widest = width;
        along = j;
      }
    }
    const auto key = [&](std::uint32_t i) {
      return along == g_ ? from.wall(i) : from.row(i)[along];
    };
    const double middle = middle_key(rows, key);
    const bool leaf = rows.size() <= kLeaf;
    left.reserve(leaf ? rows.size() : rows.size() / 2 + rows.size() / 8);
    if (!leaf)
      right.reserve(rows.size() / 2 + rows.size() / 8);
    for (const std::uint32_t i : rows)
      if (i == champion || !bounded() || !undercut(from, i, champion))
        (leaf || key(i) < middle ? left : right).push_back(i);
    const std::size_t kept = left.size() + right.size();
    if (kept <= kLeaf || std::min(left.size(), right.size()) < kept / 4) {
      left.insert(left.end(), right.begin(), right.end());
      right.clear();
    }
    if (kept > kLeaf && right.empty()) {
      const auto half = left.begin() + static_cast<std::ptrdiff_t>(kept / 2);
      std::nth_element(left.begin(), half, left.end(), [&](std::uint32_t p, std::uint32_t q) {
        const double a = key(p), b = key(q);
        return a < b || (a == b && p < q);
      });
      right.assign(half, left.end());
      left.erase(half, left.end());
      std::sort(left.begin(), left.end());
      std::sort(right.begin(), right.end());
    }
    return w_low;
  }

  /// About the middle of the keys, from a few of them.
  template <class Key>
  double middle_key(const std::vector<std::uint32_t>& rows, const Key& key) const {
    std::array<double, kAsked> some;
    const std::size_t n = std::min(rows.size(), kAsked);
    for (std::size_t k = 0; k < n; ++k)
      some[k] = key(rows[k * rows.size() / n]);
    std::nth_element(some.begin(), some.begin() + static_cast<std::ptrdiff_t>(n / 2),
                     some.begin() + static_cast<std::ptrdiff_t>(n));
    return some[n / 2];
  }

  bool undercut(const Source& from, std::uint32_t p, std::uint32_t by) const {
    const double *a = from.row(p), *b = from.row(by);
    double spare = from.wall(p) - from.wall(by);
    for (std::size_t j = 0; j < g_; ++j) {
      const double d = a[j] - b[j];
      spare += d * (d > 0 ? reach_.low[j] : reach_.high[j]);
    }
    return spare >= 0;
  }

  /// A whole branch from rows that are copied together first.
  Branch branch(std::vector<std::uint32_t> rows) const {
    const std::size_t stride = g_ + 1;
    std::vector<double> here(rows.size() * stride);
    for (std::size_t k = 0; k < rows.size(); ++k) {
      here[k * stride] = w_[rows[k]];
      std::copy_n(c_.data() + rows[k] * g_, g_, here.data() + k * stride + 1);
    }
    const Source from{here.data(), here.data() + 1, stride, stride};
    std::iota(rows.begin(), rows.end(), 0u);
    Branch b;
    b.nodes.emplace_back();
    std::vector<std::vector<std::uint32_t>> open;
    open.push_back(std::move(rows));
    for (std::size_t node = 0; node < b.nodes.size(); ++node) { // grows
      b.box.resize((node + 1) * 2 * g_);
      std::vector<std::uint32_t> left, right;
      const std::vector<std::uint32_t> mine = std::move(open[node]);
      b.nodes[node].w = cut(from, mine, b.box.data() + node * 2 * g_, left, right);
      if (right.empty()) {
        b.nodes[node].begin = static_cast<std::uint32_t>(b.w.size());
        for (const std::uint32_t i : left) {
          b.w.push_back(from.wall(i));
          b.c.insert(b.c.end(), from.row(i), from.row(i) + g_);
        }
        b.nodes[node].end = static_cast<std::uint32_t>(b.w.size());
        continue;
      }
      b.nodes[node].left = static_cast<std::uint32_t>(b.nodes.size());
      for (std::vector<std::uint32_t>* child : {&left, &right}) {
        b.nodes.emplace_back();
        open.push_back(std::move(*child));
      }
    }
    return b;
  }

  /// Puts each branch where its root already has a place.
  void join(LinearMinTree& tree, const std::vector<Work>& roots,
            const std::vector<Branch>& branches) {
    for (std::size_t k = 0; k < roots.size(); ++k) {
      const Branch& b = branches[k];
      const auto rows = static_cast<std::uint32_t>(tree.w_.size());
      const auto nodes = static_cast<std::uint32_t>(tree.nodes_.size());
      const auto moved = [&](Node n) {
        n.begin += rows;
        n.end += rows;
        if (n.left != 0)
          n.left += nodes - 1; // the root stands elsewhere
        return n;
      };
      tree.nodes_[roots[k].node] = moved(b.nodes[0]);
      std::copy_n(b.box.begin(), 2 * g_,
                  tree.box_.begin() + static_cast<std::ptrdiff_t>(roots[k].node * 2 * g_));
      for (std::size_t n = 1; n < b.nodes.size(); ++n)
        tree.nodes_.push_back(moved(b.nodes[n]));
      tree.box_.insert(tree.box_.end(), b.box.begin() + static_cast<std::ptrdiff_t>(2 * g_),
                       b.box.end());
      tree.w_.insert(tree.w_.end(), b.w.begin(), b.w.end());
      tree.c_.insert(tree.c_.end(), b.c.begin(), b.c.end());
    }
  }

  const std::vector<double>&w_, &c_;
  std::size_t g_;
  ErrorReach reach_;
  std::vector<double> middle_; // of e
};

LinearMinTree::LinearMinTree(std::vector<double> w, std::vector<double> c, std::size_t columns,
                             const ErrorReach& reach, const RunContext& run)
    : columns_(columns) {
  Builder(w, c, columns, reach).fill(*this, run);
}

double LinearMinTree::bound(std::size_t node, const double* positive,
                            const double* negative) const {
  const double* low = box_.data() + node * 2 * columns_;
  const double* high = low + columns_;
  double sum = nodes_[node].w;
  for (std::size_t j = 0; j < columns_; ++j)
    sum += low[j] * positive[j] + high[j] * negative[j];
  return sum;
}

// Depth first, the more promising child first. `best` is an exclusive upper bound; with `first`,
// returns as soon as anything is below it.
double LinearMinTree::search(std::span<const double> e, double best, bool first) const {
  std::array<double, 2 * kFewColumns> few;
  std::vector<double> many;
  if (columns_ > kFewColumns)
    many.resize(2 * columns_);
  double* positive = columns_ > kFewColumns ? many.data() : few.data();
  double* negative = positive + columns_;
  for (std::size_t j = 0; j < columns_; ++j) {
    positive[j] = std::max(0.0, e[j]);
    negative[j] = std::min(0.0, e[j]);
  }
  struct Open {
    std::uint32_t node;
    double bound;
  };
  std::array<Open, 128> stack; // one more per level; a child has at most 3/4 of the rows
  std::size_t top = 0;
  stack[top++] = {0, bound(0, positive, negative)};
  while (top > 0) {
    const Open open = stack[--top];
    if (open.bound >= best)
      continue;
    const Node& node = nodes_[open.node];
    if (node.left == 0) {
      for (std::size_t i = node.begin; i < node.end; ++i) {
        double value = w_[i];
        const double* row = c_.data() + i * columns_;
        for (std::size_t j = 0; j < columns_; ++j)
          value += row[j] * e[j];
        if (value < best) {
          best = value;
          if (first)
            return best;
        }
      }
      continue;
    }
    Open near{node.left, bound(node.left, positive, negative)};
    Open far{node.left + 1, bound(node.left + 1, positive, negative)};
    if (far.bound < near.bound)
      std::swap(near, far);
    if (far.bound < best)
      stack[top++] = far;
    if (near.bound < best)
      stack[top++] = near;
  }
  return best;
}

} // namespace leastwall
