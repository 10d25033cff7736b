#include "bed/bed_sag.h"

#include "base/errors.h"
#include "base/maths/angles.h"
#include "base/maths/exp_log.h"
#include "base/text/lower_case.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <numbers>
#include <string>
#include <vector>

namespace leastwall {
namespace {

const double kPi = std::numbers::pi;

// Specific gravity, modulus of elasticity in MPa.
constexpr std::array<PanelKind, 6> kPanels = {{
    {"MDF", .7, .9, 3590, 3590},
    {"hardboard", .9, 1.0, 3100, 5520},
    {"particleboard", .6, .8, 2760, 4140},
    {"OSB", .5, .8, 4410, 6280},
    {"plywood", .4, .6, 6960, 8550},
    {"LVL", .4, .7, 8960, 19240},
}};

void require_above_zero(double value, std::string_view what) {
  if (!(value > 0) || !std::isfinite(value))
    throw InputError(fmt::format("bed sag: the {} must be above 0, not {}", what, value));
}

void require_material(const BedMaterial& m) {
  require_above_zero(m.stiffness_mpa, "stiffness");
  if (m.shear_mpa)
    require_above_zero(*m.shear_mpa, "shear stiffness");
  if (!(m.density_kg_m3 >= 0))
    throw InputError("bed sag: the density must not be below 0");
  if (!(m.poisson >= 0 && m.poisson < 0.5))
    throw InputError(fmt::format("bed sag: a Poisson's ratio of {} cannot be", m.poisson));
}

void require_load(const BedLoad& l, double along, double across) {
  if (!(l.weight_n >= 0) || !std::isfinite(l.weight_n))
    throw InputError(fmt::format("bed sag: a weight of {} N cannot be", l.weight_n));
  // A hair of slack: a load over the full bed is computed from the same numbers.
  if (!(l.along_mm >= 0 && l.along_mm <= along * (1 + 1e-9)) ||
      !(l.across_mm >= 0 && l.across_mm <= across * (1 + 1e-9)))
    throw InputError(fmt::format("bed sag: a load of {} by {} mm does not fit between supports {} "
                                 "mm apart",
                                 l.along_mm, l.across_mm, along));
}

void require_strip(const BedStrip& s, std::span<const BedLoad> loads) {
  require_above_zero(s.span_mm, "span");
  require_above_zero(s.width_mm, "width of the strip");
  require_above_zero(s.thickness_mm, "thickness");
  require_material(s.material);
  for (const BedLoad& l : loads)
    require_load({l.weight_n, l.along_mm, 0}, s.span_mm, 0);
}

void require_plate(const BedPlate& p, std::span<const BedLoad> loads) {
  require_above_zero(p.size_x_mm, "size along x");
  require_above_zero(p.size_y_mm, "size along y");
  require_above_zero(p.thickness_mm, "thickness");
  if (p.centre_support)
    require_above_zero(p.post_mm, "side of the centre support");
  require_material(p.material);
  for (const BedLoad& l : loads)
    require_load(l, p.size_x_mm, p.size_y_mm);
}

double shear_modulus(const BedMaterial& m) {
  return m.shear_mpa.value_or(m.stiffness_mpa / 16);
}

/// A strip under symmetric loads; x from one end to the middle.
class Strip {
 public:
  Strip(const BedStrip& s, std::span<const BedLoad> loads) : s_(s), loads_(loads) {
    ei_ = s.material.stiffness_mpa * s.width_mm * maths::whole_power(s.thickness_mm, 3) / 12;
    ga_ = shear_modulus(s.material) * 5.0 / 6.0 * s.width_mm * s.thickness_mm;
    if (s.centre_support) {
      const double half = s.span_mm / 2;
      reaction_ = under_loads(half) / under({1, 0, 0}, half);
    }
  }

  double sag(double x) const { return under_loads(x) - reaction_ * under({1, 0, 0}, x); }

 private:
  double under_loads(double x) const {
    double sum = 0;
    for (const BedLoad& l : loads_)
      sum += under(l, x);
    return sum;
  }

  /// Integrated from the moment; clamped ends by superposing end moments that level the ends.
  double under(const BedLoad& load, double x) const {
    const double w = load.weight_n, c = load.along_mm, l = s_.span_mm;
    const double past = std::max(0.0, x - (l - c) / 2);
    const double on_patch = c > 0 ? w / c * past : 0.0;
    double bending = -w * x * x * x / 12 + on_patch * past * past * past / 24 +
                     (w * l * l / 16 - w * c * c / 48) * x;
    if (s_.clamped_ends)
      bending -= w * (3 * l * l - c * c) / (24 * l) * x * (l - x) / 2;
    const double moment = w * x / 2 - on_patch * past / 2;
    return bending / ei_ + (s_.with_shear ? moment / ga_ : 0);
  }

  const BedStrip& s_;
  std::span<const BedLoad> loads_;
  double ei_ = 0, ga_ = 0, reaction_ = 0;
};

/// Navier's series of a plate with resting edges; only odd terms, since the loads are central.
class Plate {
 public:
  Plate(const BedPlate& p, std::span<const BedLoad> loads, int terms)
      : p_(p), terms_(terms), series_(static_cast<std::size_t>(terms * terms)) {
    for (const BedLoad& l : loads)
      add(l, 1);
    if (p.centre_support) {
      const BedLoad post{1, std::min(p.post_mm, p.size_x_mm), std::min(p.post_mm, p.size_y_mm)};
      const double loaded = sag(0, 0);
      std::vector<double> before(series_.size(), 0.0);
      before.swap(series_);
      add(post, 1);
      const double reaction = loaded / sag(0, 0);
      for (std::size_t i = 0; i < series_.size(); ++i)
        series_[i] = before[i] - reaction * series_[i];
    }
  }

