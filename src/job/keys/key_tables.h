// The rows of known_keys(), by subject. Use known_keys.h.
#pragma once

#include "job/keys/known_keys.h"

#include <vector>

namespace leastwall {

std::vector<KnownKey> job_keys();   ///< top of the file
std::vector<KnownKey> board_keys(); ///< [board]
std::vector<KnownKey> side_keys();  ///< [side_a], [side_b], with bit and roughing
std::vector<KnownKey> bed_keys();   ///< [bed]
std::vector<KnownKey> flip_keys();  ///< [flip], with dowels
std::vector<KnownKey> pour_keys();  ///< [pour], and [part.pocket.resin]
std::vector<KnownKey> part_keys();  ///< [[part]], with placing, pockets and holes

} // namespace leastwall
