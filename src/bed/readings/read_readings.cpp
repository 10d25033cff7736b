#include "bed/readings/read_readings.h"

#include "base/errors.h"
#include "base/file/text_file.h"
#include "base/sane_size.h"
#include "base/text/plain_line.h"
#include "bed/readings/readings_cover.h"
#include "bed/readings/readings_layout.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <map>

namespace leastwall {
namespace {

constexpr std::size_t kLargestFile = std::size_t{64} << 20;
constexpr double kSamePlace_mm = 1e-3;
class Reader {
 public:
  Reader(std::string_view text, const std::string& name, const ReadingsOptions& options);
  ReadingsFile read();

 private:
  [[noreturn]] void refuse(std::size_t line, const std::string& what) const {
    refuse_readings(name_, line, what);
  }
  std::vector<Vec3> to_mm(ReadingsFile& out) const;
  void merge_repeats(std::vector<Vec3>& readings, ReadingsFile& out) const;
  void describe(ReadingsFile& out) const;

  std::string name_;
  char separator_ = ' ';
  bool decimal_comma_ = false;
  RawReadings raw_;
  ReadingsKind kind_ = ReadingsKind::heights;
  HeightUnit height_unit_ = HeightUnit::mm;
  LengthUnit place_unit_ = LengthUnit::mm;
  bool height_unit_known_ = false;
};

Reader::Reader(std::string_view text, const std::string& name, const ReadingsOptions& options)
    : name_(name) {
  ReadingsText rows = split_readings(text, name);
  separator_ = rows.separator;
  decimal_comma_ = rows.decimal_comma;
  raw_ = lay_out_readings(std::move(rows), name, options);
  kind_ = raw_.options.kind.value_or(ReadingsKind::heights);
  height_unit_known_ = raw_.options.height_unit.has_value();
  height_unit_ = raw_.options.height_unit.value_or(HeightUnit::mm);
  const bool inches =
      height_unit_ == HeightUnit::inch || height_unit_ == HeightUnit::thousandth_inch;
  place_unit_ = raw_.options.place_unit.value_or(inches ? LengthUnit::inch : LengthUnit::mm);
}

std::vector<Vec3> Reader::to_mm(ReadingsFile& out) const {
  const double place_scale = raw_.places_in_mm ? 1.0 : millimetres_per(place_unit_);
  const double sign = kind_ == ReadingsKind::gaps || (kind_ == ReadingsKind::heights &&
                                                      !raw_.options.high_is_plus.value_or(true))
                          ? -1.0
                          : 1.0;
  std::vector<Vec3> readings;
  double low = 0, high = 0;
  std::size_t low_line = 0, high_line = 0;
  for (const RawReading& r : raw_.readings) {
    if (!r.z) {
      ++out.missing;
      continue;
    }
    if (kind_ == ReadingsKind::gaps && *r.z < 0)
      refuse(r.line, fmt::format("a gap of {} is below 0", *r.z));
    if (kind_ == ReadingsKind::thickness && !(*r.z > 0))
      refuse(r.line, fmt::format("a thickness of {} is not above 0", *r.z));
    if (std::max(std::fabs(r.x), std::fabs(r.y)) * place_scale > kLargestLength_mm)
      refuse(r.line, fmt::format("the place x {:g}, y {:g} lies more than 100 m away; check the "
                                 "number and the unit of places",
                                 r.x, r.y));
    const double z = *r.z * millimetres_per(height_unit_) * sign;
    if (std::fabs(z) > kLargestLength_mm)
      refuse(r.line,
             fmt::format("the reading {:g} is more than 100 m; check the number and the unit "
                         "of heights",
                         *r.z));
    if (readings.empty() || z < low) {
      low = z;
      low_line = r.line;
    }
    if (readings.empty() || z > high) {
      high = z;
      high_line = r.line;
    }
    readings.push_back({r.x * place_scale, r.y * place_scale, z == 0 ? 0 : z});
  }
  if (readings.empty())
    refuse(0, "every reading in it is missing");
  constexpr double kNoBed_mm = 10, kOddBed_mm = 3;
  if (!height_unit_known_ && high - low > kNoBed_mm)
    refuse(high_line,
           fmt::format("as mm the readings differ by {:.3g} mm (lowest in line {}), which no bed "
                       "or board does; say the unit, for instance height-unit = 0.01 mm",
                       high - low, low_line));
  if (high - low > kOddBed_mm)
    out.notices.push_back({"large-range", fmt::format("The readings differ by {:.2f} mm. Check the "
                                                      "unit and the reading in line {}.",
                                                      high - low, high_line)});
  return readings;
}

void Reader::merge_repeats(std::vector<Vec3>& readings, ReadingsFile& out) const {
  struct Group {
    double sum = 0, low = 0, high = 0, count = 0;
    Vec3 at;
  };
  std::map<std::pair<long long, long long>, std::size_t> seen;
  std::vector<Group> groups;
  for (const Vec3& p : readings) {
    const auto [it, fresh] = seen.try_emplace(
        {std::llround(p.x / kSamePlace_mm), std::llround(p.y / kSamePlace_mm)}, groups.size());
    if (fresh)
      groups.push_back({0, p.z, p.z, 0, p});
    Group& g = groups[it->second];
    g.sum += p.z;
    g.count += 1;
    g.low = std::min(g.low, p.z);
    g.high = std::max(g.high, p.z);
  }
  out.repeated = readings.size() - groups.size();
  readings.clear();
  for (const Group& g : groups) {
    out.largest_repeat_difference_mm = std::max(out.largest_repeat_difference_mm, g.high - g.low);
    readings.push_back({g.at.x, g.at.y, g.count > 1 ? g.sum / g.count : g.at.z});
  }
}

void Reader::describe(ReadingsFile& out) const {
  const char* between = separator_ == ','    ? "commas"
                        : separator_ == ';'  ? "semicolons"
                        : separator_ == '\t' ? "tabs"
                                             : "blanks";
  out.understood.push_back(fmt::format("{}, cells between {}, decimal {}.", raw_.layout, between,
                                       decimal_comma_ ? "comma" : "point"));
  out.understood.push_back(fmt::format(
      "{} in {}{}, places in {}.",
      kind_ == ReadingsKind::heights ? "Heights"
      : kind_ == ReadingsKind::gaps  ? "Gaps under a straightedge"
                                     : "Thicknesses of the board",
      height_unit_word(height_unit_), height_unit_known_ ? "" : " (taken so, not stated)",
      raw_.places_in_mm || place_unit_ == LengthUnit::mm ? "mm" : "inch"));
  if (kind_ == ReadingsKind::heights)
    out.understood.push_back(
        fmt::format("Higher places give {} numbers{}.",
                    raw_.options.high_is_plus.value_or(true) ? "larger" : "smaller",
                    raw_.options.high_is_plus ? "" : " (taken so, not stated)"));
  if (kind_ == ReadingsKind::gaps)
    out.understood.push_back("Curvature is known from the gaps; tilt and height are not.");
  const BedMap& map = out.map;
  if (map.is_grid()) {
    out.understood.push_back(
        fmt::format("Places: {} columns, x {:g} to {:g} mm, and {} rows, y {:g} to {:g} mm.",
                    map.grid_x_mm().size(), map.grid_x_mm().front(), map.grid_x_mm().back(),
                    map.grid_y_mm().size(), map.grid_y_mm().front(), map.grid_y_mm().back()));
  } else {
    out.understood.push_back(fmt::format("{} scattered places.", map.points().size()));
  }
  if (out.missing > 0)
    out.understood.push_back(fmt::format("{} missing.", out.missing));
  if (out.repeated > 0)
    out.understood.push_back(
        fmt::format("{} read again at the same place; the mean counts, the largest difference is "
                    "{:.3f} mm.",
                    out.repeated, out.largest_repeat_difference_mm));
}

ReadingsFile Reader::read() {
  ReadingsFile out{BedMap::scattered(std::vector<Vec3>{{0, 0, 0}})};
  out.kind = kind_;
  out.tilt_known = kind_ != ReadingsKind::gaps;
  out.notices = raw_.notices;
  std::vector<Vec3> readings = to_mm(out);
  out.readings = readings.size();
  merge_repeats(readings, out);
  out.map = BedMap::from_readings(readings, kSamePlace_mm);
  if (raw_.guessed && readings.size() > 2) {
    constexpr double kNoBed_mm = 5;
    double across = 0;
    for (const Vec3& p : readings)
      across = std::max({across, std::fabs(p.x - readings[0].x), std::fabs(p.y - readings[0].y)});
    if (across < kNoBed_mm)
      refuse(
          raw_.first_line,
          fmt::format("read as x, y, reading all places lie within {:.2g} mm; if it is a grid of "
                      "heights, {}",
                      across, kSayPitch));
  }
  if (kind_ == ReadingsKind::gaps && out.map.outline().size() > 2)
    out.notices.push_back({"gaps-area", "Gaps over an area come from several layings of the "
                                        "straightedge, whose heights and tilts against each other "
                                        "are not known; trust each row by itself only."});
  if (!raw_.places_in_mm && !raw_.options.place_unit)
    if (const auto doubt = doubt_small_area(
            out.map, "say so: --places inch, or place-unit = inch in a line of the file"))
      out.notices.push_back(*doubt);
  if (raw_.options.place_unit == LengthUnit::inch && !height_unit_known_)
    out.notices.push_back(
        {"height-unit",
         "Places are in inches, and no one says in what unit the heights are: they were taken as "
         "mm. If the dial reads inches, say so: --heights inch, or height-unit = inch in a line of "
         "the file.",
         Severity::doubt});
  describe(out);
  return out;
}

} // namespace

ReadingsFile parse_readings(std::string_view text, const std::string& name,
                            const ReadingsOptions& options) {
  if (looks_like_utf16(text))
    throw InputError(plain_line(name) + ": is text in UTF-16; save it as UTF-8 or plain text");
  return Reader(text, name, options).read();
}

ReadingsFile read_readings(const std::filesystem::path& file, const ReadingsOptions& options) {
  const std::string name = file.string();
  const std::string text =
      read_text_file(file, kLargestFile + 1,
                     {.missing = "check the name and the folder",
                      .folder = "name the file of readings in it",
                      .other = "save the readings as a text file and name that"});
  if (text.size() > kLargestFile)
    throw InputError(plain_line(name) +
                     ": too large for readings; expected a table of up to 64 MB");
  return parse_readings(text, name, options);
}

} // namespace leastwall
