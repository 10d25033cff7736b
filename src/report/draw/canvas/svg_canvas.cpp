#include "report/draw/canvas/svg_canvas.h"

#include "base/errors.h"
#include "base/text/base64.h"
#include "base/text/wrap_text.h"
#include "report/draw/canvas/png_file.h"
#include "report/draw/canvas/text_advance.h"
#include "report/words/html_text.h"

#include <cstdint>
#include <fmt/format.h>
#include <iterator>
#include <string_view>
#include <utility>

namespace leastwall {
namespace {

/// Up to three decimals, without zeros that say nothing.
std::string number(double value) {
  std::string text = fmt::format("{:.3f}", value);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.')
    text.pop_back();
  return text == "-0" ? "0" : text;
}

class SvgBody : public Canvas {
 public:
  void fill(std::span<const PicturePoint> points, Rgb colour) override {
    add("<path d=\"{}Z\" fill=\"{}\"/>", path(points), colour_code(colour));
  }
  void stroke(std::span<const PicturePoint> points, bool closed, const Pen& pen) override {
    add("<path d=\"{}{}\" fill=\"none\"{}/>", path(points), closed ? "Z" : "", stroke_of(pen));
  }
  void fill_disc(PicturePoint middle, double radius, Rgb colour) override {
    add("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"/>", number(middle.x), number(middle.y),
        number(radius), colour_code(colour));
  }
  void stroke_disc(PicturePoint middle, double radius, const Pen& pen) override {
    add("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"none\"{}/>", number(middle.x),
        number(middle.y), number(radius), stroke_of(pen));
  }
  void text(const std::string& utf8, PicturePoint at, const Letters& letters) override {
    const std::string safe = printable(utf8);
    if (safe.find_first_not_of(' ') == std::string::npos)
      return;
    const bool blanks =
        safe.front() == ' ' || safe.back() == ' ' || safe.find("  ") != std::string::npos;
    // Other letters than those measured are brought to the same width.
    add("<text x=\"{}\" y=\"{}\" font-size=\"{}\"{} fill=\"{}\"{}{} textLength=\"{}\" "
        "lengthAdjust=\"spacingAndGlyphs\">{}</text>",
        number(at.x), number(at.y), number(letters.size),
        letters.bold ? " font-weight=\"bold\"" : "", colour_code(letters.colour),
        letters.halo ? fmt::format(" paint-order=\"stroke\" stroke=\"{}\" stroke-width=\"{}\"",
                                   colour_code(*letters.halo), number(letters.size * kHaloWidth))
                     : "",
        blanks ? " style=\"white-space:pre\"" : "",
        number(text_advance(safe, letters.size, letters.bold)), html_text(safe));
  }
  void image(const PixelImage& image, int x, int y) override {
    if (image.width < 1 || image.height < 1)
      return;
    std::vector<std::uint32_t> words;
    words.reserve(image.pixels.size());
    for (const Rgb p : image.pixels)
      words.push_back(pixel_word(p));
    const std::string png =
        png_file({words.data(), image.width, image.height, static_cast<std::size_t>(image.width)});
    add("<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" href=\"data:image/png;base64,{}\"/>",
        x, y, image.width, image.height,
        base64({reinterpret_cast<const std::uint8_t*>(png.data()), png.size()}));
  }
  // An SVG inside another shows nothing beyond its edges, and needs no name.
  void clip(double x, double y, double w, double h) override {
    const std::string at = fmt::format("{} {} {} {}", number(x), number(y), number(w), number(h));
    add("<svg x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" viewBox=\"{}\" "
        "preserveAspectRatio=\"none\">",
        number(x), number(y), number(w), number(h), at);
  }
  void unclip() override { body_ += "</svg>\n"; }
  void zoom(double factor) override {
    add("<g transform=\"scale({})\">", fmt::format("{:.6f}", factor));
    ++zooms_;
  }

 protected:
  template <class... Args> void add(fmt::format_string<Args...> format, Args&&... args) {
    fmt::format_to(std::back_inserter(body_), format, std::forward<Args>(args)...);
    body_ += '\n';
  }
  void end_page() {
    for (; zooms_ > 0; --zooms_)
      body_ += "</g>\n";
    body_ += "</svg>\n";
  }
  std::string take() { return std::exchange(body_, {}); }

