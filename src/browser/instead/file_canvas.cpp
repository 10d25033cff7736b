// A page writes no files of pixels and no PDF.
#include "report/draw/canvas/file_canvas.h"

#include "base/errors.h"
#include "report/draw/canvas/svg_canvas.h"

namespace leastwall {

std::unique_ptr<Canvas> picture_canvas(PictureFile, int, int, const std::string&) {
  throw RunError("pictures are not made in a browser; please report it as a fault of leastwall");
}

std::unique_ptr<Canvas> sheet_canvas(SheetFile file, double width, double height,
                                     const std::string& title) {
  if (file == SheetFile::pdf)
    throw RunError("no PDF is made in a browser; please report it as a fault of leastwall");
  return file == SheetFile::html ? html_canvas(width, height, title) : blank_canvas();
}

} // namespace leastwall
