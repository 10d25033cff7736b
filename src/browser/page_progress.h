// How far a check is, told to the page.
#pragma once

#include "base/run_context.h"

namespace leastwall {

/// Calls the module's `told(stage, fraction)`, where the page has set one. Never stops: the page
/// ends the worker that computes.
RunContext page_context();

} // namespace leastwall
