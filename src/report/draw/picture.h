// A picture to draw on, in px.
// Text is set in DejaVu Sans (Debian package fonts-dejavu-core).
#pragma once

#include "report/draw/canvas/canvas.h"
#include "report/draw/canvas/file_canvas.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

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

class Picture {
 public:
  /// White. Throws RunError when there is no memory for it.
  Picture(int width, int height, PictureFile file = PictureFile::png,
          const std::string& title = {});

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

  /// The bytes of the file, with all that `text` wrote as its words; the same drawing gives the
  /// same bytes; nothing can be drawn afterwards. Throws RunError.
  std::string file();

 private:
  int width_, height_;
  std::unique_ptr<Canvas> canvas_;
};

} // namespace leastwall
