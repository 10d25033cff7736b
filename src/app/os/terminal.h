// What the program knows about the terminal, and the progress line on it.
#pragma once

#include "base/run_context.h"

#include <string_view>

namespace leastwall {

/// Colour on stdout: a terminal, NO_COLOR unset or empty, TERM not "dumb".
bool colour_on_stdout();

/// A context that stops on SIGINT and SIGTERM and, when `show` and stderr is a terminal, shows the
/// stage on one line of stderr once the run takes longer than a second.
RunContext terminal_context(bool show);
/// Clears the progress line, if one is shown.
void clear_progress();

} // namespace leastwall
