// What a long computation may use of the outside world: tell how far it is, and learn that it
// should stop. Passed down by reference; a default one is silent and never cancels.
#pragma once

#include "base/errors.h"

#include <functional>
#include <string_view>

namespace leastwall {

struct RunContext {
  /// Called now and then, from any one thread at a time: stage in words, fraction done 0..1.
  std::function<void(std::string_view stage, double fraction)> on_progress;
  /// True once the user wants to stop. Must be cheap and safe from any thread.
  std::function<bool()> cancelled;

  void progress(std::string_view stage, double fraction) const {
    if (on_progress)
      on_progress(stage, fraction);
  }
  /// Throws Cancelled when the user wants to stop.
  void check() const {
    if (cancelled && cancelled())
      throw Cancelled();
  }
};

} // namespace leastwall
