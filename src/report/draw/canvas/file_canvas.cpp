#include "report/draw/canvas/file_canvas.h"

#include "report/draw/canvas/cairo_canvas.h"
#include "report/draw/canvas/svg_canvas.h"

namespace leastwall {

std::unique_ptr<Canvas> picture_canvas(PictureFile file, int width, int height,
                                       const std::string& title) {
  return file == PictureFile::svg ? svg_canvas(width, height, title) : png_canvas(width, height);
}

std::unique_ptr<Canvas> sheet_canvas(SheetFile file, double width, double height,
                                     const std::string& title) {
  switch (file) {
  case SheetFile::pdf:
    return pdf_canvas(width, height, title);
  case SheetFile::html:
    return html_canvas(width, height, title);
  case SheetFile::nothing:
    break;
  }
  return blank_canvas();
}

} // namespace leastwall
