// A picture to draw on: Cairo behind a few calls, PNG at the end.
// Text is set in DejaVu Sans (Debian package fonts-dejavu-core).
#pragma once

#include "report/draw/colour_map.h"
#include "report/draw/memory_watch.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

using cairo_t = struct _cairo;
using cairo_surface_t = struct _cairo_surface;

namespace leastwall {

/// Pixels, opaque, row by row from the top.
struct PixelImage {
  int width = 0, height = 0;
  std::vector<Rgb> pixels;
};

enum class Align { left, centre, right };

struct TextStyle {
  double size = 28; ///< px, of the em
  Rgb colour = kBlack;
  Align align = Align::left;
  bool bold = false;
  std::optional<Rgb> halo; ///< a rim of this colour around each letter
};

struct LineStyle {
  double width = 3; ///< px
  Rgb colour = kBlack;
  double rim = 0; ///< px on either side
  Rgb rim_colour = kWhite;
};

struct PicturePoint {
  double x = 0, y = 0; ///< px from the top left corner, y down
};

class Picture {
 public:
  /// White. Throws RunError when there is no memory for it.
  Picture(int width, int height);

  int width() const { return width_; }
  int height() const { return height_; }

  void rectangle(double x, double y, double w, double h, Rgb fill, double border = 0,
                 Rgb border_colour = kBlack);
  void polygon(const std::vector<PicturePoint>& points, Rgb fill);
  void disc(double x, double y, double radius, Rgb fill, double border = 0,
            Rgb border_colour = kBlack);
  void line(const std::vector<PicturePoint>& points, const LineStyle& style);
  /// Baseline starts, has its middle, or ends at (x, y).
  void text(const std::string& utf8, double x, double y, const TextStyle& style);
  double text_width(const std::string& utf8, const TextStyle& style) const;
  /// Pixel for pixel, top left corner at (x, y).
  void image(const PixelImage& image, int x, int y);
  /// Keeps later drawing inside a rectangle, until `unclip`.
  void clip(double x, double y, double w, double h);
  void unclip();

  /// The bytes of a PNG file, with all that `text` wrote as its words, a line each; the same
  /// drawing gives the same bytes. Throws RunError.
  std::string png() const;

 private:
  struct Free {
    void operator()(cairo_surface_t* surface) const;
    void operator()(cairo_t* context) const;
  };
  int width_, height_;
  std::string words_;
  std::unique_ptr<cairo_surface_t, Free> surface_;
  std::unique_ptr<cairo_t, Free> context_;
  mutable MemoryWatch memory_; ///< looked at after each stroke and text
};

} // namespace leastwall
