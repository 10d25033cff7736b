#include "app/exit_status.h"

#include "base/errors.h"
#include "base/plain_line.h"

#include <cstdio>
#include <fmt/format.h>
#include <new>
#include <system_error>

namespace leastwall {

ExitStatus report_current_exception() {
  constexpr std::size_t kLongest = 6000; // a path may have 4096 bytes
  const auto say = [](const char* text) {
    fmt::print(stderr, "leastwall: {}\n", plain_line(text, kLongest));
  };
  try {
    throw;
  } catch (const InputError& e) {
    say(e.what());
    return kWrongInput;
  } catch (const Error& e) {
    say(e.what());
  } catch (const std::bad_alloc&) {
    say("not enough memory; use coarser meshes or close other programs");
  } catch (const std::system_error& e) {
    fmt::print(stderr, "leastwall: the system refused something ({}); try again\n", e.what());
  } catch (const std::exception& e) {
    fmt::print(stderr, "leastwall: a fault in the program: {}; please report it\n",
               plain_line(e.what()));
  } catch (...) {
    say("an unknown fault in the program; please report it");
  }
  return kUnfinished;
}

} // namespace leastwall
