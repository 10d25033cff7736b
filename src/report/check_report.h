// Everything `check` found, as plain data: the one input of the text, JSON and picture writers.
#pragma once

#include "base/assumption.h"
#include "base/notice.h"
#include "base/stated_key.h"
#include "budget/advice/resurface_row.h"
#include "budget/budget_rows.h"
#include "parts/parts_report.h"
#include "space/box.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace leastwall {

/// Connected skin area whose worst-case wall is under the limit, or its part about one of several
/// clear least places.
struct RegionRow {
  double least_wall_mm = 0;           ///< expected wall at the thinnest point of the region
  double worst_mm = 0;                ///< worst-case wall, least over the region
  double area_mm2 = 0;                ///< skin area with worst-case wall under the limit
  double area_under_limit_mm2 = 0;    ///< part of it whose expected wall is under the limit
  Vec3 at;                            ///< model space, mm, on the skin
  std::optional<CauseId> worst_cause; ///< thins the wall most at `at`
  /// Where places of several walls stand together: its wall and its number among the places of
  /// that wall, both from 1 as the report numbers them; 0: of the one wall, by order.
  std::size_t of_wall = 0, of_place = 0;
};

/// One wall, from what is drawn to what can be said of it.
struct WallReport {
  Verdict verdict = Verdict::safe;
  double limit_mm = 0;
  /// Places that were not measured finely have a wall of at least this.
  std::optional<double> measured_to_mm;
  struct Least {
    double design_mm = 0, expected_mm = 0, worst_mm = 0;
    std::optional<double> straight_down_mm;
    Vec3 at;                                             ///< on the skin, model space, mm
    std::optional<double> spread_low_mm, spread_high_mm; ///< 95 % of trials
    /// A cut-through that may be deeper than these say: looking for its depth was cut short.
    bool may_be_deeper = false;
  } least_wall;
  double area_under_limit_mm2 = 0; ///< skin area with expected wall under the limit
  double area_at_risk_mm2 = 0;     ///< skin area with worst-case wall under the limit
  std::vector<RegionRow> regions;  ///< thinnest first
  std::optional<ChanceRow> chance;
  std::vector<CauseRow> causes;
};

/// One of the walls of a job, by what bounds it.
struct NamedWall {
  std::string part;     ///< may be empty where there is one
  std::string outer;    ///< "skin", or the pocket whose resin the wall is
  std::string inner;    ///< the pocket; "pocket" where it has no name
  std::string material; ///< "wood", or what was poured into the outer pocket
  WallReport wall;
};

/// What verdicts rest on.
struct BasisReport {
  std::string text;              ///< in words
  bool by_chance = true;         ///< on the chance, not on the worst case
  double accepted_chance = 0.05; ///< of a piece with a wall under the limit
  bool errors_stated = true;     ///< false: every wall is taken as drawn and shifted, none may vary
};

struct MeshReport {
  std::string file; ///< as given by the user
  std::size_t triangles = 0;
};

struct CheckReport {
  std::string title; ///< what is checked, e.g. the skin's file name
  MeshReport pocket, skin;
  /// The wall that governs: worst verdict, likeliest to fail. Verdict and chance are those of the
  /// whole job, and each cause may be as large as `largest_allowed_mm` says for all walls.
  WallReport wall;
  std::vector<NamedWall> walls; ///< all, in the order of the job; of a quick check the one
  std::size_t governing = 0;    ///< which of them `wall` is
  /// Set: this is about one wall alone, of a job that has several.
  struct OneOfJob {
    std::size_t number = 1, of = 1;
    Verdict verdict = Verdict::safe; ///< of the whole job
    std::string wall;                ///< wall_name(), with which the title ends
  };
  std::optional<OneOfJob> one_of;
  BasisReport basis;
  PartsReport parts;
  double skin_area_mm2 = 0;     ///< skin area measured
  double left_out_area_mm2 = 0; ///< flats on the pocket face, not machined
  double top_z_mm = 0;          ///< model z of the pocket face
  Box box;                      ///< of both meshes, model space, mm
  std::vector<AdviceRow> advice;
  std::optional<ResurfaceRow> resurface;
  std::optional<PadRow> pad;
  std::vector<Notice> warnings;
  std::vector<Assumption> assumptions;
  std::vector<StatedKey> stated;        ///< of the job, every value; empty without one
  std::vector<std::string> not_checked; ///< what the program cannot see, in words
};

} // namespace leastwall
