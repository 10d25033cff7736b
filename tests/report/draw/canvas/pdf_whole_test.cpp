// A PDF that lacks a part is told from a whole one. The damage is that of a real case: a font that
// Cairo had no memory to write, with the rest of the file as if nothing had happened.
#include "report/draw/canvas/pdf_whole.h"

#include "report/sheet/sheet_paper.h"

#include <doctest/doctest.h>
#include <string>

using namespace leastwall;

namespace {

std::string small_sheet() {
  SheetPaper paper(PaperSize::a4, "whole");
  paper.text("Zero on top", 20, 20, {});
  return paper.file();
}

} // namespace

TEST_CASE("a PDF is whole, or a part is missing") {
  const std::string pdf = small_sheet();
  CHECK(pdf_is_whole(pdf));
  CHECK_FALSE(pdf_is_whole(""));
  CHECK_FALSE(pdf_is_whole("%PDF-1.5\nstartxref\n0\n%%EOF\n"));
  for (std::size_t size = 0; size + 8 < pdf.size(); size += 97)
    CHECK_FALSE(pdf_is_whole(std::string_view(pdf).substr(0, size)));
  // Every object is asked for: none may be renamed away.
  std::size_t objects = 0;
  for (std::size_t at = pdf.find(" 0 obj"); at != pdf.npos; at = pdf.find(" 0 obj", at + 1)) {
    std::string damaged = pdf;
    damaged[at + 3] = 'x';
    CHECK_FALSE(pdf_is_whole(damaged));
    ++objects;
  }
  CHECK(objects > 5);
  // A deflated stream that stops early, as after a failed write.
  const std::size_t deflated = pdf.find("/FlateDecode");
  REQUIRE(deflated != pdf.npos);
  const std::size_t stream = pdf.find("stream", deflated);
  std::string damaged = pdf;
  for (std::size_t i = stream + 16; i < stream + 24; ++i)
    damaged[i] = '\0';
  CHECK_FALSE(pdf_is_whole(damaged));
}
