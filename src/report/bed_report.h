// Everything `bed` found, as plain data: the one input of its text, JSON and picture writers.
#pragma once

#include "base/assumption.h"
#include "base/notice.h"
#include "bed/bed_sag.h"
#include "bed/flatness.h"
#include "bed/readings/read_readings.h"
#include "bed/tram.h"
#include "budget/advice/resurface_row.h"
#include "budget/budget_rows.h"

#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// Readings and what they say.
struct BedReadings {
  std::string file; ///< as given by the user
  ReadingsFile read;
  Flatness flatness;
};

/// A bed that no one measured, computed.
struct SagRow {
  std::string bed;             ///< what it is, in words
  std::string load;            ///< where the board's weight rests, in words
  std::optional<BedSag> board; ///< under the board alone: what comes after surfacing
  double board_weight_n = 0;
  BedSag own; ///< under its own weight: milled away when it was surfaced
};

struct TramRow {
  double lean_deg = 0;
  std::optional<Surfacing> surfacing; ///< absent: no cutter was stated
  std::optional<TramMarks> marks;     ///< of that surfacing
};

/// The piece of a job on this bed.
struct BedPiece {
  std::string job; ///< file as given by the user
  std::string title;
  Verdict verdict = Verdict::safe; ///< on the bed as it is
  double limit_mm = 0, least_expected_mm = 0;
  std::vector<AdviceRow> advice;
  std::string banner, ground; ///< what `verdict_headline` says
};

struct BedReport {
  std::optional<BedReadings> readings;
  std::optional<SagRow> sag;
  std::optional<TramRow> tram;
  std::optional<BedPiece> piece;
  std::optional<ResurfaceRow> resurface; ///< for the piece
  std::vector<Notice> warnings;
  std::vector<Assumption> assumptions; ///< of the piece
};

} // namespace leastwall
