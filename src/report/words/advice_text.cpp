#include "report/words/advice_text.h"

#include "report/words/verdict_text.h"

#include <fmt/format.h>

namespace leastwall {

std::string advice_text(const AdviceRow& advice, const LengthText& words) {
  std::string change = advice.change;
  if (!change.empty() && change.back() == '.')
    change.pop_back();
  return fmt::format("{} ({}, then {}; {})", words.sentence(change), words.change(advice.gain_mm),
                     verdict_in_text(advice.verdict), cost_text(advice.cost));
}

} // namespace leastwall
