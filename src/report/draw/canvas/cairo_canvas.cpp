#include "report/draw/canvas/cairo_canvas.h"

#include "base/errors.h"
#include "base/text/wrap_text.h"
#include "report/draw/canvas/memory_watch.h"
#include "report/draw/canvas/pdf_whole.h"
#include "report/draw/canvas/png_file.h"

#include <algorithm>
#include <cairo-pdf.h>
#include <cairo.h>
#include <new>
#include <numbers>
#include <utility>

namespace leastwall {
namespace {

// 1 inch = 25.4 mm = 72 points (ISO 32000-1, 8.3.2.3: default user space unit 1/72 inch).
constexpr double kPointsPerMm = 72 / 25.4;
// A fixed date, so that the same result gives the same bytes.
constexpr const char* kDate = "2000-01-01T00:00:00Z";

struct Free {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};

class CairoCanvas : public Canvas {
 public:
  void fill(std::span<const PicturePoint> points, Rgb colour) override {
    add(points, true);
    set(colour);
    cairo_fill(c());
    memory_.look();
  }
  void stroke(std::span<const PicturePoint> points, bool closed, const Pen& pen) override {
    add(points, closed);
    stroke_path(pen);
  }
  void fill_disc(PicturePoint middle, double radius, Rgb colour) override {
    add_disc(middle, radius);
    set(colour);
    cairo_fill(c());
    memory_.look();
  }
  void stroke_disc(PicturePoint middle, double radius, const Pen& pen) override {
    add_disc(middle, radius);
    stroke_path(pen);
  }
  void text(const std::string& utf8, PicturePoint at, const Letters& letters) override {
    cairo_select_font_face(c(), "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                           letters.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(c(), letters.size);
    cairo_move_to(c(), at.x, at.y);
    if (letters.halo) {
      cairo_text_path(c(), utf8.c_str());
      set(*letters.halo);
      cairo_set_line_width(c(), letters.size * kHaloWidth);
      cairo_set_dash(c(), nullptr, 0, 0);
      cairo_stroke_preserve(c());
      memory_.look();
      set(letters.colour);
      cairo_fill(c());
    } else {
      set(letters.colour);
      cairo_show_text(c(), utf8.c_str());
      memory_.look();
      cairo_new_path(c());
    }
    memory_.look();
  }
  void clip(double x, double y, double w, double h) override {
    cairo_save(c());
    cairo_rectangle(c(), x, y, w, h);
    cairo_clip(c());
  }
  void unclip() override { cairo_restore(c()); }
  void zoom(double factor) override {
    cairo_scale(c(), factor, factor);
    zoom_ *= factor;
  }

 protected:
  explicit CairoCanvas(cairo_surface_t* surface)
      : surface_(surface), context_(cairo_create(surface)) {
    cairo_font_options_t* options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(c(), options);
    cairo_font_options_destroy(options);
    cairo_set_line_join(c(), CAIRO_LINE_JOIN_ROUND);
  }

  cairo_t* c() const { return context_.get(); }
  cairo_surface_t* surface() const { return surface_.get(); }
  bool failed() const { return cairo_status(c()) != CAIRO_STATUS_SUCCESS; }
  void set(Rgb colour) {
    cairo_set_source_rgb(c(), colour.r / 255.0, colour.g / 255.0, colour.b / 255.0);
  }

  MemoryWatch memory_; ///< looked at after each stroke and text
  double zoom_ = 1;

 private:
  void add(std::span<const PicturePoint> points, bool closed) {
    for (const PicturePoint& p : points)
      cairo_line_to(c(), p.x, p.y);
    if (closed)
      cairo_close_path(c());
  }
  void add_disc(PicturePoint middle, double radius) {
    cairo_new_sub_path(c());
    cairo_arc(c(), middle.x, middle.y, radius, 0, 2 * std::numbers::pi);
  }
  void stroke_path(const Pen& pen) {
    set(pen.colour);
    cairo_set_line_width(c(), pen.width);
    cairo_set_dash(c(), pen.dash.data(), static_cast<int>(pen.dash.size()), 0);
    cairo_stroke(c());
    memory_.look();
  }

  std::unique_ptr<cairo_surface_t, Free> surface_;
  std::unique_ptr<cairo_t, Free> context_;
};

class PngCanvas final : public CairoCanvas {
 public:
  PngCanvas(int width, int height)
      : CairoCanvas(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height)), width_(width),
        height_(height) {
    if (failed())
      throw RunError("picture: no memory for " + std::to_string(width) + " x " +
                     std::to_string(height) + " pixels; ask for a smaller one");
    set(kWhite);
    cairo_paint(c());
  }
  void text(const std::string& utf8, PicturePoint at, const Letters& letters) override {
    words_ += utf8 + "\n";
    CairoCanvas::text(utf8, at, letters);
  }
  void image(const PixelImage& image, int x, int y) override {
    cairo_surface_flush(surface());
    unsigned char* data = cairo_image_surface_get_data(surface());
    const int stride = cairo_image_surface_get_stride(surface());
    for (int row = std::max(0, -y); row < image.height && y + row < height_; ++row)
      for (int column = std::max(0, -x); column < image.width && x + column < width_; ++column) {
        const Rgb p =
            image.pixels[static_cast<std::size_t>(row) * static_cast<std::size_t>(image.width) +
                         static_cast<std::size_t>(column)];
        // Cairo stores each pixel as one 32-bit word of the machine, rows aligned for it.
        *reinterpret_cast<std::uint32_t*>(data + (y + row) * stride + (x + column) * 4) =
            pixel_word(p);
      }
    cairo_surface_mark_dirty(surface());
  }
  void next_page(double, double) override {}
  std::string file() override {
    if (failed())
      throw RunError("picture: it could not be drawn; ask for a smaller one");
    if (memory_.ran_out())
      throw RunError(
          "picture: memory ran out while it was drawn; close other programs and try again");
    cairo_surface_flush(surface());
    // Cairo stores each pixel as one 32-bit word of the machine, rows aligned for it.
    return png_file(
        {reinterpret_cast<const std::uint32_t*>(cairo_image_surface_get_data(surface())), width_,
         height_, static_cast<std::size_t>(cairo_image_surface_get_stride(surface())) / 4},
        words_);
  }

