// A page writes no files of pixels.
#include "base/errors.h"
#include "report/draw/canvas/png_file.h"

namespace leastwall {

std::string png_file(const PngPixels&, std::string_view) {
  throw RunError("pictures are not made in a browser; please report it as a fault of leastwall");
}

} // namespace leastwall
