#include "budget/trials/thin_first.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>

namespace leastwall {
namespace {

constexpr std::size_t kFirst = 4096;

} // namespace

ThinFirst::ThinFirst(std::span<const WallSample> samples) : all_(samples) {
  for (const WallSample& s : all_) {
    places_.at.add(s.at);
    places_.most_wall_mm = std::max(places_.most_wall_mm, std::abs(s.wall_mm));
  }
  first_to_mm_ = std::numeric_limits<double>::infinity();
  if (all_.size() <= 2 * kFirst)
    return;
  std::vector<double> walls;
  walls.reserve(all_.size());
  for (const WallSample& s : all_)
    walls.push_back(s.wall_mm);
  std::nth_element(walls.begin(), walls.begin() + kFirst, walls.end());
  // Where very many are equally thin, those cannot be told apart: all are asked.
  std::vector<WallSample> first = under(std::nextafter(walls[kFirst], first_to_mm_));
  if (first.size() > all_.size() / 2)
    return;
  first_to_mm_ = std::nextafter(walls[kFirst], first_to_mm_);
  first_ = std::move(first);
}

std::vector<WallSample> ThinFirst::under(double wall_mm) const {
  const auto thinner = [wall_mm](const WallSample& s) { return s.wall_mm < wall_mm; };
  std::vector<WallSample> found;
  found.reserve(static_cast<std::size_t>(std::ranges::count_if(all_, thinner)));
  std::ranges::copy_if(all_, std::back_inserter(found), thinner);
  return found;
}

} // namespace leastwall
