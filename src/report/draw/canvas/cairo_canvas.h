// Canvases of the Cairo library: a picture of pixels as a PNG file, paper as a PDF file.
#pragma once

#include "report/draw/canvas/canvas.h"

#include <memory>
#include <string>

namespace leastwall {

/// A white picture, in px; the file is PNG, with all words of it, a line each, as its description.
/// Throws RunError when there is no memory for it.
std::unique_ptr<Canvas> png_canvas(int width, int height);

/// Paper, in mm; the file is PDF 1.5, its text can be searched and copied. Throws RunError when
/// there is no memory for it.
std::unique_ptr<Canvas> pdf_canvas(double width, double height, const std::string& title);

} // namespace leastwall
