// The parts of the bed map; bed_map_picture.cpp calls each once.
#pragma once

#include "report/draw/contour_lines.h"
#include "report/draw/picture.h"
#include "report/maps/bed_map_picture.h"
#include "report/maps/heat_map_layout.h"

#include <string>
#include <vector>

namespace leastwall {

/// Where nothing was read.
inline constexpr Rgb kNotRead{255, 255, 255};

/// Heights to colours, dark (lowest) to light (highest), and the round heights that get a contour.
class HeightScale {
 public:
  HeightScale(double low_mm, double high_mm);

  double low_mm() const { return low_; }
  double high_mm() const { return high_; }
  Rgb colour(double height_mm) const;
  /// Round heights between lowest and highest, rising; none on a level bed.
  const std::vector<double>& levels() const { return levels_; }
  /// "+0.05": with the decimals that tell the levels apart.
  std::string text(double height_mm) const;

 private:
  double low_, high_;
  int decimals_ = 3;
  std::vector<double> levels_;
};

/// What is drawn over the colours.
class BedOverlay {
 public:
  BedOverlay(Picture& picture, const HeatMapLayout& at) : p_(picture), at_(at), u_(at.unit) {}

  /// No number is written there; px, middle and half sizes.
  void keep_free(double x, double y, double half_x, double half_y) { take({x, y}, half_x, half_y); }
  void readings(const BedMap& bed); ///< dots, unless there are so many that they hide the map
  void contours(const std::vector<ContourLine>& lines);
  void piece(const PieceOnBed& piece);
  void contacts(const MinimumZone& zone);
  void extremes(const Flatness& flatness);
  /// After all else: numbers stand where they hide nothing.
  void contour_numbers(const std::vector<ContourLine>& lines, const std::string& text);

 private:
  struct Rect {
    double left, top, right, bottom;
  };
  PicturePoint at(double x_mm, double y_mm) const { return {at_.px_x(x_mm), at_.px_y(y_mm)}; }
  std::vector<PicturePoint> on_picture(const ContourLine& line) const;
  bool free(const Rect& box) const;
  void take(PicturePoint p, double half_x, double half_y);
  void label(PicturePoint p, const std::string& text);

  Picture& p_;
  const HeatMapLayout& at_;
  double u_;
  std::vector<Rect> taken_;
};

void draw_bed_title(Picture& picture, const HeatMapLayout& at, const std::string& title,
                    const std::string& note);
void draw_height_scale(Picture& picture, const HeatMapLayout& at, const HeightScale& scale,
                       bool inch);
void draw_bed_legend(Picture& picture, const HeatMapLayout& at, bool with_piece);

} // namespace leastwall
