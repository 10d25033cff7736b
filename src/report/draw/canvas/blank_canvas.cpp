#include "report/draw/canvas/canvas.h"

namespace leastwall {
namespace {

class BlankCanvas final : public Canvas {
 public:
  void fill(std::span<const PicturePoint>, Rgb) override {}
  void stroke(std::span<const PicturePoint>, bool, const Pen&) override {}
  void fill_disc(PicturePoint, double, Rgb) override {}
  void stroke_disc(PicturePoint, double, const Pen&) override {}
  void text(const std::string&, PicturePoint, const Letters&) override {}
  void image(const PixelImage&, int, int) override {}
  void clip(double, double, double, double) override {}
  void unclip() override {}
  void zoom(double) override {}
  void next_page(double, double) override {}
  std::string file() override { return {}; }
};

} // namespace

std::unique_ptr<Canvas> blank_canvas() {
  return std::make_unique<BlankCanvas>();
}

} // namespace leastwall
