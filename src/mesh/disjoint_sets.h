// Disjoint sets of numbers 0..n-1 (union-find with path halving). The representative of a set is
// its smallest member, whatever the order of joining.
#pragma once

#include <cstddef>
#include <cstdint>
#include <numeric>
#include <vector>

namespace leastwall {

class DisjointSets {
 public:
  explicit DisjointSets(std::size_t n) : parent_(n) {
    std::iota(parent_.begin(), parent_.end(), std::uint32_t{0});
  }
  std::uint32_t find(std::uint32_t i) {
    while (parent_[i] != i) {
      parent_[i] = parent_[parent_[i]];
      i = parent_[i];
    }
    return i;
  }
  void join(std::uint32_t a, std::uint32_t b) {
    a = find(a);
    b = find(b);
    if (a < b)
      parent_[b] = a;
    else
      parent_[a] = b;
  }

 private:
  std::vector<std::uint32_t> parent_;
};

} // namespace leastwall
