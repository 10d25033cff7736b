#include "app/os/exit_status.h"

#include "app/os/standard_streams.h"
#include "base/errors.h"
#include "base/text/plain_line.h"

#include <fmt/format.h>
#include <new>
#include <system_error>

namespace leastwall {

ExitStatus report_current_exception() {
  constexpr std::size_t kLongest = 6000; // a path may have 4096 bytes
  const auto say = [](const char* text) {
    print_err(fmt::format("leastwall: {}\n", plain_line(text, kLongest)));
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
    say(fmt::format("the system refused something ({}); try again", e.what()).c_str());
  } catch (const std::exception& e) {
    say(fmt::format("a fault in the program: {}; please report it", plain_line(e.what())).c_str());
  } catch (...) {
    say("an unknown fault in the program; please report it");
  }
  return kUnfinished;
}

} // namespace leastwall
