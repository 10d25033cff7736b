// The tables of a job file, one function each; used by read_job() alone.
#pragma once

#include "job/job.h"
#include "job/keys/table_reader.h"

namespace leastwall {

Board read_board(const TableReader& table);
/// `corner` and `size`: both or none.
std::optional<Footprint> read_rectangle(const TableReader& table);
/// Writes over what `side` holds; what `table` inherits stays.
void read_side(const TableReader& table, SideSetup& side);
Bed read_bed(const TableReader& table);
Flip read_flip(const TableReader& table);
/// [pour].
PourPlan read_pour(const TableReader& table);
/// [part.pocket.resin].
Resin read_resin(const TableReader& table);
/// What all parts take from the job.
struct CommonToParts {
  SideSetup side_a, side_b;
  std::optional<double> limit_mm;
  double thickness_mm = 0;    ///< of the board, as the programs take it
  bool pockets_needed = true; ///< their meshes must be named and be there
  bool wood_gains = false;    ///< moisture, between the first cut and side B
};

/// `earlier`: parts that may be mirrored.
Part read_part(const TableReader& table, const CommonToParts& common,
               const std::vector<Part>& earlier);

/// A value of type `readings`: from its file, or from the rows in the job.
std::shared_ptr<const BedMap> read_map(const TableReader& table, std::string_view name);

/// Throws InputError where a stated place lies outside the stated board, or a thickness or limit
/// does not go with the board's.
void check_places(const TableReader& root, const Job& job);

} // namespace leastwall
