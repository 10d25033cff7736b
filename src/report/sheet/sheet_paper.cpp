#include "report/sheet/sheet_paper.h"

#include "base/errors.h"
#include "base/text/wrap_text.h"
#include "report/sheet/pdf_whole.h"

#include <cairo-pdf.h>
#include <cairo.h>
#include <cmath>
#include <new>
#include <numbers>
#include <utility>

namespace leastwall {
namespace {

// 1 inch = 25.4 mm = 72 points (ISO 32000-1, 8.3.2.3: default user space unit 1/72 inch).
constexpr double kPointsPerMm = 72 / 25.4;
// A fixed date, so that the same result gives the same bytes.
constexpr const char* kDate = "2000-01-01T00:00:00Z";

struct PageSize {
  double width, height;
};

/// ISO 216 A4; ANSI/ASME Y14.1 A ("Letter"), 8.5 x 11 inch.
PageSize upright(PaperSize size) {
  return size == PaperSize::a4 ? PageSize{210, 297} : PageSize{215.9, 279.4};
}

void set_colour(cairo_t* c, Rgb colour) {
  cairo_set_source_rgb(c, colour.r / 255.0, colour.g / 255.0, colour.b / 255.0);
}

void set_font(cairo_t* c, const Ink& ink) {
  cairo_select_font_face(c, "DejaVu Sans", CAIRO_FONT_SLANT_NORMAL,
                         ink.bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
  cairo_set_font_size(c, ink.size_pt / kPointsPerMm);
}

cairo_status_t append_bytes(void* closure, const unsigned char* data, unsigned int length) {
  try {
    static_cast<std::string*>(closure)->append(data, data + length);
  } catch (const std::bad_alloc&) { // no exception may pass through Cairo
    return CAIRO_STATUS_NO_MEMORY;
  }
  return CAIRO_STATUS_SUCCESS;
}

/// Bytes of the first code point of `text`.
std::size_t first_code_point(std::string_view text) {
  std::size_t n = 1;
  while (n < text.size() && (static_cast<unsigned char>(text[n]) & 0xC0) == 0x80)
    ++n;
  return n;
}

} // namespace

double line_pitch(double size_pt) {
  return 1.25 * size_pt / kPointsPerMm;
}

void SheetPaper::Free::operator()(cairo_surface_t* surface) const {
  cairo_surface_destroy(surface);
}
void SheetPaper::Free::operator()(cairo_t* context) const {
  cairo_destroy(context);
}

SheetPaper::SheetPaper(PaperSize size, const std::string& title)
    : size_(size), width_(upright(size).width), height_(upright(size).height),
      bytes_(std::make_unique<std::string>()),
      surface_(cairo_pdf_surface_create_for_stream(append_bytes, bytes_.get(),
                                                   width_ * kPointsPerMm, height_ * kPointsPerMm)) {
  cairo_surface_t* s = surface_.get();
  cairo_pdf_surface_restrict_to_version(s, CAIRO_PDF_VERSION_1_5);
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_TITLE, printable(title).c_str());
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATOR, "leastwall");
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_CREATE_DATE, kDate);
  cairo_pdf_surface_set_metadata(s, CAIRO_PDF_METADATA_MOD_DATE, kDate);
  context_.reset(cairo_create(s));
  cairo_t* c = context_.get();
  if (cairo_status(c) != CAIRO_STATUS_SUCCESS)
    throw RunError("setup sheet: no memory for a page; close other programs and try again");
  cairo_scale(c, kPointsPerMm, kPointsPerMm);
  cairo_font_options_t* options = cairo_font_options_create();
  cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
  cairo_set_font_options(c, options);
  cairo_font_options_destroy(options);
  cairo_set_line_join(c, CAIRO_LINE_JOIN_ROUND);
}

void SheetPaper::next_page(bool lying) {
  cairo_show_page(context_.get());
  memory_.look();
  cairo_scale(context_.get(), 1 / zoom_, 1 / zoom_);
  zoom_ = 1;
  const PageSize page = upright(size_);
  width_ = lying ? page.height : page.width;
  height_ = lying ? page.width : page.height;
  cairo_pdf_surface_set_size(surface_.get(), width_ * kPointsPerMm, height_ * kPointsPerMm);
}

void SheetPaper::zoom(double factor) {
  cairo_scale(context_.get(), factor, factor);
  width_ /= factor;
  height_ /= factor;
  zoom_ *= factor;
}

void SheetPaper::text(const std::string& utf8, double x, double y, const Ink& ink) {
  cairo_t* c = context_.get();
  const std::string safe = printable(utf8);
  const double width = ink.align == Align::left ? 0 : text_width(safe, ink);
  set_font(c, ink);
  set_colour(c, ink.colour);
  cairo_move_to(c, x - (ink.align == Align::centre ? width / 2 : width), y);
  cairo_show_text(c, safe.c_str());
  memory_.look();
  cairo_new_path(c);
}

double SheetPaper::text_width(const std::string& utf8, const Ink& ink) const {
  set_font(context_.get(), ink);
  cairo_text_extents_t extents;
  cairo_text_extents(context_.get(), utf8.c_str(), &extents);
  memory_.look();
  return extents.x_advance;
}

Ink SheetPaper::fitted(const std::string& utf8, Ink ink, double room) const {
  ink.size_pt *= std::min(1.0, room / text_width(utf8, ink));
  return ink;
}

