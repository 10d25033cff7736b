// Paper to draw on, in mm from the top left corner, y down.
// Text is set in DejaVu Sans (Debian package fonts-dejavu-core) and can be searched and copied.
#pragma once

#include "report/draw/canvas/canvas.h"
#include "report/draw/canvas/file_canvas.h"
#include "report/draw/picture.h"

#include <memory>
#include <string>
#include <vector>

namespace leastwall {

enum class PaperSize { a4, letter };

struct Ink {
  double size_pt = 11;
  bool bold = false;
  Align align = Align::left;
  Rgb colour = kBlack;
};

struct Stroke {
  double width = 0.35;      ///< mm
  std::vector<double> dash; ///< mm on, mm off, ...; empty: solid
  Rgb colour = kBlack;
};

/// mm from one baseline to the next.
double line_pitch(double size_pt);

class SheetPaper {
 public:
  /// The first page is upright. Throws RunError when there is no memory.
  SheetPaper(PaperSize size, const std::string& title, SheetFile file = SheetFile::pdf);

  PaperSize size() const { return size_; }
  double width() const { return width_; } ///< of the current page, mm
  double height() const { return height_; }
  /// Ends the current page and starts another, at zoom 1.
  void next_page(bool lying);
  /// From now on a mm is drawn `factor` mm long on this page, which so becomes larger inside.
  void zoom(double factor);
  double zoomed() const { return zoom_; }

  /// Baseline starts, has its middle, or ends at (x, y).
  void text(const std::string& utf8, double x, double y, const Ink& ink);
  double text_width(const std::string& utf8, const Ink& ink) const;
  /// `ink`, smaller where the text would be wider than `room`, mm.
  Ink fitted(const std::string& utf8, Ink ink, double room) const;
  /// Without its middle ("...", whole words where it has some) where it is wider than `room`, mm.
  std::string shortened(const std::string& utf8, const Ink& ink, double room) const;
  /// As many lines as it takes, at most `most`; what is left over is cut and marked "...". A word
  /// that fits on no line is broken.
  std::vector<std::string> wrapped(const std::string& utf8, double width, const Ink& ink,
                                   std::size_t most = 99) const;
  /// Lines below each other; the first baseline is one font height under `top`. Returns the lower
  /// edge.
  double paragraph(const std::string& utf8, double x, double top, double width, const Ink& ink,
                   std::size_t most = 99);

  void line(const std::vector<PicturePoint>& points, const Stroke& stroke);
  void polygon(const std::vector<PicturePoint>& points, Rgb fill);
  void rectangle(double x, double y, double w, double h, const Stroke& stroke);
  void fill(double x, double y, double w, double h, Rgb colour);
  void disc(double x, double y, double radius, Rgb fill, double border = 0);
  void clip(double x, double y, double w, double h);
  void unclip();

  /// The bytes of the file; nothing can be drawn afterwards. The same drawing gives the same bytes.
  /// Throws RunError when a part of it could not be drawn.
  std::string file();

 private:
  PaperSize size_;
  double width_ = 0, height_ = 0;
  double zoom_ = 1;
  std::unique_ptr<Canvas> canvas_;
};

} // namespace leastwall
