// Canvases of our own: drawings as SVG 1.1 (W3C recommendation, second edition), for browsers.
#pragma once

#include "report/draw/canvas/canvas.h"

#include <memory>
#include <string>

namespace leastwall {

/// A white picture, in px; the file is one SVG. Pixels go in as a PNG file in base64.
std::unique_ptr<Canvas> svg_canvas(int width, int height, const std::string& title);

/// Paper, in mm; the file is HTML with one SVG a page, which prints at its own size. All pages are
/// as large as the first; one that lies is shown lying and printed turned by a quarter.
std::unique_ptr<Canvas> html_canvas(double width, double height, const std::string& title);

} // namespace leastwall