std::string SheetPaper::shortened(const std::string& utf8, const Ink& ink, double room) const {
  std::string out = printable(utf8);
  for (int columns = text_columns(out) - 1; columns > 4 && text_width(out, ink) > room; --columns)
    out = shorten_middle(utf8, columns);
  return out;
}

std::vector<std::string> SheetPaper::wrapped(const std::string& utf8, double width, const Ink& ink,
                                             std::size_t most) const {
  std::vector<std::string> lines;
  std::string line;
  const auto fits = [&](const std::string& text) { return text_width(text, ink) <= width; };
  const auto flush = [&] { lines.push_back(std::exchange(line, {})); };
  const std::string safe = printable(utf8);
  std::string_view rest = safe;
  while (!rest.empty()) {
    const std::size_t blank = rest.find(' ');
    std::string word(rest.substr(0, blank));
    rest.remove_prefix(blank == std::string_view::npos ? rest.size() : blank + 1);
    if (word.empty())
      continue;
    if (!line.empty() && !fits(line + " " + word))
      flush();
    while (!fits(word)) { // fits on no line: broken where it must be
      std::string head;
      std::string_view tail = word;
      while (!tail.empty()) {
        const std::string next = head + std::string(tail.substr(0, first_code_point(tail)));
        if (!head.empty() && !fits(next))
          break;
        tail.remove_prefix(first_code_point(tail));
        head = next;
      }
      lines.push_back(head);
      word = std::string(tail);
      if (word.empty())
        break;
    }
    if (!word.empty())
      line += (line.empty() ? "" : " ") + word;
  }
  if (!line.empty())
    flush();
  if (lines.size() > most) {
    lines.resize(most);
    std::string& last = lines.back();
    while (!last.empty() && !fits(last + "...")) {
      while (last.size() > 1 && (static_cast<unsigned char>(last.back()) & 0xC0) == 0x80)
        last.pop_back();
      last.pop_back();
    }
    last += "...";
  }
  return lines;
}

double SheetPaper::paragraph(const std::string& utf8, double x, double top, double width,
                             const Ink& ink, std::size_t most) {
  for (const std::string& line : wrapped(utf8, width, ink, most)) {
    text(line, ink.align == Align::centre ? x + width / 2 : x, top + ink.size_pt / kPointsPerMm,
         ink);
    top += line_pitch(ink.size_pt);
  }
  return top;
}

void SheetPaper::line(const std::vector<PicturePoint>& points, const Stroke& stroke) {
  cairo_t* c = context_.get();
  for (const PicturePoint& p : points)
    cairo_line_to(c, p.x, p.y);
  set_colour(c, stroke.colour);
  cairo_set_line_width(c, stroke.width);
  cairo_set_dash(c, stroke.dash.data(), static_cast<int>(stroke.dash.size()), 0);
  cairo_stroke(c);
  memory_.look();
}

void SheetPaper::polygon(const std::vector<PicturePoint>& points, Rgb colour) {
  cairo_t* c = context_.get();
  for (const PicturePoint& p : points)
    cairo_line_to(c, p.x, p.y);
  cairo_close_path(c);
  set_colour(c, colour);
  cairo_fill(c);
  memory_.look();
}

void SheetPaper::rectangle(double x, double y, double w, double h, const Stroke& stroke) {
  line({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}, {x, y}, {x + w, y}}, stroke);
}

void SheetPaper::fill(double x, double y, double w, double h, Rgb colour) {
  polygon({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, colour);
}

void SheetPaper::disc(double x, double y, double radius, Rgb colour, double border) {
  cairo_t* c = context_.get();
  cairo_new_sub_path(c);
  cairo_arc(c, x, y, radius, 0, 2 * std::numbers::pi);
  set_colour(c, colour);
  cairo_fill_preserve(c);
  memory_.look();
  if (border > 0) {
    set_colour(c, kBlack);
    cairo_set_line_width(c, border);
    cairo_set_dash(c, nullptr, 0, 0);
    cairo_stroke_preserve(c);
    memory_.look();
  }
  cairo_new_path(c);
}

void SheetPaper::clip(double x, double y, double w, double h) {
  cairo_save(context_.get());
  cairo_rectangle(context_.get(), x, y, w, h);
  cairo_clip(context_.get());
}

void SheetPaper::unclip() {
  cairo_restore(context_.get());
}

void SheetPaper::require_drawn() const {
  if (cairo_status(context_.get()) != CAIRO_STATUS_SUCCESS || memory_.ran_out())
    throw RunError("setup sheet: a part of it could not be made (no memory?); close other programs "
                   "and try again");
}

std::string SheetPaper::pdf() {
  cairo_show_page(context_.get());
  memory_.look();
  cairo_surface_finish(surface_.get());
  memory_.look();
  if (cairo_status(context_.get()) != CAIRO_STATUS_SUCCESS ||
      cairo_surface_status(surface_.get()) != CAIRO_STATUS_SUCCESS)
    throw RunError("setup sheet: it could not be drawn or packed as PDF; close other programs and "
                   "try again");
  if (memory_.ran_out() || !pdf_is_whole(*bytes_))
    throw RunError("setup sheet: a part of it could not be made (no memory?); close other programs "
                   "and try again");
  return std::exchange(*bytes_, {});
}

} // namespace leastwall
