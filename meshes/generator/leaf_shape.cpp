#include "leaf_shape.h"

#include "curves.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leastwall::demo {
namespace {

using std::numbers::pi;

// The blade lies along x, from its base to its tip; the stalk runs on to the border. mm.
constexpr double base_x = -52, tip_x = 64, half_width = 33;
constexpr int side_veins = 7; // on either side of the midrib
constexpr double border_mm = 7, ground_depth = 6.5;

// A leaf seen along its midrib; `wave` is how wavy its margin is, as a part of its width: how far
// along (0 base, 1 tip), how far beside it, and the margin.
struct LeafPlace {
  double along, beside, margin_y;
};

double midrib_y(double x) {
  return 5.0 * std::sin((x + 20) / 45);
}

LeafPlace place_on_leaf(double x, double y, double wave = 0.035) {
  LeafPlace p;
  p.along = (x - base_x) / (tip_x - base_x);
  p.beside = y - midrib_y(x);
  const double s = std::clamp(p.along, 0.0, 1.0);
  // Broad below the middle, drawn out to a point; the margin is wavy between the side veins.
  const double form = std::pow(s, 0.55) * std::pow(1 - s, 0.95) / 0.373;
  p.margin_y = half_width * form * (1 + wave * std::sin(2 * pi * side_veins * 2 * s));
  return p;
}

// Distance inside the margin (negative outside), mm; near enough for a leaf: the gap along y,
// shortened where the margin runs askew.
double inside_margin(double x, double y, double wave = 0.035) {
  const LeafPlace p = place_on_leaf(x, y, wave);
  const double step = 0.25;
  const double slope =
      (place_on_leaf(x + step, y, wave).margin_y - place_on_leaf(x - step, y, wave).margin_y) /
      (2 * step);
  const double gap = p.margin_y - std::abs(p.beside);
  const double beyond = std::max({base_x - x, x - tip_x, 0.0});
  return gap / std::sqrt(1 + slope * slope) - beyond;
}

// How much of a vein is here: 1 on its middle line, 0 beside it.
double vein(double distance, double half) {
  return 1 - smooth_step(0.25 * half, half, distance);
}

double midrib(const LeafPlace& p) {
  const double half = mix(4.2, 1.8, std::clamp(p.along, 0.0, 1.0));
  return vein(std::abs(p.beside), half);
}

double side_vein(const LeafPlace& p) {
  const double side = std::abs(p.beside), reach = std::max(p.margin_y, 1.0);
  // Side veins leave the midrib every 1/7 of the blade, bent towards the tip; those of the two
  // sides do not meet.
  const double length = tip_x - base_x;
  const double shift = (side * 0.75 + 0.006 * side * side) / length;
  const double number = (p.along - shift) * side_veins + (p.beside > 0 ? 0.15 : 0.55);
  const double nearest = std::round(number);
  if (nearest < 0 || nearest > side_veins - 1)
    return 0;
  const double distance = std::abs(number - nearest) * length / side_veins * 0.75;
  const double fade = 1 - smooth_step(0.75, 1.0, side / reach);
  return fade * vein(distance, mix(2.6, 1.3, std::min(1.0, side / half_width)));
}

} // namespace

LeafDepths leaf_depths(double x, double y) {
  const LeafPlace p = place_on_leaf(x, y);
  const double inside = inside_margin(x, y);
  const double to_border =
      std::min(0.5 * LeafPanel::width_mm - std::abs(x), 0.5 * LeafPanel::height_mm - std::abs(y)) -
      border_mm;

  const double rib = std::max(midrib(p), side_vein(p));
  const double leaf = smooth_step(-1.2, 0.6, inside);
  const double stalk = vein(std::abs(p.beside), 3.6) * (1 - smooth_step(base_x, base_x + 16, x));

  // Front: the leaf stands proud of the ground, its blade swells between the veins, ribs on top.
  const double swell = 0.55 * std::sin(pi * std::clamp(std::abs(p.beside) / half_width, 0.0, 1.0));
  double front = mix(ground_depth, 7.0 + swell, leaf);
  front = std::max(front, mix(ground_depth, 7.9, stalk));
  front = mix(front, 7.9, leaf * rib * 0.8);
  front = mix(LeafPanel::board_mm, front, smooth_step(0.0, 1.5, to_border));

  // Back: hollowed under the blade only; the veins stay thick. Its edge
  // is plain, as a bit leaves it, and well inside the wavy margin.
  const double blade_wall = 1.22 + 0.16 * std::sin(x / 9) * std::cos(y / 7);
  const double wall = mix(blade_wall, 3.8, rib);
  const double hollow = smooth_step(2.0, 5.4, inside_margin(x, y, 0));
  return {hollow * (front - wall), front};
}

} // namespace leastwall::demo
