#include "report/sheet/sheet_paper.h"

#include "base/text/code_point.h"
#include "base/text/shorten_middle.h"
#include "base/text/wrap_text.h"
#include "report/draw/canvas/text_advance.h"

#include <algorithm>
#include <utility>

namespace leastwall {
namespace {

// 1 inch = 25.4 mm = 72 points (ISO 32000-1, 8.3.2.3: default user space unit 1/72 inch).
constexpr double kPointsPerMm = 72 / 25.4;

struct PageSize {
  double width, height;
};

/// ISO 216 A4; ANSI/ASME Y14.1 A ("Letter"), 8.5 x 11 inch.
PageSize upright(PaperSize size) {
  return size == PaperSize::a4 ? PageSize{210, 297} : PageSize{215.9, 279.4};
}

Letters letters_of(const Ink& ink) {
  return {ink.size_pt / kPointsPerMm, ink.bold, ink.colour, {}};
}

} // namespace

double line_pitch(double size_pt) {
  return 1.25 * size_pt / kPointsPerMm;
}

SheetPaper::SheetPaper(PaperSize size, const std::string& title, SheetFile file)
    : size_(size), width_(upright(size).width), height_(upright(size).height),
      canvas_(sheet_canvas(file, width_, height_, title)) {}

void SheetPaper::next_page(bool lying) {
  const PageSize page = upright(size_);
  width_ = lying ? page.height : page.width;
  height_ = lying ? page.width : page.height;
  zoom_ = 1;
  canvas_->next_page(width_, height_);
}

void SheetPaper::zoom(double factor) {
  width_ /= factor;
  height_ /= factor;
  zoom_ *= factor;
  canvas_->zoom(factor);
}

void SheetPaper::text(const std::string& utf8, double x, double y, const Ink& ink) {
  const std::string safe = printable(utf8);
  const double width = ink.align == Align::left ? 0 : text_width(safe, ink);
  canvas_->text(safe, {x - (ink.align == Align::centre ? width / 2 : width), y}, letters_of(ink));
}

double SheetPaper::text_width(const std::string& utf8, const Ink& ink) const {
  return text_advance(utf8, ink.size_pt / kPointsPerMm, ink.bold);
}

Ink SheetPaper::fitted(const std::string& utf8, Ink ink, double room) const {
  ink.size_pt *= std::min(1.0, room / text_width(utf8, ink));
  return ink;
}

std::string SheetPaper::shortened(const std::string& utf8, const Ink& ink, double room) const {
  return shorten_middle(printable(utf8), [&](const std::string& shorter) {
    return text_width(shorter, ink) <= room;
  });
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
        const std::string_view letter = first_code_point(tail).bytes;
        const std::string next = head + std::string(letter);
        if (!head.empty() && !fits(next))
          break;
        tail.remove_prefix(letter.size());
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
  canvas_->stroke(points, false, {stroke.width, stroke.colour, stroke.dash});
}

void SheetPaper::polygon(const std::vector<PicturePoint>& points, Rgb colour) {
  canvas_->fill(points, colour);
}

void SheetPaper::rectangle(double x, double y, double w, double h, const Stroke& stroke) {
  line({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}, {x, y}, {x + w, y}}, stroke);
}

void SheetPaper::fill(double x, double y, double w, double h, Rgb colour) {
  polygon({{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}, colour);
}

void SheetPaper::disc(double x, double y, double radius, Rgb colour, double border) {
  canvas_->fill_disc({x, y}, radius, colour);
  if (border > 0)
    canvas_->stroke_disc({x, y}, radius, {border, kBlack, {}});
}

void SheetPaper::clip(double x, double y, double w, double h) {
  canvas_->clip(x, y, w, h);
}

void SheetPaper::unclip() {
  canvas_->unclip();
}

std::string SheetPaper::file() {
  return canvas_->file();
}

} // namespace leastwall
