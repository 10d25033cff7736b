#include "report/page/page_sections.h"

#include "report/draw/wall_section.h"

#include <algorithm>
#include <cmath>
#include <vector>

namespace leastwall {
namespace {

constexpr std::size_t kMaxPlaces = 6, kMaxPieces = 600;
constexpr double kWide = 1.6; // of the window's height

double rounded(double mm) {
  return std::round(mm * 1000) / 1000;
}

/// The samples to be shown, the thinnest first, each once.
std::vector<std::size_t> shown_samples(const PageInput& input) {
  std::vector<std::size_t> out{input.budget.least.sample};
  const auto& regions = input.report.wall.regions;
  for (std::size_t k = 0; k < std::min(kMaxPlaces, regions.size()); ++k) {
    const auto found = std::ranges::find_if(
        input.skin.samples, [&](const WallSample& s) { return s.at == regions[k].at; });
    if (found == input.skin.samples.end())
      continue;
    const auto i = static_cast<std::size_t>(found - input.skin.samples.begin());
    if (std::ranges::find(out, i) == out.end())
      out.push_back(i);
  }
  return out;
}

} // namespace

Json page_sections(const PageInput& input) {
  Json out = Json::array();
  if (input.wall == nullptr)
    return out;
  for (const std::size_t i : shown_samples(input)) {
    const WallSample& at = input.skin.samples[i];
    const double height = section_height_mm(input.options.limit_mm, at.wall_mm);
    const WallSection s = wall_section(*input.wall, at, kWide * height, height);
    if (s.skin.size() + s.pocket.size() > kMaxPieces)
      continue; // facets too fine to be drawn one by one
    const SectionPoint middle = s.middle();
    const auto numbers = [&](const SectionPieces& pieces) {
      Json list = Json::array();
      for (const auto& piece : pieces)
        for (const SectionPoint& p : piece) {
          list.push_back(rounded(p.along_mm - middle.along_mm));
          list.push_back(rounded(p.z_mm - middle.z_mm));
        }
      return list;
    };
    out.push_back({{"outer", input.outer},
                   {"inner", input.inner},
                   {"at", {at.at.x, at.at.y, at.at.z}},
                   {"width", rounded(kWide * height)},
                   {"height", rounded(height)},
                   {"skin", numbers(s.skin)},
                   {"pocket", numbers(s.pocket)},
                   {"ends", numbers({{s.on_skin, s.on_pocket}})},
                   {"out", {rounded(s.out.along_mm), rounded(s.out.z_mm)}}});
  }
  return out;
}

} // namespace leastwall
