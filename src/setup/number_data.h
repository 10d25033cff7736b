// Which cuts of a job hang from the same datum, and where data are touched.
#pragma once

#include "setup/setup.h"

#include <span>

namespace leastwall {

/// Fills CutId::datum and CutId::touch_place of all cuts. Cuts of one side whose set-ups have the
/// same zero, touched at the same point, hang from one datum: its number is that of the first such
/// set-up in the list. Points that are touched are numbered through over both sides. A list of one
/// wall stays as it is.
void number_data(std::span<Setup> walls);

} // namespace leastwall
