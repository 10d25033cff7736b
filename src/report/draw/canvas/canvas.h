// What all drawings are made of: fills, strokes, words and pixels, whichever file comes of them.
// Coordinates from the top left corner, y down, in the unit of the canvas: px for pictures, mm for
// paper. Text is set in DejaVu Sans; how wide it is (text_advance.h) is the same for all files.
#pragma once

#include "report/draw/canvas/rgb.h"

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace leastwall {

struct PicturePoint {
  double x = 0, y = 0; ///< from the top left corner, y down
};

/// Pixels, opaque, row by row from the top.
struct PixelImage {
  int width = 0, height = 0;
  std::vector<Rgb> pixels;
};

struct Pen {
  double width = 1;
  Rgb colour = kBlack;
  std::vector<double> dash; ///< on, off, ...; empty: solid
};

struct Letters {
  double size = 1; ///< of the em
  bool bold = false;
  Rgb colour = kBlack;
  std::optional<Rgb> halo; ///< a rim of this colour around each letter
};

/// The rim of letters is as wide as this part of the em, half of it outside the letter.
inline constexpr double kHaloWidth = 0.26;

class Canvas {
 public:
  Canvas() = default;
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;
  virtual ~Canvas() = default;

  /// The area inside a closed line.
  virtual void fill(std::span<const PicturePoint> points, Rgb colour) = 0;
  /// Corners are round.
  virtual void stroke(std::span<const PicturePoint> points, bool closed, const Pen& pen) = 0;
  virtual void fill_disc(PicturePoint middle, double radius, Rgb colour) = 0;
  virtual void stroke_disc(PicturePoint middle, double radius, const Pen& pen) = 0;
  /// Baseline starts at `at`.
  virtual void text(const std::string& utf8, PicturePoint at, const Letters& letters) = 0;
  /// Pixel for unit, top left corner at (x, y). For pictures.
  virtual void image(const PixelImage& image, int x, int y) = 0;
  /// Keeps later drawing inside a rectangle, until `unclip`.
  virtual void clip(double x, double y, double w, double h) = 0;
  virtual void unclip() = 0;
  /// From now on a unit is `factor` as long on this page. For paper, with nothing clipped.
  virtual void zoom(double factor) = 0;
  /// Ends the current page and starts another, at zoom 1. For paper.
  virtual void next_page(double width, double height) = 0;
  /// The bytes of the file; nothing can be drawn afterwards. The same drawing gives the same bytes.
  /// Throws RunError when a part of it could not be drawn.
  virtual std::string file() = 0;
};

/// For paper that only measures: draws nothing, its file is empty.
std::unique_ptr<Canvas> blank_canvas();

} // namespace leastwall
