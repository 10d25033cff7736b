// How a wall of a job is called.
#pragma once

#include "report/check_report.h"

#include <cstddef>
#include <string>
#include <vector>

namespace leastwall {

/// "left half: skin to candle room"; without a part "skin to candle room".
std::string wall_name(const NamedWall& wall);

/// In a narrow table: "left half: candle room".
std::string wall_name_short(const NamedWall& wall);

/// How the place with this index is called where places are numbered: "3", or "8-1" for the first
/// place of wall 8 where places of several walls stand together.
std::string place_number(const RegionRow& row, std::size_t index);

/// What it is made of, in a sentence: "wood", "amber epoxy", "resin".
std::string wall_material(const NamedWall& wall);

/// Numbers of the walls, worst verdict and likeliest to fail first; of equals in the order of the
/// job.
std::vector<std::size_t> worst_first(const std::vector<NamedWall>& walls);

} // namespace leastwall