 private:
  int width_, height_;
  std::string words_;
};

cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned int length) {
  try {
    static_cast<std::string*>(closure)->append(data, data + length);
  } catch (const std::bad_alloc&) { // no exception may pass through Cairo
    return CAIRO_STATUS_NO_MEMORY;
  }
  return CAIRO_STATUS_SUCCESS;
}

/// Outlives the surface, which writes to them when it is destroyed.
struct PdfBytes {
  std::string bytes;
};

class PdfCanvas final : private PdfBytes, public CairoCanvas {
 public:
  PdfCanvas(double width, double height, const std::string& title)
      : CairoCanvas(cairo_pdf_surface_create_for_stream(append_bytes, &bytes, width * kPointsPerMm,
                                                        height * kPointsPerMm)) {
    cairo_surface_t* s = surface();
    cairo_pdf_surface_restrict_to_version(s, CAIRO_PDF_VERSION_1_5);
    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_TITLE, printable(title).c_str());
    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATOR, "leastwall");
    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATE_DATE, kDate);
    cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_MOD_DATE, kDate);
    if (failed())
      throw RunError("setup sheet: no memory for a page; close other programs and try again");
    cairo_scale(c(), kPointsPerMm, kPointsPerMm);
  }
  void image(const PixelImage&, int, int) override {
    throw RunError("setup sheet: no pixels on paper; please report it as a fault of leastwall");
  }
  void next_page(double width, double height) override {
    cairo_show_page(c());
    memory_.look();
    cairo_scale(c(), 1 / zoom_, 1 / zoom_);
    zoom_ = 1;
    cairo_pdf_surface_set_size(surface(), width * kPointsPerMm, height * kPointsPerMm);
  }
  std::string file() override {
    cairo_show_page(c());
    memory_.look();
    cairo_surface_finish(surface());
    memory_.look();
    if (failed() || cairo_surface_status(surface()) != CAIRO_STATUS_SUCCESS)
      throw RunError("setup sheet: it could not be drawn or packed as PDF; close other programs "
                     "and try again");
    if (memory_.ran_out() || !pdf_is_whole(bytes))
      throw RunError("setup sheet: a part of it could not be made (no memory?); close other "
                     "programs and try again");
    return std::exchange(bytes, {});
  }
};

} // namespace

std::unique_ptr<Canvas> png_canvas(int width, int height) {
  return std::make_unique<PngCanvas>(width, height);
}

std::unique_ptr<Canvas> pdf_canvas(double width, double height, const std::string& title) {
  return std::make_unique<PdfCanvas>(width, height, title);
}

} // namespace leastwall
