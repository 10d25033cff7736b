// The sentences about a pour, for text, picture and setup sheet alike.
#pragma once

#include "report/pour_report.h"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace leastwall {

/// "amber resin into candle room", with "of left half and right half" where parts have names.
std::string pour_title(const PourRow& row);

/// "Sat 14 Mar 18:00" where a start was stated, else "after 24 h", "at once"; "" where not known.
std::string pour_when(const PourReport& report, const std::optional<double>& after_h);

/// "21.3 mm under the face", "to the face".
std::string fill_to(const PourLift& lift, bool inch);

/// "2:1 by volume, 2.33:1 by weight"; empty without a ratio.
std::string ratio_text(const Resin& resin);

/// "A 61.4 ml (70.0 g), B 30.7 ml (30.1 g)"; "" where neither is known.
std::string amounts_text(const Amounts& amounts, bool inch);

/// What it holds, with its bounds, and what is cut out again.
std::vector<std::string> volume_sentences(const PourRow& row, bool inch);
/// What to mix of it, by the stated ratio; empty without a volume.
std::vector<std::string> mix_sentences(const PourRow& row, bool inch);
/// How it lies on a board that is off level; empty where no tilt was stated.
std::vector<std::string> tilt_sentences(const PourRow& row, const Tilt& tilt, bool inch);
/// Seal coat, thin walls, cups: what there is to say.
std::vector<std::string> care_sentences(const PourRow& row, bool inch);
/// When it may be cut; empty where the values do not tell. `of`: whose first lift the hours are
/// counted from.
std::string cut_sentence(const PourReport& report, const PourRow& row,
                         std::string_view of = "of the job");
/// A warning behind the name of its pocket, and of its parts where other pockets are called alike.
std::string warning_sentence(const PourReport& report, const PourWarning& warning);

/// What would tell more; empty where all was stated.
std::string asked_sentence(const PourRow& row);

/// The sentences one after the other.
std::string one_paragraph(const std::vector<std::string>& sentences);

/// "amber resin: 495.4 ml of mix; A ...", one sentence each.
std::vector<std::string> total_sentences(const PourReport& report, bool inch);

std::vector<std::string> pour_cautions();
/// What the program cannot see.
std::vector<std::string> pour_not_checked();

} // namespace leastwall