  /// At x, y from the middle.
  double sag(double x, double y) const {
    std::vector<double> cx, cy;
    for (int i = 0; i < terms_; ++i) {
      const double m = 2 * i + 1;
      const double sign = i % 2 == 0 ? 1 : -1; // sin(m pi/2 + a) = +-cos(a)
      cx.push_back(sign * maths::cos(m * kPi * x / p_.size_x_mm));
      cy.push_back(sign * maths::cos(m * kPi * y / p_.size_y_mm));
    }
    double sum = 0;
    for (int j = terms_ - 1; j >= 0; --j) { // small terms first
      double row = 0;
      for (int i = terms_ - 1; i >= 0; --i)
        row += series_[static_cast<std::size_t>(j * terms_ + i)] * cx[static_cast<std::size_t>(i)];
      sum += row * cy[static_cast<std::size_t>(j)];
    }
    return sum;
  }

 private:
  void add(const BedLoad& load, double factor) {
    const BedMaterial& mat = p_.material;
    const double a = p_.size_x_mm, b = p_.size_y_mm, t = p_.thickness_mm;
    const double d = mat.stiffness_mpa * t * t * t / (12 * (1 - mat.poisson * mat.poisson));
    const double shear = 5.0 / 6.0 * shear_modulus(mat) * t;
    const bool spread = load.along_mm > 0 && load.across_mm > 0;
    const auto mean_of_cosine = [](double angle) { // of the patch, over the middle
      return angle > 0 ? maths::sin(angle) / angle : 1.0;
    };
    for (int j = 0; j < terms_; ++j)
      for (int i = 0; i < terms_; ++i) {
        const double m = 2 * i + 1, n = 2 * j + 1;
        const double sign = (i + j) % 2 == 0 ? 1 : -1;
        const double q = factor * sign * 4 * load.weight_n / (a * b) *
                         mean_of_cosine(m * kPi * load.along_mm / (2 * a)) *
                         mean_of_cosine(n * kPi * load.across_mm / (2 * b));
        const double k = kPi * kPi * (m * m / (a * a) + n * n / (b * b));
        series_[static_cast<std::size_t>(j * terms_ + i)] +=
            q / (d * k * k) + (p_.with_shear && spread ? q / (shear * k) : 0);
      }
  }

  const BedPlate& p_;
  int terms_;
  std::vector<double> series_;
};

} // namespace

std::span<const PanelKind> panel_kinds() {
  return kPanels;
}

BedMaterial panel_material(std::string_view name) {
  std::string known;
  for (const PanelKind& p : kPanels) {
    if (lower_case(p.name) == lower_case(name))
      return {p.low_stiffness_mpa, 1000 * p.high_specific_gravity, std::nullopt, 0.3};
    known += (known.empty() ? "" : ", ") + std::string(p.name);
  }
  throw InputError(fmt::format("bed sag: no panel \"{}\" in the table; known are {}; or state "
                               "stiffness and density",
                               name, known));
}

BedLoad own_weight(const BedStrip& s) {
  return {s.material.density_kg_m3 * kGravity * 1e-9 * s.span_mm * s.width_mm * s.thickness_mm,
          s.span_mm, 0};
}

BedLoad own_weight(const BedPlate& p) {
  return {p.material.density_kg_m3 * kGravity * 1e-9 * p.size_x_mm * p.size_y_mm * p.thickness_mm,
          p.size_x_mm, p.size_y_mm};
}

BedSag bed_sag(const BedStrip& s, std::span<const BedLoad> loads) {
  require_strip(s, loads);
  const Strip strip(s, loads);
  BedSag out;
  out.middle_mm = s.centre_support ? 0 : strip.sag(s.span_mm / 2);
  // Search the half span, then close in on the best place.
  constexpr int kSteps = 200;
  double best = s.span_mm / 2, step = best / kSteps;
  for (int i = 0; i <= kSteps; ++i)
    if (strip.sag(step * i) > strip.sag(best))
      best = step * i;
  for (; step > 1e-9 * s.span_mm; step /= 2)
    for (const double x : {best - step, best + step})
      if (x >= 0 && x <= s.span_mm / 2 && strip.sag(x) > strip.sag(best))
        best = x;
  out.largest_mm = strip.sag(best);
  out.at_x_mm = best - s.span_mm / 2;
  if (out.at_x_mm == 0)
    out.largest_mm = out.middle_mm;
  return out;
}

BedSag bed_sag(const BedPlate& p, std::span<const BedLoad> loads) {
  require_plate(p, loads);
  constexpr int kTerms = 200; // odd ones up to 399: the point load within 1e-5
  const Plate plate(p, loads, kTerms);
  BedSag out;
  if (!p.centre_support) {
    out.middle_mm = out.largest_mm = plate.sag(0, 0);
    return out;
  }
  constexpr int kPlaces = 24, kFewTerms = 60;
  const Plate coarse(p, loads, kFewTerms);
  double most = 0;
  for (int j = 0; j < kPlaces; ++j)
    for (int i = 0; i < kPlaces; ++i) {
      const double x = p.size_x_mm / 2 * i / kPlaces, y = p.size_y_mm / 2 * j / kPlaces;
      if (const double w = coarse.sag(x, y); w > most) {
        most = w;
        out.at_x_mm = x;
        out.at_y_mm = y;
      }
    }
  out.largest_mm = plate.sag(out.at_x_mm, out.at_y_mm);
  return out;
}

} // namespace leastwall
