#include "job/key_tables.h"

namespace leastwall {

std::vector<KnownKey> bed_keys() {
  return {
      {.owner = "bed",
       .name = "flatness",
       .type = KeyType::length,
       .least = 0,
       .most = 50,
       .if_absent = "the bed is taken as flat",
       .example = "0.1",
       .help = "Highest minus lowest place of the bed under the board: dial in the spindle, moved "
               "over the bed."},
      {.owner = "bed",
       .name = "readings",
       .type = KeyType::readings,
       .example = "[[-100, -80, 0.00], [100, -80, 0.04], [-100, 80, -0.02], [100, 80, 0.05]]",
       .help = "Heights of the bed at places, up positive, by a dial in the spindle, instead of "
               "`flatness`: a file, or x, y, height."},
      {.owner = "bed",
       .name = "origin",
       .type = KeyType::point2,
       .example = "[0, 0]",
       .help = "Where model 0, 0 lies in the frame of the readings, side A."},
      {.owner = "bed",
       .name = "reading_error",
       .type = KeyType::uncertain,
       .least = 0,
       .most = 5,
       .fallback = 0,
       .example = "0.01",
       .help = "Error of one reading: read the same place ten times."},
      {.owner = "bed",
       .name = "seating",
       .type = KeyType::choice,
       .choices = {"pressed", "rigid", "unknown"},
       .fallback_choice = "unknown",
       .example = "\"unknown\"",
       .help = "pressed: clamps or vacuum pull the board onto the bed; rigid: it rests on the high "
               "places; unknown: both are computed and the thinner wall counts."},
  };
}

} // namespace leastwall