 private:
  static std::string path(std::span<const PicturePoint> points) {
    std::string out;
    for (const PicturePoint& p : points)
      out += (out.empty() ? "M" : "L") + number(p.x) + " " + number(p.y);
    return out;
  }
  static std::string stroke_of(const Pen& pen) {
    std::string dash;
    for (const double d : pen.dash)
      dash += (dash.empty() ? "" : " ") + number(d);
    return fmt::format(" stroke=\"{}\" stroke-width=\"{}\"{}", colour_code(pen.colour),
                       number(pen.width), dash.empty() ? "" : " stroke-dasharray=\"" + dash + "\"");
  }

  std::string body_;
  int zooms_ = 0;
};

// Verdana was drawn to the same widths.
constexpr std::string_view kCommon =
    "font-family=\"DejaVu Sans, Bitstream Vera Sans, Verdana, sans-serif\" "
    "stroke-linejoin=\"round\" text-rendering=\"geometricPrecision\" "
    "style=\"font-kerning:none;font-variant-ligatures:none\"";

class SvgCanvas final : public SvgBody {
 public:
  SvgCanvas(int width, int height, const std::string& title) {
    add("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" "
        "viewBox=\"0 0 {0} {1}\" role=\"img\" {2}>",
        width, height, kCommon);
    add("<title>{}</title>", html_text(printable(title)));
    add("<rect width=\"{}\" height=\"{}\" fill=\"#ffffff\"/>", width, height);
  }
  void next_page(double, double) override {}
  std::string file() override {
    end_page();
    return take();
  }
};

class HtmlCanvas final : public SvgBody {
 public:
  HtmlCanvas(double width, double height, const std::string& title)
      : width_(width), height_(height) {
    add(R"(<!DOCTYPE html>
<html lang="en">
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width">
<title>{2}</title>
<style>
@page {{ size: {0}mm {1}mm; margin: 0 }}
html {{ background: #777 }}
body {{ margin: 0 }}
.page, .page > svg {{ display: block; background: #fff; margin: 0 auto }}
.page {{ overflow: hidden }}
.screen {{ font: 16px sans-serif; color: #fff; margin: 4mm; text-align: center }}
@media screen {{
  .page {{ width: min({0}mm, 100%); margin: 4mm auto }}
  .lying {{ width: min({1}mm, 100%) }}
  .page > svg {{ width: 100%; height: auto }}
}}
@media print {{
  .screen {{ display: none }}
  html {{ background: none }}
  .page {{ width: calc({0}mm - 1px); height: calc({1}mm - 1px); margin: 0; break-after: page }}
  .page > svg {{ margin: 0 }}
  .page:last-of-type {{ break-after: auto }}
  .lying > svg {{ transform-origin: 0 0; transform: rotate(90deg) translate(0, -{0}mm) }}
}}
</style>
<p class="screen">Print at 100 %, not fitted to the page.</p>)",
        number(width), number(height), html_text(printable(title)));
    begin_page(width, height);
  }
  void image(const PixelImage&, int, int) override {
    throw RunError("setup sheet: no pixels on paper; please report it as a fault of leastwall");
  }
  void next_page(double width, double height) override {
    end_page();
    add("</div>");
    begin_page(width, height);
  }
  std::string file() override {
    end_page();
    add("</div>");
    add("</html>");
    return take();
  }

 private:
  void begin_page(double width, double height) {
    add("<div class=\"page{}\">", width == width_ && height == height_ ? "" : " lying");
    add("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" "
        "viewBox=\"0 0 {0} {1}\" {2}>",
        number(width), number(height), kCommon);
  }

  double width_, height_;
};

} // namespace

std::unique_ptr<Canvas> svg_canvas(int width, int height, const std::string& title) {
  return std::make_unique<SvgCanvas>(width, height, title);
}

std::unique_ptr<Canvas> html_canvas(double width, double height, const std::string& title) {
  return std::make_unique<HtmlCanvas>(width, height, title);
}

} // namespace leastwall
