// The verdicts, from the wall that is expected and what may happen to it.
#pragma once

#include <string_view>

namespace leastwall {

/// A wall counts as under the limit when it is by more than this, mm: meshes hold coordinates in
/// single precision, and a wall drawn as thick as the limit must not fail by their rounding. A
/// hundredth of the 0.001 mm that measuring promises.
inline constexpr double kLimitTolerance_mm = 1e-5;

/// From best to worst, so that `<` is better, but for `unproven`: no number gives it, only findings
/// about the meshes (Severity::unproven), and nothing that was computed from those meshes betters
/// it.
enum class Verdict { safe, at_risk, thin, cut_through, unproven };

/// "safe", "at-risk", "thin", "cut-through", "unproven": the words in JSON.
std::string_view verdict_word(Verdict verdict);

/// The same inside a sentence: "safe", "at risk", "too thin", "cut through", "not proven".
std::string_view verdict_in_text(Verdict verdict);

/// `cut_through` when the expected least wall is <= 0, `thin` when it is under the limit,
/// `at_risk` when it holds but `holds` is false (worst case, or chance over the accepted one),
/// `safe` otherwise; never `unproven`. All in mm.
Verdict judge(double expected_least_mm, double limit_mm, bool holds);

} // namespace leastwall
