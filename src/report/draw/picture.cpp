#include "report/draw/picture.h"

#include "base/text/wrap_text.h"
#include "report/draw/canvas/text_advance.h"

#include <array>

namespace leastwall {

Picture::Picture(int width, int height, PictureFile file, const std::string& title)
    : width_(width), height_(height), canvas_(picture_canvas(file, width, height, title)) {}

void Picture::rectangle(double x, double y, double w, double h, Rgb fill, double border,
                        Rgb border_colour) {
  const std::array<PicturePoint, 4> corners{{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}};
  canvas_->fill(corners, fill);
  if (border > 0)
    canvas_->stroke(corners, true, {border, border_colour, {}});
}

void Picture::polygon(const std::vector<PicturePoint>& points, Rgb fill) {
  canvas_->fill(points, fill);
}

void Picture::disc(double x, double y, double radius, Rgb fill, double border, Rgb border_colour) {
  canvas_->fill_disc({x, y}, radius, fill);
  if (border > 0)
    canvas_->stroke_disc({x, y}, radius, {border, border_colour, {}});
}

void Picture::line(const std::vector<PicturePoint>& points, const LineStyle& style) {
  if (style.rim > 0)
    canvas_->stroke(points, false, {style.width + 2 * style.rim, style.rim_colour, {}});
  canvas_->stroke(points, false, {style.width, style.colour, {}});
}

void Picture::text(const std::string& utf8, double x, double y, const TextStyle& style) {
  const std::string safe = printable(utf8);
  const double width = style.align == Align::left ? 0 : text_width(safe, style);
  canvas_->text(safe, {x - (style.align == Align::centre ? width / 2 : width), y},
                {style.size, style.bold, style.colour, style.halo});
}

double Picture::text_width(const std::string& utf8, const TextStyle& style) const {
  return text_advance(utf8, style.size, style.bold);
}

void Picture::image(const PixelImage& image, int x, int y) {
  canvas_->image(image, x, y);
}

void Picture::clip(double x, double y, double w, double h) {
  canvas_->clip(x, y, w, h);
}

void Picture::unclip() {
  canvas_->unclip();
}

std::string Picture::file() {
  return canvas_->file();
}

} // namespace leastwall
