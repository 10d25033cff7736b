#include "causes/unstated_causes.h"

#include "base/assumption.h"
#include "base/errors.h"
#include "causes/causes.h"

#include <algorithm>
#include <array>
#include <functional>

namespace leastwall {
namespace {

/// States one value that is nothing so far; false where it is something already.
using Stating = std::function<bool(Setup&)>;

Stating number(std::function<double&(Setup&)> value, double large) {
  return [=](Setup& setup) {
    const bool nothing = value(setup) == 0;
    value(setup) = large;
    return nothing;
  };
}

Stating error(std::function<Uncertain&(Setup&)> value, double large) {
  return number([=](Setup& setup) -> double& { return value(setup).size_mm; }, large);
}

std::vector<Stating> statings() {
  std::vector<Stating> out;
  for (SideSetup Setup::*how : {&Setup::inner, &Setup::outer}) {
    out.push_back(number([how](Setup& s) -> double& { return (s.*how).sanding_mm; }, 0.3));
    out.push_back(number([how](Setup& s) -> double& { return (s.*how).plate_error_mm; }, 0.5));
  }
  out.push_back(number([](Setup& s) -> double& { return s.board.moisture_change_percent; }, 6));
  out.push_back(number([](Setup& s) -> double& { return s.board.resin_cup_mm; }, 1));
  out.push_back(error([](Setup& s) -> Uncertain& { return s.board.thickness_error; }, 0.3));
  out.push_back([](Setup& s) {
    const bool nothing = !s.bed.readings && s.bed.flatness_mm.value_or(0) == 0;
    s.bed.flatness_mm = 0.3;
    return nothing;
  });
  for (SideSetup Setup::*how : {&Setup::inner, &Setup::outer}) {
    out.push_back(number([how](Setup& s) -> double& { return (s.*how).bit.runout_mm; }, 0.1));
    const auto without_roughing = [how](const Stating& stating) {
      return [=](Setup& s) { return !(s.*how).roughing && stating(s); };
    };
    out.push_back(without_roughing(
        error([how](Setup& s) -> Uncertain& { return (s.*how).touch_off; }, 0.15)));
    out.push_back(without_roughing(
        error([how](Setup& s) -> Uncertain& { return (s.*how).bit.tip_height; }, 0.15)));
    out.push_back(error([how](Setup& s) -> Uncertain& { return (s.*how).bit.radius; }, 0.1));
  }
  out.push_back(error([](Setup& s) -> Uncertain& { return s.flip.line_error; }, 0.2));
  out.push_back(number([](Setup& s) -> double& { return s.flip.out_of_square_mm_per_m; }, 0.5));
  return out;
}

} // namespace

std::vector<Cause> unstated_causes(const Setup& setup, std::span<const Cause> stated) {
  std::vector<Cause> out;
  const auto there = [](std::span<const Cause> causes, const Cause& cause) {
    return std::ranges::find(causes, cause.id, &Cause::id) != causes.end();
  };
  for (const Stating& stating : statings()) {
    Setup changed = setup;
    if (!stating(changed))
      continue;
    std::vector<Assumption> unused;
    std::vector<Cause> causes;
    try {
      causes = causes_of(changed, unused);
    } catch (const InputError&) { // it needs something else that no one stated
      continue;
    }
    for (Cause& cause : causes)
      if (!cause.field && !cause.overcut && !there(stated, cause) && !there(out, cause))
        out.push_back(std::move(cause));
  }
  return out;
}

} // namespace leastwall
