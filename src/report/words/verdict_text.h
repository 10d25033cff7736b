// The verdict in words that text, picture and page share.
#pragma once

#include "report/check_report.h"

#include <span>
#include <string>
#include <string_view>

namespace leastwall {

/// What stands in large type, never alone: `ground` says in a few words what it rests on.
struct Headline {
  std::string banner; ///< "EVERY WALL HOLDS", "HOLDS", "HOLDS AS DRAWN", "AT RISK", "TOO THIN", ...
  std::string ground; ///< "1 in 31 pieces too thin, you accept 1 in 20"; empty where none is needed
};

/// A wall is safe as drawn when no machine error was stated; "EVERY WALL HOLDS" is said only where
/// the worst case holds too and no trial failed, or where the verdict rests on the worst case.
Headline verdict_headline(const CheckReport& report);

/// The same on one line of at most 80 columns: "HOLDS: 1 in 31 pieces too thin, you accept 1 in
/// 20".
std::string headline_line(const CheckReport& report);

/// One row of the table of headlines; the page fills it in anew when a slider moves.
struct HeadlineWords {
  std::string_view key;    ///< of `headline_key`
  std::string_view banner; ///< large type
  std::string_view ground; ///< with {pieces}, {accepted} and {finding} to be filled in
  std::string_view lead;   ///< begins the sentence of a verdict `safe`
};
std::span<const HeadlineWords> headline_text();

/// One sentence of a verdict with {names} to be filled in: {lead}, {least}, {where}, {limit},
/// {worst}, {deep}; the page fills it in anew as well.
struct SentenceWords {
  std::string_view key; ///< the verdict's word, or "at-risk-through", "unproven-cut"
  std::string_view text;
};
std::span<const SentenceWords> sentence_text();
/// Stands in front of a depth whose search was cut short.
inline constexpr std::string_view kAtLeast = "at least ";

/// The row that says what `report` found, e.g. "safe-by-chance".
std::string_view headline_key(const CheckReport& report);

/// What colour and sign stand for: a picture of one wall that holds, in a job that does not, has
/// those of the job.
Verdict shown_verdict(const CheckReport& report);

/// A share of the trials in words: "1 in 31 pieces", "not one in 20000 pieces", "every piece".
std::string pieces_text(double fraction, std::uint64_t trials);

/// What to look at first, in one sentence without its full stop; empty where there is nothing.
std::string finding_text(const CheckReport& report);

/// The first sentence of a text, without its full stop: what a picture has room for.
std::string first_sentence(const std::string& text);

/// What to look at before anything else: notices that leave walls unproven, then those that only
/// put the result in doubt, as they stand in the report.
std::vector<Notice> look_first(const CheckReport& report);

/// "0.130 mm", or for a wall of zero or less "hole, 0.420 mm too deep". With `inch` inches follow
/// in brackets.
std::string wall_or_hole_text(double wall_mm, double limit_mm, bool inch);

/// What a change costs, for advice: "costs nothing" for "free", "some work", "a change of the
/// model".
std::string cost_text(const std::string& cost);

/// One sentence: what is the matter, how thin, where, against which limit. With `inch` the walls
/// are followed by inches in brackets.
std::string verdict_sentence(const CheckReport& report, bool inch);

} // namespace leastwall
