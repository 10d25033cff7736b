// Bed readings: the text, and what `leastwall bed` computes from it.
#include "bed/flatness.h"
#include "bed/readings/read_readings.h"
#include "stated_outcome.h"

#include <cmath>
#include <cstdint>

using namespace leastwall;

namespace {

using fuzz::require;

void require_sense(const ReadingsFile& read) {
  const BedMap& map = read.map;
  require(read.readings > 0 && !map.points().empty(), "there are readings");
  require(map.points().size() + read.repeated == read.readings, "every reading is used once");
  const double low = map.lowest().z, high = map.highest().z;
  // Weights of a triangle add to 1 within rounding, so heights between readings do too.
  const double rounding = 1e-6 * (std::fabs(low) + std::fabs(high)) + 1e-9;
  for (const Vec3& p : map.points()) {
    require(is_finite(p), "places and heights are finite");
    require(low <= p.z && p.z <= high, "lowest and highest are so");
    const auto height = map.height_mm(p.x, p.y);
    require(!height || (*height >= low - rounding && *height <= high + rounding),
            "the surface stays between lowest and highest");
    require(map.distance_outside_mm(p.x, p.y) < 1e-3, "a reading lies within the readings");
  }
  for (const std::string& fact : read.understood)
    require(!fact.empty() && fuzz::is_plain_line(fact), "a fact is one plain line");
  fuzz::require_plain(read.notices);
}

void require_sense(const Flatness& flat) {
  require(flat.range_mm >= 0 && std::isfinite(flat.range_mm), "the range is a length");
  require(std::isfinite(flat.least_squares.peak_to_valley_mm), "the plane is finite");
  const MinimumZone& zone = flat.minimum_zone;
  require(zone.vertical_mm >= 0 && std::isfinite(zone.vertical_mm), "the zone is a length");
  // The zone is the least over all planes: no wider than that of the level plane.
  require(zone.vertical_mm <= flat.range_mm * (1 + 1e-6) + 1e-9, "no plane beats the zone");
  fuzz::require_plain(flat.likely_causes);
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  for (const auto kind : {std::optional<ReadingsKind>(), std::optional(ReadingsKind::thickness)}) {
    std::optional<ReadingsFile> read;
    ReadingsOptions options;
    options.kind = kind;
    if (!fuzz::has_answer("bed.csv", [&] { read = parse_readings(text, "bed.csv", options); }))
      continue;
    require_sense(*read);
    FlatnessOptions judge;
    judge.tilt_known = read->tilt_known;
    if (read->map.points().size() >= 3)
      require_sense(judge_flatness(read->map.points(), judge));
  }
  return 0;
}
