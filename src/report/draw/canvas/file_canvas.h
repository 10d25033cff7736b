// The canvas for a kind of file.
#pragma once

#include "report/draw/canvas/canvas.h"

#include <memory>
#include <string>

namespace leastwall {

enum class PictureFile { png, svg };
enum class SheetFile {
  pdf,
  html,   ///< one SVG a page
  nothing ///< drawn to be measured
};

/// Throws RunError when there is no memory for it, or no such files are made here.
std::unique_ptr<Canvas> picture_canvas(PictureFile file, int width, int height,
                                       const std::string& title);
std::unique_ptr<Canvas> sheet_canvas(SheetFile file, double width, double height,
                                     const std::string& title);

} // namespace leastwall
