#include "budget/least_tree.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>
#include <utility>

namespace leastwall {
namespace {

constexpr std::size_t kLeaf = 16;
constexpr std::size_t kFewColumns = 32; // kept off the heap

} // namespace

LeastTree::LeastTree(std::vector<double> w, std::vector<double> c, std::size_t columns,
                     std::span<const double> reach)
    : columns_(columns) {
  std::vector<std::uint32_t> order(w.size());
  std::iota(order.begin(), order.end(), 0u);
  nodes_.push_back({0, 0, static_cast<std::uint32_t>(w.size()), 0});
  for (std::size_t node = 0; node < nodes_.size(); ++node) // grows
    build(node, order, w, c, reach);
  w_.resize(w.size());
  c_.resize(c.size());
  for (std::size_t i = 0; i < order.size(); ++i) {
    w_[i] = w[order[i]];
    std::copy_n(c.begin() + static_cast<std::ptrdiff_t>(order[i] * columns_), columns_,
                c_.begin() + static_cast<std::ptrdiff_t>(i * columns_));
  }
}

void LeastTree::build(std::size_t node, std::vector<std::uint32_t>& order,
                      const std::vector<double>& w, const std::vector<double>& c,
                      std::span<const double> reach) {
  const std::size_t begin = nodes_[node].begin, end = nodes_[node].end;
  const std::size_t at = box_.size();
  box_.resize(at + 2 * columns_);
  double w_low = std::numeric_limits<double>::infinity(), w_high = -w_low;
  std::fill_n(box_.begin() + static_cast<std::ptrdiff_t>(at), columns_, w_low);
  std::fill_n(box_.begin() + static_cast<std::ptrdiff_t>(at + columns_), columns_, w_high);
  for (std::size_t i = begin; i < end; ++i) {
    w_low = std::min(w_low, w[order[i]]);
    w_high = std::max(w_high, w[order[i]]);
    const double* row = c.data() + order[i] * columns_;
    for (std::size_t j = 0; j < columns_; ++j) {
      box_[at + j] = std::min(box_[at + j], row[j]);
      box_[at + columns_ + j] = std::max(box_[at + columns_ + j], row[j]);
    }
  }
  nodes_[node].w = w_low;
  if (end - begin <= kLeaf)
    return;
  // Cut where the wall is spread most: by w itself or by the cause that spreads it.
  std::size_t cut = columns_;
  double widest = w_high - w_low;
  for (std::size_t j = 0; j < columns_; ++j) {
    const double width = (box_[at + columns_ + j] - box_[at + j]) * reach[j];
    if (width > widest) {
      widest = width;
      cut = j;
    }
  }
  const auto key = [&](std::uint32_t i) { return cut == columns_ ? w[i] : c[i * columns_ + cut]; };
  const std::size_t middle = begin + (end - begin) / 2;
  const auto from = order.begin();
  std::nth_element(from + static_cast<std::ptrdiff_t>(begin),
                   from + static_cast<std::ptrdiff_t>(middle),
                   from + static_cast<std::ptrdiff_t>(end), [&](std::uint32_t p, std::uint32_t q) {
                     const double a = key(p), b = key(q);
                     return a < b || (a == b && p < q);
                   });
  nodes_[node].left = static_cast<std::uint32_t>(nodes_.size());
  nodes_.push_back({0, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(middle), 0});
  nodes_.push_back({0, static_cast<std::uint32_t>(middle), static_cast<std::uint32_t>(end), 0});
}

double LeastTree::bound(std::size_t node, const double* positive, const double* negative) const {
  const double* low = box_.data() + node * 2 * columns_;
  const double* high = low + columns_;
  double sum = nodes_[node].w;
  for (std::size_t j = 0; j < columns_; ++j)
    sum += low[j] * positive[j] + high[j] * negative[j];
  return sum;
}

// Depth first, the more promising child first. `best` is an exclusive upper bound; with `first`,
// returns as soon as anything is below it.
double LeastTree::search(std::span<const double> e, double best, bool first) const {
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
  std::array<Open, 128> stack; // two per level, levels <= 33
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
