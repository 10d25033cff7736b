// The jobs that a page begins with.
#pragma once

#include <string>
#include <string_view>

namespace leastwall {

/// The commented job file of a piece of which little is known yet. `answers`: a JSON object of
/// texts as they were typed: "title", "units" ("mm" or "inch", of the meshes and of bare numbers),
/// "pocket" and "skin" (names of files), "limit", "thickness", "touch_off", "flatness"; what is
/// empty is left out. Both sides are zeroed on top of the board. Nothing is judged here: reading
/// the job does that.
std::string job_of_answers(std::string_view answers);

/// The demo as `leastwall start` writes it: writes both meshes into the folder that we are in and
/// returns the text of its job file.
std::string write_demo();

} // namespace leastwall
