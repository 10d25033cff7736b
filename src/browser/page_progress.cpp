#include "browser/page_progress.h"

#include <emscripten.h>
#include <string>

namespace leastwall {

RunContext page_context() {
  RunContext run;
  run.on_progress = [](std::string_view stage, double fraction) {
    const std::string words(stage);
    // clang-format off
    EM_ASM({ if (Module.told) Module.told(UTF8ToString($0), $1); }, words.c_str(), fraction);
    // clang-format on
  };
  return run;
}

} // namespace leastwall
