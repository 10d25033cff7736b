#include "budget/effects/verdict.h"

namespace leastwall {

std::string_view verdict_word(Verdict verdict) {
  switch (verdict) {
  case Verdict::safe:
    return "safe";
  case Verdict::at_risk:
    return "at-risk";
  case Verdict::thin:
    return "thin";
  case Verdict::cut_through:
    return "cut-through";
  case Verdict::unproven:
    break;
  }
  return "unproven";
}

std::string_view verdict_in_text(Verdict verdict) {
  switch (verdict) {
  case Verdict::safe:
    return "safe";
  case Verdict::at_risk:
    return "at risk";
  case Verdict::thin:
    return "too thin";
  case Verdict::cut_through:
    return "cut through";
  case Verdict::unproven:
    break;
  }
  return "not proven";
}

Verdict judge(double expected_least_mm, double limit_mm, bool holds) {
  if (!(expected_least_mm > 0))
    return Verdict::cut_through;
  if (expected_least_mm < limit_mm)
    return Verdict::thin;
  return holds ? Verdict::safe : Verdict::at_risk;
}

} // namespace leastwall
