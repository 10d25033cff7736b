// `leastwall check`: reads, measures, judges, writes.
#pragma once

#include "app/commands/check_options.h"
#include "app/os/exit_status.h"

namespace leastwall {

/// Runs the command; prints the result on stdout. Throws the errors of base/errors.h.
ExitStatus run_check(const CheckOptions& options);

} // namespace leastwall
