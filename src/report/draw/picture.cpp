#include "report/draw/picture.h"

#include "base/errors.h"
#include "report/draw/png_file.h"

#include <algorithm>
#include <cairo.h>
#include <numbers>

namespace leastwall {
namespace {

void set_colour(cairo_t* c, Rgb colour) {
  cairo_set_source_rgb(c, colour.r / 255.0, colour.g / 255.0, colour.b / 255.0);
}

void set_font(cairo_t* c, const TextStyle& style) {
  cairo_select_font_face(c, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         style.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(c, style.size);
}

void fill_and_border(cairo_t* c, Rgb fill, double border, Rgb border_colour) {
  set_colour(c, fill);
  cairo_fill_preserve(c);
  if (border > 0) {
    set_colour(c, border_colour);
    cairo_set_line_width(c, border);
    cairo_stroke_preserve(c);
  }
  cairo_new_path(c);
}

} // namespace

void Picture::Free::operator()(cairo_surface_t* surface) const {
  cairo_surface_destroy(surface);
}
void Picture::Free::operator()(cairo_t* context) const {
  cairo_destroy(context);
}

Picture::Picture(int width, int height)
    : width_(width), height_(height),
      surface_(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height)),
      context_(cairo_create(surface_.get())) {
  if (cairo_status(context_.get()) != CAIRO_STATUS_SUCCESS)
    throw RunError("picture: no memory for " + std::to_string(width) + " x " +
                   std::to_string(height) + " pixels; ask for a smaller one");
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(context_.get(), options);
  cairo_font_options_destroy(options);
  cairo_set_line_join(context_.get(), CAIRO_LINE_JOIN_ROUND);
  set_colour(context_.get(), kWhite);
  cairo_paint(context_.get());
}

void Picture::rectangle(double x, double y, double w, double h, Rgb fill, double border,
                        Rgb border_colour) {
  cairo_rectangle(context_.get(), x, y, w, h);
  fill_and_border(context_.get(), fill, border, border_colour);
  memory_.look();
}

void Picture::polygon(const std::vector<PicturePoint>& points, Rgb fill) {
  for (const PicturePoint& p : points)
    cairo_line_to(context_.get(), p.x, p.y);
  cairo_close_path(context_.get());
  fill_and_border(context_.get(), fill, 0, kBlack);
  memory_.look();
}

void Picture::disc(double x, double y, double radius, Rgb fill, double border, Rgb border_colour) {
  cairo_new_sub_path(context_.get());
  cairo_arc(context_.get(), x, y, radius, 0, 2 * std::numbers::pi);
  fill_and_border(context_.get(), fill, border, border_colour);
  memory_.look();
}

void Picture::line(const std::vector<PicturePoint>& points, const LineStyle& style) {
  cairo_t* c = context_.get();
  for (const PicturePoint& p : points)
    cairo_line_to(c, p.x, p.y);
  if (style.rim > 0) {
    set_colour(c, style.rim_colour);
    cairo_set_line_width(c, style.width + 2 * style.rim);
    cairo_stroke_preserve(c);
    memory_.look();
  }
  set_colour(c, style.colour);
  cairo_set_line_width(c, style.width);
  cairo_stroke(c);
  memory_.look();
}

void Picture::text(const std::string& utf8, double x, double y, const TextStyle& style) {
  words_ += utf8 + "\n";
  cairo_t* c = context_.get();
  set_font(c, style);
  const double width = style.align == Align::left ? 0 : text_width(utf8, style);
  cairo_move_to(c, x - (style.align == Align::centre ? width / 2 : width), y);
  if (style.halo) {
    cairo_text_path(c, utf8.c_str());
    set_colour(c, *style.halo);
    cairo_set_line_width(c, style.size * 0.26);
    cairo_stroke_preserve(c);
    memory_.look();
    set_colour(c, style.colour);
    cairo_fill(c);
    memory_.look();
    return;
  }
  set_colour(c, style.colour);
  cairo_show_text(c, utf8.c_str());
  memory_.look();
  cairo_new_path(c);
}

double Picture::text_width(const std::string& utf8, const TextStyle& style) const {
  set_font(context_.get(), style);
  cairo_text_extents_t extents;
  cairo_text_extents(context_.get(), utf8.c_str(), &extents);
  memory_.look();
  return extents.x_advance;
}

void Picture::image(const PixelImage& image, int x, int y) {
  cairo_surface_t* target = surface_.get();
  cairo_surface_flush(target);
  unsigned char* data = cairo_image_surface_get_data(target);
  const int stride = cairo_image_surface_get_stride(target);
  for (int row = std::max(0, -y); row < image.height && y + row < height_; ++row)
    for (int column = std::max(0, -x); column < image.width && x + column < width_; ++column) {
      const Rgb p =
          image.pixels[static_cast<std::size_t>(row) * static_cast<std::size_t>(image.width) +
                       static_cast<std::size_t>(column)];
      const std::uint32_t word = (std::uint32_t{p.r} << 16) | (std::uint32_t{p.g} << 8) | p.b;
      // Cairo stores each pixel as one 32-bit word of the machine, rows aligned for it.
      *reinterpret_cast<std::uint32_t*>(data + (y + row) * stride + (x + column) * 4) = word;
    }
  cairo_surface_mark_dirty(target);
}

void Picture::clip(double x, double y, double w, double h) {
  cairo_save(context_.get());
  cairo_rectangle(context_.get(), x, y, w, h);
  cairo_clip(context_.get());
}

void Picture::unclip() {
  cairo_restore(context_.get());
}

std::string Picture::png() const {
  if (cairo_status(context_.get()) != CAIRO_STATUS_SUCCESS)
    throw RunError("picture: it could not be drawn; ask for a smaller one");
  if (memory_.ran_out())
    throw RunError(
        "picture: memory ran out while it was drawn; close other programs and try again");
  cairo_surface_flush(surface_.get());
  // Cairo stores each pixel as one 32-bit word of the machine, rows aligned for it.
  return png_file(
      {reinterpret_cast<const std::uint32_t*>(cairo_image_surface_get_data(surface_.get())), width_,
       height_, static_cast<std::size_t>(cairo_image_surface_get_stride(surface_.get())) / 4},
      words_);
}

} // namespace leastwall
