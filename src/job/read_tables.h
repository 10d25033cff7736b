// The tables of a job file, one function each; used by read_job() alone.
#pragma once

#include "job/job.h"
#include "job/keys/table_reader.h"

namespace leastwall {

Board read_board(const TableReader& table);
/// Writes over what `side` holds; what `table` inherits stays.
void read_side(const TableReader& table, SideSetup& side);
Bed read_bed(const TableReader& table);
Flip read_flip(const TableReader& table);
/// `job` holds what is common to all pockets already; `limit_mm` is the job's.
Part read_part(const TableReader& table, const SideSetup& side_a, const SideSetup& side_b,
               std::optional<double> limit_mm);

/// A value of type `readings`: from its file, or from the rows in the job.
std::shared_ptr<const BedMap> read_map(const TableReader& table, std::string_view name);

/// Throws InputError where a stated place lies outside the stated board, or a thickness or limit
/// does not go with the board's.
void check_places(const TableReader& root, const Job& job);

} // namespace leastwall
