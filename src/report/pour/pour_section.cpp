#include "report/pour/pour_section.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace leastwall {
namespace {

/// Where pieces pass a value of one coordinate, as values of the other; a piece has its first end.
template <class Of, class Other>
std::vector<double> crossings(const SectionPieces& pieces, double at, const Of& of,
                              const Other& other) {
  std::vector<double> out;
  for (const auto& [a, b] : pieces)
    if ((of(a) < at) != (of(b) < at))
      out.push_back(other(a) + (other(b) - other(a)) * ((at - of(a)) / (of(b) - of(a))));
  std::sort(out.begin(), out.end());
  return out;
}

std::vector<std::array<double, 2>> pairs(const std::vector<double>& at) {
  std::vector<std::array<double, 2>> out;
  for (std::size_t i = 0; i + 1 < at.size(); i += 2)
    out.push_back({at[i], at[i + 1]});
  return out;
}

} // namespace

std::vector<std::array<double, 2>> air_over(const SectionPieces& pieces, double along_mm,
                                            double face_z_mm) {
  std::vector<double> at = crossings(
      pieces, along_mm, [](const SectionPoint& p) { return p.along_mm; },
      [](const SectionPoint& p) { return p.z_mm; });
  if (at.size() % 2 != 0)
    at.push_back(std::max(face_z_mm, at.back()));
  return pairs(at);
}

std::vector<std::array<double, 2>> air_at(const SectionPieces& pieces, double z_mm) {
  return pairs(crossings(
      pieces, z_mm, [](const SectionPoint& p) { return p.z_mm; },
      [](const SectionPoint& p) { return p.along_mm; }));
}

SectionBox section_box(const SectionPieces& pieces) {
  SectionBox box;
  for (const auto& piece : pieces)
    for (const SectionPoint& p : piece) {
      box.low = {std::min(box.low.along_mm, p.along_mm), std::min(box.low.z_mm, p.z_mm)};
      box.high = {std::max(box.high.along_mm, p.along_mm), std::max(box.high.z_mm, p.z_mm)};
    }
  return box;
}

SectionBox shown_box(const PourSection& section, double share) {
  const SectionBox pocket = section_box(section.pocket), skin = section_box(section.skin);
  const double beside = share * (pocket.high.along_mm - pocket.low.along_mm) + 1;
  const auto beyond = [beside](double own, double of_skin) {
    return std::max(std::min(own, of_skin), own - beside);
  };
  return {
      {beyond(pocket.low.along_mm, skin.low.along_mm), beyond(pocket.low.z_mm, skin.low.z_mm)},
      {std::min(std::max(pocket.high.along_mm, skin.high.along_mm), pocket.high.along_mm + beside),
       pocket.high.z_mm}};
}

} // namespace leastwall
