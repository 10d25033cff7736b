// Drawings as SVG and HTML, read back as text. What browsers make of them is asked in
// tests/page/sheet_print_test.py.
#include "report/draw/canvas/svg_canvas.h"

#include "report/draw/canvas/file_canvas.h"
#include "report/draw/picture.h"
#include "report/sheet/sheet_paper.h"

#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

namespace {

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::size_t count(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
    ++n;
  return n;
}

} // namespace

TEST_CASE("strokes, fills and discs of an SVG stand where they were drawn") {
  const auto canvas = svg_canvas(300, 200, "A <map>");
  const std::vector<PicturePoint> corner{{1, 2}, {3.5, 4}, {5, -6.1234}};
  canvas->fill(corner, {255, 0, 128});
  canvas->stroke(corner, false, {2, {0, 0, 1}, {4, 1.5}});
  canvas->stroke(corner, true, {0.25, kBlack, {}});
  canvas->fill_disc({10, 20}, 5, kWhite);
  canvas->stroke_disc({10, 20}, 5, {1, kBlack, {}});
  const std::string svg = canvas->file();
  CHECK(svg.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"300\" height=\"200\" "
                        "viewBox=\"0 0 300 200\""));
  CHECK(has(svg, "<title>A &lt;map&gt;</title>"));
  CHECK(has(svg, "<rect width=\"300\" height=\"200\" fill=\"#ffffff\"/>"));
  CHECK(has(svg, "<path d=\"M1 2L3.5 4L5 -6.123Z\" fill=\"#ff0080\"/>"));
  CHECK(has(svg, "<path d=\"M1 2L3.5 4L5 -6.123\" fill=\"none\" stroke=\"#000001\" "
                 "stroke-width=\"2\" stroke-dasharray=\"4 1.5\"/>"));
  CHECK(has(svg, "<path d=\"M1 2L3.5 4L5 -6.123Z\" fill=\"none\" stroke=\"#000000\" "
                 "stroke-width=\"0.25\"/>"));
  CHECK(has(svg, "<circle cx=\"10\" cy=\"20\" r=\"5\" fill=\"#ffffff\"/>"));
  CHECK(svg.ends_with("</svg>\n"));
}

TEST_CASE("words of an SVG are text, never marks of it") {
  const auto canvas = svg_canvas(300, 200, "t");
  canvas->text("a<b>&\"c\"\x1b\xef\xbf\xbf", {1, 2}, {10, true, {1, 2, 3}, kWhite});
  canvas->text("   ", {1, 2}, {10, false, kBlack, {}});
  canvas->text("X 1  Y 2", {1, 2}, {10, false, kBlack, {}});
  const std::string svg = canvas->file();
  CHECK(has(svg, ">a&lt;b&gt;&amp;&quot;c&quot;?"
                 "?</text>"));
  CHECK(has(svg, "font-size=\"10\" font-weight=\"bold\" fill=\"#010203\" paint-order=\"stroke\" "
                 "stroke=\"#ffffff\" stroke-width=\"2.6\" textLength="));
  CHECK(count(svg, "<text") == 2);
  CHECK(count(svg, " style=\"white-space:pre\" textLength") ==
        1); // else blanks would fall together
}

TEST_CASE("what is clipped and zoomed is closed again on its page") {
  const auto canvas = html_canvas(210, 297, "Sheet & card");
  canvas->zoom(0.8);
  canvas->clip(1, 2, 30, 40);
  canvas->fill_disc({5, 5}, 1, kBlack);
  canvas->unclip();
  canvas->next_page(297, 210);
  canvas->fill_disc({6, 6}, 1, kBlack);
  const std::string html = canvas->file();
  CHECK(has(html, "<title>Sheet &amp; card</title>"));
  CHECK(has(html, "@page { size: 210mm 297mm; margin: 0 }"));
  CHECK(has(html, "default-src 'none'"));
  CHECK(has(html, "<g transform=\"scale(0.800000)\">"));
  CHECK(has(html, "<svg x=\"1\" y=\"2\" width=\"30\" height=\"40\" viewBox=\"1 2 30 40\""));
  CHECK(count(html, "<svg") == count(html, "</svg>"));
  CHECK(count(html, "<g") == count(html, "</g>"));
  CHECK(count(html, "<div class=\"page\">") == 1);
  CHECK(count(html, "<div class=\"page lying\">") == 1);
  CHECK(count(html, "</div>") == 2);
  CHECK(has(html, "width=\"297mm\" height=\"210mm\" viewBox=\"0 0 297 210\""));
}

TEST_CASE("pixels go into an SVG as a PNG, and none onto paper") {
  PixelImage image;
  image.width = 2, image.height = 1;
  image.pixels = {{1, 2, 3}, {4, 5, 6}};
  const auto canvas = svg_canvas(10, 10, "t");
  canvas->image(image, 3, 4);
  const std::string svg = canvas->file();
  // RFC 2045 of the first bytes of every PNG (ISO/IEC 15948, 5.2): 137 80 78 71 13 10 26 10.
  CHECK(has(svg, "<image x=\"3\" y=\"4\" width=\"2\" height=\"1\" "
                 "href=\"data:image/png;base64,iVBORw0KGgo"));
  CHECK_THROWS(html_canvas(210, 297, "t")->image(image, 0, 0));
}

TEST_CASE("paper that is only measured has no file, and the same room for text") {
  SheetPaper scratch(PaperSize::letter, "t", SheetFile::nothing);
  SheetPaper pdf(PaperSize::letter, "t", SheetFile::pdf);
  SheetPaper html(PaperSize::letter, "t", SheetFile::html);
  for (SheetPaper* paper : {&scratch, &pdf, &html}) {
    CHECK(paper->width() == 215.9);
    CHECK(paper->text_width("THIN PLACES", {12, true}) ==
          scratch.text_width("THIN PLACES", {12, true}));
    paper->text("THIN PLACES", 20, 20, {12, true});
  }
  CHECK(scratch.file().empty());
  CHECK(pdf.file().starts_with("%PDF-1.5"));
  CHECK(has(html.file(), ">THIN PLACES</text>"));
}

TEST_CASE("a name with code points that stand for nothing is drawn in every file") {
  const std::string name =
      "a\xef\xbf\xbf\xf0\x9f\xbf\xbe\x07z"; // Cairo draws nothing more after the first
  for (const PictureFile file : {PictureFile::png, PictureFile::svg}) {
    Picture picture(60, 20, file, name);
    picture.text(name, 1, 15, {});
    const std::string bytes = picture.file();
    CHECK(has(bytes, "a??"
                     "?z"));
  }
  for (const SheetFile file : {SheetFile::pdf, SheetFile::html}) {
    SheetPaper paper(PaperSize::a4, name, file);
    paper.text(name, 20, 20, {});
    CHECK(paper.file().size() > 500);
  }
}
